"""Something carried from one site of the studio to another, weighed at both ends.

It comes with its past, so that it keeps as long as it would have, and takes hands of its day. Of a
jar or a bath so much is poured off; a jar that matures stays where it is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

from inventory.science.facts import BathFacts, FibreFacts, JarFacts, LotFacts, SupplyFacts
from inventory.science.maturing import state_of
from inventory.science.saying import say
from sourcing.week.carry import way_figure
from sourcing.week.desk import Desk
from sourcing.week.facts import Chore, WeekFacts

Thing = LotFacts | SupplyFacts | JarFacts | BathFacts | FibreFacts


def way_minutes_of(facts: WeekFacts, code: str, site: str) -> int:
    """Minutes of hands to carry a thing from where it lies to a site and back."""
    today = facts.at.astimezone(facts.zone).date()
    thing = thing_of(facts, code)
    return round(way_figure(facts.figures, thing.site, site, on=today).value)


def carry_begins(facts: WeekFacts, day: date, minutes: int) -> datetime | None:
    """The first moment of a day with time to carry something; None: there is none."""
    lasts = timedelta(minutes=minutes)
    rows = [row for row in facts.hours if row.day == day and row.hands_min > 0]
    starts = ((max(facts.at, row.opens), row.closes) for row in rows)
    return min((begins for begins, closes in starts if begins + lasts <= closes), default=None)


def carry_day(desk: Desk, minutes: int) -> date | None:
    """The first day on which somebody has hands left to carry something; None: there is none.

    Fixed work is the main site's, so this is too.
    """
    facts, site = desk.facts, desk.facts.sites[0]
    hands = desk.board.hands[site]
    for index, day in enumerate(desk.placers[site].calendar.open_days):
        if day.opens >= desk.until:
            break
        if hands[index] >= minutes and carry_begins(facts, day.day, minutes) is not None:
            return day.day
    return None


def things(facts: WeekFacts) -> tuple[Thing, ...]:
    """Everything on the shelf that could be carried."""
    shelf = facts.shelf
    return (*shelf.lots, *shelf.supplies, *shelf.jars, *shelf.baths, *shelf.fibre)


def thing_of(facts: WeekFacts, code: str) -> Thing:
    """The thing of a code."""
    return next(row for row in things(facts) if row.code == code)


def elsewhere(what: str, kind: str, facts: WeekFacts) -> Iterator[tuple[Thing, str]]:
    """What lies at one site of what is short, each with every other site that it could go to."""
    for row in _of_kind(what, kind, facts):
        here = row.arrives_at is None or row.arrives_at <= facts.at
        for site in facts.sites if row.site and here else ():
            if site not in ("", row.site):
                yield row, site


def _of_kind(what: str, kind: str, facts: WeekFacts) -> list[Thing]:
    shelf = facts.shelf
    if kind == "dyestuff":
        return [row for row in shelf.lots if row.dyestuff == what]
    if kind == "fibre":
        return [row for row in shelf.fibre if row.fibre == what]
    if kind == "supply":
        return [row for row in shelf.supplies if row.what == what]
    if kind == "bath":
        return [row for row in shelf.baths if row.what == what and not row.set_aside]
    metal = next((jar.metal for jar in shelf.jars if jar.code == what), what)
    return [jar for jar in shelf.jars if jar.metal == metal and _is_ready(jar, facts)]


def _is_ready(jar: JarFacts, facts: WeekFacts) -> bool:
    return state_of(jar, facts.figures, at=facts.at, zone=facts.zone).usable


def carried_code(code: str, site: str) -> str:
    """What a part is called that was carried to a site."""
    return say("{code} at {site}", code=code, site=site)


def carried(facts: WeekFacts, code: str, amount: int, *, site: str, day: date | None) -> WeekFacts:
    """The facts of a studio in which so much of a thing is carried to a site on a day.

    Parameters
    ----------
    amount : mg, of a jar or bath µL
    """
    minutes = way_minutes_of(facts, code, site)
    begins = None if day is None else carry_begins(facts, day, minutes)
    if begins is None or day is None:
        return facts
    come: dict[str, Any] = {"site": site, "arrives_at": begins + timedelta(minutes=minutes)}
    shelf = facts.shelf
    parted = {
        name: _parted(getattr(shelf, name), code, amount, **come)
        for name in ("supplies", "jars", "baths", "fibre")
    }
    lots = _parted(shelf.lots, code, amount, **come, carried=True)
    chore = Chore(day, say("carry {code}", code=code), minutes, at=begins)
    return replace(facts, shelf=replace(shelf, lots=lots, **parted), chores=(*facts.chores, chore))


def _parted(rows: tuple[Any, ...], code: str, amount: int, **come: Any) -> tuple[Any, ...]:
    """The rows with a part of one as a row of its own; the very same where none has the code."""
    lot = next((row for row in rows if row.code == code), None)
    if lot is None:
        return rows
    left = "left_mg" if hasattr(lot, "left_mg") else "left_ul"
    there = getattr(lot, left)
    part = replace(lot, code=carried_code(code, come["site"]), **{left: amount}, **come)
    rest = replace(lot, **{left: there - amount})
    return (*(rest if row.code == code else row for row in rows), part)


def is_liquid(thing: Thing) -> bool:
    """Whether a thing is measured, not weighed."""
    return isinstance(thing, JarFacts | BathFacts)


def free_of(code: str, facts: WeekFacts, taken: int) -> int:
    """How much of a thing is neither promised nor taken, in mg or µL."""
    there = sum(_left(row) for row in things(facts) if row.code == code)
    return there - taken - sum(row.amount for row in facts.promised if row.code == code)


def _left(row: Thing) -> int:
    return row.left_ul if isinstance(row, JarFacts | BathFacts) else row.left_mg
