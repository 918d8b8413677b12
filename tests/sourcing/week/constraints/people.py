"""Tests 28 to 32: hands, hours, order, baths used again and what blocks the room."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from inventory.science.facts import BathFacts
from sourcing.week.facts import Block, Dose, WeekFacts
from tests.sourcing.week.constraints.case import Case
from tests.sourcing.week.little import DUSK, LITTLE, ZONE, feb, hours, recipe, run


def group_day(minute: int) -> WeekFacts:
    since, until = feb(2, 10, minute), feb(3, 8)
    return replace(LITTLE, blocks=(Block("group", "group day", since, until, ("R1",)),))


def no_iron(facts: WeekFacts, *, barred: bool) -> WeekFacts:
    row = Block("school", "school class", feb(2, 13), feb(3, 8), no_iron=barred)
    return replace(facts, blocks=(row,))


SECOND = recipe(doses=(*DUSK.doses, Dose("dyebath", "bath", "dye", l_per_kg=Decimal(10))))


def second(**of_bath: object) -> WeekFacts:
    made = datetime(2027, 1, 26, 12, tzinfo=ZONE)
    bath = BathFacts("Y1", "dyebath", made, 5_000_000, 8, 1, "Ember", 3)
    return replace(SECOND, shelf=replace(SECOND.shelf, baths=(replace(bath, **of_bath),)))  # type: ignore[arg-type]


CASES = (
    Case(
        28,
        "hands a minute short on Tuesday",
        LITTLE,
        hours(2, hands_min=89),
        "not yet",
        "hands",
        "hands for rinse on Tue 2 Feb 15:06: 15 min wanted, 14 left; next Wed 3 Feb 09:00",
    ),
    Case(
        29,
        "nobody there for the last minute",
        hours(2, closes=feb(2, 15, 21)),
        hours(2, closes=feb(2, 15, 20)),
        "not yet",
        "due",
        "due Fri 5 Feb 12:00, dry only after it",
    ),
    Case(
        30,
        "wanted a minute before it is dry",
        run(due=feb(4, 15, 30)),
        run(due=feb(4, 15, 29)),
        "not yet",
        "due",
        "due Thu 4 Feb 15:29, dry only after it",
    ),
    Case(
        31,
        "second bath of a lighter shade",
        second(depth=3),
        second(depth=2),
        "no",
        "bath",
        "Y1 gave Ember: second bath is paler",
    ),
    Case(
        31,
        "second bath past its keep days",
        second(),
        second(made_at=datetime(2027, 1, 25, 12, tzinfo=ZONE)),
        "no",
        "bath",
        "Y1 ends Mon 1 Feb, before Tue 2 Feb",
        "dyebath, keeps_days = 7 (studio's own)",
    ),
    Case(
        32,
        "group day takes the ring a minute early",
        group_day(36),
        group_day(35),
        "not yet",
        "ring",
        "R1 is held by group day; free for dye Wed 3 Feb 08:00",
    ),
    Case(
        32,
        "children about while iron would stand",
        no_iron(LITTLE, barred=False),
        no_iron(LITTLE, barred=True),
        "not yet",
        "aired",
        "iron needs airing, not possible on Tue 2 Feb 13:36; next Wed 3 Feb 08:00",
    ),
)
