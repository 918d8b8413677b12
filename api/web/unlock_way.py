"""Where a change that would unlock a run is written down, or looked at first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from urllib.parse import urlencode

from django.urls import reverse

from api.web.ask.asked import EVENING, SOME_DAY
from api.web.runs.address import run_address
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.plan import Change, Unlock

BOUGHT = ("fibre", "supply")


@dataclass(frozen=True, slots=True)
class UnlockWay:
    """An address, and the words that it is asked with beside those of the page."""

    path: str = ""  # empty: no form does it
    asks: str = ""

    def address(self, carried: str) -> str:
        """The whole address, going on to ask what the page was asked."""
        if not self.asks:
            return f"{self.path}{carried}" if self.path else ""
        return f"{self.path}{carried}&{self.asks}" if carried else f"{self.path}?{self.asks}"


def way_of(unlock: Unlock, run: RunFacts | None, facts: WeekFacts) -> UnlockWay:
    """Where the one thing is done that an unlock asks for; nowhere where it asks for several.

    Parameters
    ----------
    run : which it unlocks, where it is written down; None: it is only asked about
    """
    if len(unlock.changes) != 1:
        return UnlockWay()
    (change,) = unlock.changes
    if change.kind == "moved":
        return UnlockWay(run_address(change.run), _day_after(run, facts, change))
    if change.kind == "claim":
        return UnlockWay(run_address(change.run))
    if change.kind == "strip":
        return UnlockWay(reverse("note", args=["dip"]), urlencode({"jar": change.what}))
    if change.kind == "carry" and change.unit == "mg":
        part = {"lot": change.what, "amount": f"{change.amount // 1000} g"}
        return UnlockWay(reverse("note", args=["put-by"]), urlencode(part))
    if change.kind == "hang":
        return UnlockWay(reverse("note", args=["dry"]), urlencode({"lot": change.what}))
    if change.kind in BOUGHT:
        return UnlockWay(reverse("orders"))
    if change.kind == "dyestuff":
        return UnlockWay(reverse("coming"))
    if run is not None and change.kind == "due" and change.until is not None:
        return UnlockWay(run_address(run.code), _by(change.until, facts))
    return UnlockWay()


def _day_after(run: RunFacts | None, facts: WeekFacts, change: Change) -> str:
    """The words that look at a moved run by a day behind that of the run it makes way for."""
    if run is None or run.due is None or change.until is None:
        return ""
    return _by(max(run.due + timedelta(days=1), change.until), facts)


def _by(moment: datetime, facts: WeekFacts) -> str:
    """The words that ask for the first evening that is not before a moment."""
    local = moment.astimezone(facts.zone)
    day = local.date() + timedelta(days=local.time() > EVENING)
    return urlencode({"by": SOME_DAY, "day": str(day)})
