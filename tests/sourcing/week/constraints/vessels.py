"""Tests 20 to 27: pots, ring, water, buckets, line and weather."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from sourcing.week.facts import Block, Hanging, Weather, WeekFacts
from tests.sourcing.week.constraints.case import Case
from tests.sourcing.week.little import LITTLE, MONDAY, feb, recipe, shelf

TUESDAY, WEDNESDAY = MONDAY.replace(day=2), MONDAY.replace(day=3)


def block(since: datetime, until: datetime, *vessels: str) -> WeekFacts:
    return replace(LITTLE, blocks=(Block("teaching", "teaching", since, until, vessels=vessels),))


def hanging(mg: int, holds_mg: int = 3_000_000) -> WeekFacts:
    row = Hanging("line", feb(1), feb(3, 12), mg)
    return replace(shelf(lines={"holds_mg": holds_mg}), hanging=(row,))


OUTDOORS = shelf(lines={"outdoors": True})
PH = recipe(ph_low=Decimal("6.5"), ph_high=Decimal("7.4"))


def weather(facts: WeekFacts, **day: object) -> WeekFacts:
    return replace(facts, weather=(Weather(**day),))  # type: ignore[arg-type]


CASES = (
    Case(
        20,
        "pot one millilitre too small",
        LITTLE,
        shelf(vessels={"working_ml": 14_999}),
        "not yet",
        "vessel",
        "P1 is held by the run itself; free for hot alum Wed 3 Feb 09:00",
        "studio, pause_between_steps_min = 30 (studio's own)",
    ),
    Case(
        21,
        "pot is not an iron pot",
        LITTLE,
        shelf(vessels={"iron_pot": False}),
        "no",
        "vessel",
        "no vessel is allowed for scour: P1 is not an iron pot",
    ),
    Case(
        21,
        "pot is a food pot",
        LITTLE,
        shelf(vessels={"food": True}),
        "no",
        "vessel",
        "no vessel is allowed for scour: P1 is used for food",
    ),
    Case(
        21,
        "pot is aluminium",
        LITTLE,
        shelf(vessels={"material": "aluminium"}),
        "no",
        "vessel",
        "no vessel is allowed for scour: P1 is aluminium",
    ),
    Case(
        22,
        "pot taken a minute into the hour after it",
        block(feb(2, 16, 6), feb(3, 18), "P1"),
        block(feb(2, 16, 5), feb(3, 18), "P1"),
        "not yet",
        "vessel",
        "P1 is held by teaching; free for iron Wed 3 Feb 19:00",
        "studio, pause_between_runs_min = 60 (studio's own)",
    ),
    Case(
        23,
        "ring a watt too weak",
        shelf(rings={"watts": 795}),
        shelf(rings={"watts": 794}),
        "no",
        "horizon",
        "fits nowhere before Mon 15 Feb 00:00",
    ),
    Case(
        23,
        "ring does not take the pot",
        LITTLE,
        shelf(rings={"not_for": ("P1",)}),
        "no",
        "vessel",
        "no vessel is allowed for scour: P1 fits no ring",
    ),
    Case(
        24,
        "water over the recipe's pH",
        PH,
        replace(PH, waters=(replace(PH.waters[0], ph=Decimal("7.5")),)),
        "no",
        "water",
        "town water has pH 7.5, the recipe 6.5 to 7.4",
    ),
    Case(
        25,
        "bucket taken a minute longer",
        block(feb(1, 8), feb(1, 11, 25), "B1"),
        block(feb(1, 8), feb(1, 11, 26), "B1"),
        "not yet",
        "due",
        "due Fri 5 Feb 12:00, dry only after it",
    ),
    Case(
        26,
        "line a gram over at the hour of hanging",
        hanging(2_500_000),
        hanging(2_501_000),
        "not yet",
        "line",
        "line on Tue 2 Feb 15:30: 3.001 kg would hang on 3 kg, 0.001 kg over; "
        "room from Wed 3 Feb 12:00",
        "studio, drying_h = 48 (studio's own)",
    ),
    Case(
        27,
        "frost while it would hang outdoors",
        weather(OUTDOORS, day=WEDNESDAY, frost=False),
        weather(OUTDOORS, day=WEDNESDAY, frost=True),
        "not yet",
        "frost",
        "frost while cloth would hang on line from Tue 2 Feb 15:30; next Thu 4 Feb 00:00",
        "studio, drying_h = 48 (studio's own)",
    ),
    Case(
        27,
        "iron cannot be aired that day",
        weather(LITTLE, day=TUESDAY, aired=True),
        weather(LITTLE, day=TUESDAY, aired=False),
        "not yet",
        "aired",
        "iron needs airing, not possible on Tue 2 Feb 13:36; next Wed 3 Feb 00:00",
    ),
)
