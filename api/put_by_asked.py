"""Which runs an address asks to put by for: `of=privet&runs=4&each=480 g&from=2027-03`."""

from __future__ import annotations

import re
from datetime import date, timedelta

from django.http import QueryDict

from api.asked import Unreadable, shown
from inventory.science.custom import Custom
from inventory.science.days import add_months
from inventory.science.saying import joined, say
from inventory.science.unclear import Unclear
from sourcing.put_by_outlook import PutByAsked
from sourcing.putting_by.facts import EVENLY, MONTHLY, RUNS_AT_MOST
from sourcing.putting_by.turning import DRIED, FROZEN

MORE = ("of", "runs", "each", "from", "until", "spread", "state")
LONGEST_OF = 80
EACH_AT_MOST_MG = 10**10  # ten tonnes
YEARS = (2000, 2150)
LONGEST_DAYS = 730  # two years
DAY = re.compile(r"(\d{4})-(\d{2})(?:-(\d{2}))?", re.ASCII)


class PutByUnreadable(Unreadable):
    """Runs asked for that cannot be read."""

    code = "put_by_unreadable"


def put_by_asked(query: QueryDict, *, custom: Custom) -> PutByAsked | None:
    """The runs of an address; None where it asks for none."""
    of = " ".join(query.get("of", "").split())
    if not of:
        named = [name for name in MORE if query.get(name, "").strip()]
        if named:
            raise PutByUnreadable("of", "", say("Say of what: a dyestuff, or a shade."))
        return None
    if len(of) > LONGEST_OF or not of.isprintable():
        raise PutByUnreadable(
            "of", of, say("{shown} is no dyestuff and no shade.", shown=shown(of))
        )
    since, last = _day(query, "from", end=False), _day(query, "until", end=True)
    if since is not None and last is not None and not 0 <= (last - since).days < LONGEST_DAYS:
        detail = say("The last day lies before the first, or more than two years after it.")
        raise PutByUnreadable("until", query.get("until", ""), detail)
    return PutByAsked(
        of=of,
        runs=_runs(query.get("runs", "")),
        each_mg=_each(query.get("each", ""), custom),
        since=since,
        last_on=last,
        spread=_choice(query, "spread", (MONTHLY, EVENLY)) or MONTHLY,
        state=_choice(query, "state", (DRIED, FROZEN)),
    )


def _runs(text: str) -> int:
    many = int(text) if re.fullmatch(r"\d{1,6}", text.strip(), re.ASCII) else 0
    if not 1 <= many <= RUNS_AT_MOST:
        detail = say(
            "{shown} is no number of runs. Write 1 to {runs_at_most}.",
            shown=shown(text),
            runs_at_most=RUNS_AT_MOST,
        )
        raise PutByUnreadable("runs", text, detail)
    return many


def _each(text: str, custom: Custom) -> int:
    if not text.strip():
        raise PutByUnreadable("each", text, say("Say what each run takes, such as 480 g."))
    try:
        mg = custom.mass(text)
    except Unclear as unclear:
        raise PutByUnreadable("each", text, str(unclear)) from unclear
    if not 0 < mg <= EACH_AT_MOST_MG:
        raise PutByUnreadable(
            "each", text, say("{shown} is nothing, or far too much.", shown=shown(text))
        )
    return mg


def _day(query: QueryDict, name: str, *, end: bool) -> date | None:
    """A day, or the first or last day of a month."""
    text = query.get(name, "").strip()
    if not text:
        return None
    found = DAY.fullmatch(text)
    try:
        if found is None:
            raise ValueError(text)
        year, month, day = int(found[1]), int(found[2]), int(found[3] or 1)
        first = date(year, month, day)
    except ValueError:
        detail = say(
            "{shown} is no day. Write one as 2027-03-01, or a month as 2027-03.", shown=shown(text)
        )
        raise PutByUnreadable(name, text, detail) from None
    if not YEARS[0] <= first.year <= YEARS[1]:
        detail = say(
            "{shown} lies outside the years {years} to {years_2}.",
            shown=shown(text),
            years=YEARS[0],
            years_2=YEARS[1],
        )
        raise PutByUnreadable(name, text, detail)
    if found[3] is None and end:
        return add_months(first, 1) - timedelta(days=1)
    return first


def _choice(query: QueryDict, name: str, choices: tuple[str, ...]) -> str:
    text = query.get(name, "").strip()
    if text and text not in choices:
        detail = say(
            "{name} is {choices}; not {shown}.",
            name=name,
            choices=joined(" or ", choices),
            shown=shown(text),
        )
        raise PutByUnreadable(name, text, detail)
    return text
