"""Something carried from one site of the studio to another, weighed at both ends.

It comes with its past, so that it keeps as long as it would have, and takes hands of its day.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

from inventory.science.catalogue import figure
from inventory.science.facts import FibreFacts, LotFacts
from inventory.science.saying import say
from sourcing.week.desk import Desk
from sourcing.week.facts import Chore, WeekFacts


def carry_minutes(facts: WeekFacts) -> int:
    """Minutes of hands to carry something from one site to another and back."""
    today = facts.at.astimezone(facts.zone).date()
    return round(figure(facts.figures, "studio", "carry_min", on=today).value)


def carry_begins(facts: WeekFacts, day: date) -> datetime | None:
    """The first moment of a day with time to carry something; None: there is none."""
    minutes = timedelta(minutes=carry_minutes(facts))
    rows = [row for row in facts.hours if row.day == day and row.hands_min > 0]
    starts = ((max(facts.at, row.opens), row.closes) for row in rows)
    return min((begins for begins, closes in starts if begins + minutes <= closes), default=None)


def carry_day(desk: Desk) -> date | None:
    """The first day on which somebody has hands left to carry something; None: there is none.

    Fixed work is the main site's, so this is too.
    """
    facts, site = desk.facts, desk.facts.sites[0]
    minutes, hands = carry_minutes(facts), desk.board.hands[site]
    for index, day in enumerate(desk.placers[site].calendar.open_days):
        if day.opens >= desk.until:
            break
        if hands[index] >= minutes and carry_begins(facts, day.day) is not None:
            return day.day
    return None


def elsewhere(
    what: str, kind: str, facts: WeekFacts
) -> Iterator[tuple[LotFacts | FibreFacts, str]]:
    """Lots of a dyestuff or a fibre that lie at one site, each with every other it could go to."""
    shelf = facts.shelf
    lots = [row for row in shelf.lots if row.dyestuff == what] if kind == "dyestuff" else []
    fibre = [row for row in shelf.fibre if row.fibre == what] if kind == "fibre" else []
    rows: tuple[LotFacts | FibreFacts, ...] = (*lots, *fibre)
    for row in rows:
        here = row.arrives_at is None or row.arrives_at <= facts.at
        for site in facts.sites if row.site and here else ():
            if site not in ("", row.site):
                yield row, site


def carried_code(code: str, site: str) -> str:
    """What a part is called that was carried to a site."""
    return say("{code} at {site}", code=code, site=site)


def carried(facts: WeekFacts, code: str, mg: int, *, site: str, day: date | None) -> WeekFacts:
    """The facts of a studio in which so much of a lot is carried to a site on a day."""
    begins = None if day is None else carry_begins(facts, day)
    if begins is None or day is None:
        return facts
    minutes = carry_minutes(facts)
    here = begins + timedelta(minutes=minutes)
    shelf = replace(
        facts.shelf,
        lots=_parted(facts.shelf.lots, code, mg, site=site, arrives_at=here, carried=True),
        fibre=_parted(facts.shelf.fibre, code, mg, site=site, arrives_at=here),
    )
    chore = Chore(day, say("carry {code}", code=code), minutes, at=begins)
    return replace(facts, shelf=shelf, chores=(*facts.chores, chore))


def _parted(rows: tuple[Any, ...], code: str, mg: int, **come: Any) -> tuple[Any, ...]:
    """The rows with a part of one as a row of its own; the very same where none has the code."""
    lot = next((row for row in rows if row.code == code), None)
    if lot is None:
        return rows
    part = replace(lot, code=carried_code(code, come["site"]), left_mg=mg, **come)
    left = replace(lot, left_mg=lot.left_mg - mg)
    return (*(left if row.code == code else row for row in rows), part)


def free_mg(code: str, facts: WeekFacts, taken: int) -> int:
    """How much of a lot is neither promised nor taken."""
    shelf = facts.shelf
    rows: tuple[LotFacts | FibreFacts, ...] = (*shelf.lots, *shelf.fibre)
    there = sum(row.left_mg for row in rows if row.code == code)
    return there - taken - sum(row.amount for row in facts.promised if row.code == code)
