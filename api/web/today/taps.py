"""What is recorded by one tap where it went as planned: the real entry of a verb, ready to send."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any
from uuid import uuid4

from api.web.note.registry import FORMS
from api.web.today.card import Tap
from inventory.science.catalogue import find_figure
from inventory.science.facts import LotFacts
from inventory.science.saying import say
from sourcing.week.facts import Chore, PickUpExpected, RunFacts, WeekFacts
from sourcing.week.plan import Answer, Flag, Job, Placed
from sourcing.week.words import amount as in_words
from sourcing.week.words import pieces

GRADES = (1, 2, 3, 4, 5)
INTO = {"frozen": ("freezer", "frozen"), "dried": ("tray", "damp")}  # a wet lot is spread to dry


@dataclass(frozen=True)
class Taps:
    """Entries that are ready to be sent, of one studio at one moment."""

    facts: WeekFacts
    stamp: str  # the moment said with it; empty: our clock's

    def tap(self, words: str, verb: str, body: Mapping[str, Any], **more: str) -> Tap:
        """One entry under an id of its own, so that a second tap counts once."""
        said = FORMS[verb].fields(body) | more
        return Tap(words, verb, (("id", str(uuid4())), ("occurred_at", self.stamp), *said.items()))

    # -- lots ----------------------------------------------------------------------------------

    def put_by(self, job: Job, answer: Answer) -> tuple[Tap, ...]:
        """A lot put by as a run asks, whole or as much of it as the run takes."""
        lot = self._lot(job.lot)
        if lot is None:
            return ()
        wanted = sum(take.amount for take in answer.takes if take.source == job.lot)
        state = "frozen" if job.what.startswith("freeze") else "dried"
        return self._put_by(lot, state, mg=wanted, run=job.run)

    def _put_by(self, lot: LotFacts, state: str, *, mg: int = 0, run: str = "") -> tuple[Tap, ...]:
        """Into the one freezer or onto the one tray there is; where there are more, none."""
        kind, becomes = INTO[state]
        places = [row.code for row in self.facts.shelf.cold_places if row.kind == kind]
        if len(places) != 1:
            return ()
        body: dict[str, Any] = {
            "lot": lot.code,
            "state": becomes,
            "place": {"kind": kind, "code": places[0]},
        }
        if 0 < mg < lot.left_mg:
            body["amount"] = _said(mg, "mg")
            body |= {"run": run} if self._is_promised(run, lot.code) else {}
        words = say("It is frozen") if state == "frozen" else say("It is spread to dry")
        return (self.tap(words, "put-by", body),)

    def _is_promised(self, run: str, code: str) -> bool:
        return any((row.run, row.code) == (run, code) for row in self.facts.promised)

    def _lot(self, code: str) -> LotFacts | None:
        return next((lot for lot in self.facts.shelf.lots if lot.code == code), None)

    # -- the morning's flags -------------------------------------------------------------------

    def of_flag(self, flag: Flag) -> tuple[Tap, ...]:
        """What sees to a flag where there is nothing to choose, or only how dark a strip is."""
        if flag.kind in ("dip", "retest") and self._is_today(flag.by):
            return tuple(self._strips(flag.what))
        if flag.kind == "past" and flag.text.startswith("compost"):
            body = {"takes": [{"lot": flag.what}], "where_to": "compost"}
            return (self.tap(say("It is on the compost"), "tip-out", body),)
        if flag.kind == "damp fibre":
            return (self.tap(say("It is sound and dry"), "dry", {"lot": flag.what}),)
        lot = self._lot(flag.what) if flag.kind == "use today" else None
        first = flag.text.partition(" ")[0]
        state = {"freeze": "frozen", "dry": "dried"}.get(first, "")
        return self._put_by(lot, state) if lot is not None and state else ()

    def _is_today(self, day: date | None) -> bool:
        return day is not None and day <= self.facts.at.astimezone(self.facts.zone).date()

    def _strips(self, code: str) -> Iterator[Tap]:
        """One tap for each grade; a jar of copper has none."""
        jar = next((row for row in self.facts.shelf.jars if row.code == code), None)
        if jar is not None and jar.metal == "iron":
            for grade in GRADES:
                yield self.tap(str(grade), "dip", {"jar": code, "grade": grade})

    # -- chores, baths, pick-ups ---------------------------------------------------------------

    def chore(self, chore: Chore) -> tuple[Tap, ...]:
        """A chore done, or what one that clears a lot comes to; not done after all where it was."""
        said = {"day": chore.day.isoformat(), "what": chore.what}
        if chore.done_at is not None:
            return (replace(self.tap(say("Not done after all"), "chore-not-done", said),
                            quiet=True),)  # fmt: skip
        return self._of_cleared(chore) or (self.tap(say("Done"), "chore-done", said),)

    def _of_cleared(self, chore: Chore) -> tuple[Tap, ...]:
        """Fibre scoured again or found dry, a lot used; nothing where there is nothing to clear."""
        fibre = next((row for row in self.facts.shelf.fibre if row.code == chore.clears), None)
        if fibre is not None:
            found = []
            if fibre.scoured and fibre.damp and fibre.since != chore.day:
                weighs = {"lot": fibre.code, "weighs": _said(fibre.left_mg, "mg"), "damp": True}
                found.append(self.tap(say("Scoured again, still damp"), "scour", weighs))
            if fibre.damp:
                found.append(self.tap(say("It is sound and dry"), "dry", {"lot": fibre.code}))
            return tuple(found)
        lot = self._lot(chore.clears)
        if lot is not None and lot.set_aside and lot.stay.state != "damp":
            return (self.tap(say("It is good to use"), "use-again", {"lot": lot.code}),)
        return ()

    def bath(self, row: Placed, what: str, answer: Answer, run: RunFacts) -> tuple[Tap, ...]:
        """A bath made as planned, of the one lot that was planned."""
        making = next((making for making in self.facts.makings if making.bath == what), None)
        shed = find_figure(self.facts.figures, "studio", "shed_c", on=self.facts.at.date())
        if making is None or shed is None:
            return ()
        of = [take for take in answer.takes if take.what == making.dyestuff]
        if len(of) != 1:
            return ()
        body = {
            "what": what,
            "volume": _said(round(row.litres * 1_000_000), "µL"),
            "warmth_c": f"{shed.value:g}",
            "takes": [{"lot": of[0].source, "amount": _said(of[0].amount, "mg")}],
            "run": run.code,
        }
        return (self.tap(say("It is made"), "make-bath", body),)

    def told(self, row: PickUpExpected) -> tuple[Tap, ...]:
        """A hand-over that came as its source told."""
        lots = self.facts.shelf.lots
        lot = next((one for one in lots if _is_of(one, row)), None)
        if lot is None or row.confirmed_mg is None:
            return ()
        count = round(row.confirmed_mg / row.piece_mg) if row.piece_mg else 0
        much = pieces(count, row.dyestuff) if count else in_words(row.confirmed_mg, "mg")
        kind = lot.stay.place_kind
        place = {"kind": kind, "code": lot.stay.place if lot.stay.place != kind else ""}
        body = {"source": row.source, "gives": row.dyestuff, "place": place}
        return (self.tap(say("{much} came as told", much=much), "pick-up", body, as_told="yes"),)


def _is_of(lot: LotFacts, row: PickUpExpected) -> bool:
    return (lot.source, lot.dyestuff, lot.arrives_at) == (row.source, row.dyestuff, row.at)


def _said(amount: int, unit: str) -> str:
    """An amount without a point, which some studios read as grouping: `240 g`, `7200 mL`."""
    small, large = ("mg", "g") if unit == "mg" else ("µL", "mL")
    return f"{amount} {small}" if amount % 1000 else f"{amount // 1000} {large}"
