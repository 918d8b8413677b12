"""Tests 33 and 34: the shade card and the readings that a client asks for."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from sourcing.week.facts import FastnessWish, ShadeCard, WeekFacts
from tests.sourcing.week.constraints.case import Case
from tests.sourcing.week.little import LITTLE, run


def read(reading: int, begun: date = date(2027, 1, 4)) -> WeekFacts:
    return run(wishes=(FastnessWish("light", Decimal(4), Decimal(reading), begun, 28),))


CASES = (
    Case(
        33,
        "shade card not approved",
        LITTLE,
        run(shade_card=ShadeCard(approved=False)),
        "no",
        "shade card",
        "shade card for Dusk on wool is not approved yet",
    ),
    Case(
        33,
        "no shade card for the fibre",
        LITTLE,
        run(shade_card=None),
        "no",
        "shade card",
        "no shade card for Dusk on wool",
    ),
    Case(
        34,
        "light reading 3 where 4 is wished",
        read(4),
        read(3),
        "no",
        "reading",
        "light: reading 3, 4 wanted",
    ),
    Case(
        34,
        "card a day short of its 28",
        read(4),
        read(4, date(2027, 1, 5)),
        "no",
        "reading",
        "light card is on day 27 of 28, reading 4, 4 wanted: look again Tue 2 Feb",
    ),
)
