"""Tests 9 to 14: jars, baths, alum and their order. 500 g of wool ask for 250 mL of iron."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from fractions import Fraction

from inventory.science.facts import BathFacts, Dip
from sourcing.week.facts import Dose, WeekFacts
from tests.sourcing.week.constraints.case import Case
from tests.sourcing.week.little import DUSK, LITTLE, ZONE, dose, recipe, shelf


def dipped(month: int, day: int, grade: int = 4) -> WeekFacts:
    year = 2026 if month > 2 else 2027
    return shelf(jars={"dips": (Dip(datetime(year, month, day, 9, tzinfo=ZONE), grade),)})


def roomy(grade: int) -> WeekFacts:
    """A jar with enough for strip 3, which asks for more."""
    return shelf(dipped(1, 2, grade), jars={"left_ul": 400_000})


def begun(day: int) -> WeekFacts:
    """A jar never dipped, so by the clock from its day 14."""
    return shelf(
        jars={
            "dips": (),
            "events": (),
            "left_ul": 500_000,
            "begun_at": datetime(2027, 1, day, 9, tzinfo=ZONE),
        }
    )


NETTLE = recipe(doses=(*DUSK.doses, Dose("nettle bath", "bath", "dye", l_per_kg=Decimal(10))))


def bath(day: int, ul: int = 5_000_000) -> WeekFacts:
    made = datetime(2027, 1, day, 12, tzinfo=ZONE)
    row = BathFacts("N1", "nettle bath", made, ul, 8)
    return replace(NETTLE, shelf=replace(NETTLE.shelf, baths=(row,)))


LEMON = Dose("lemon", "supply", "dye", per_fibre=Fraction(0))
CASES = (
    Case(
        9,
        "strip 91 days old on the day of the iron",
        dipped(11, 4),
        dipped(11, 3),
        "no",
        "jar",
        "Iron 1 is retest on Tue 2 Feb 13:36",
        "iron liquor, strip_valid_days = 90 (studio's own)",
    ),
    Case(
        9,
        "strip 2 where 3 is the least",
        roomy(3),
        roomy(2),
        "no",
        "jar",
        "Iron 1 is spent",
        "iron liquor, least_strip_grade = 3 (studio's own)",
    ),
    Case(
        9,
        "jar ready by the clock a day later",
        begun(19),
        begun(20),
        "not yet",
        "jar",
        "Iron 1 is usable Wed 3 Feb 00:00",
        "iron liquor, usable_from_days = 7 (studio's own)",
    ),
    Case(
        10,
        "jar one millilitre short",
        LITTLE,
        shelf(jars={"left_ul": 249_000}),
        "no",
        "liquor",
        "Iron 1 short by 1 mL: 250 mL wanted, 249 mL left",
    ),
    Case(
        11,
        "52 mL where 51 is the ceiling",
        shelf(dose("iron", ml_per_100g=Decimal(51)), jars={"left_ul": 400_000}),
        shelf(dose("iron", ml_per_100g=Decimal(52)), jars={"left_ul": 400_000}),
        "no",
        "ceiling",
        "52 mL of Iron 1 per 100 g wool would be up to 2.006 % iron, over 2.0 %; 51 mL is allowed",
        "wool, metal_ceiling_percent = 2 (studio's own)",
    ),
    Case(
        11,
        "iron in the cloth already",
        LITTLE,
        shelf(fibre={"iron_percent": Decimal("0.2")}),
        "no",
        "ceiling",
        "50 mL of Iron 1 per 100 g wool would be up to 2.1 % iron, over 2.0 %; 46 mL is allowed",
        "wool, metal_ceiling_percent = 2 (studio's own)",
    ),
    Case(
        12,
        "nettle bath ends the day before",
        bath(28),
        bath(27),
        "no",
        "bath",
        "N1 ends Mon 1 Feb, before Tue 2 Feb",
        "nettle bath, keeps_days = 5 (studio's own)",
    ),
    Case(
        13,
        "alum one gram short",
        LITTLE,
        shelf(supplies={"left_mg": 59_000}),
        "no",
        "supply",
        "alum short by 1 g: 60 g wanted, 59 g left",
    ),
    Case(
        14,
        "lemon stands with the iron",
        recipe(doses=(*DUSK.doses, LEMON)),
        recipe(doses=(*DUSK.doses, replace(LEMON, step="iron"))),
        "no",
        "order",
        "lemon and iron stand together in iron",
    ),
)
