"""Altered weeks that ask for more care than the plain ones: each answer worked by hand."""

from __future__ import annotations

from decimal import Decimal

from sourcing.week.facts import WeekFacts
from tests.sourcing.week.pellitory import FACTS, nov
from tests.sourcing.week.worked import (
    ITS_HANDS,
    THE_WEEK,
    brief,
    changed,
    hands,
    starts,
    told,
    week_of,
    with_hours,
)


def freezer_of(holds_mg: int | None, facts: WeekFacts = FACTS) -> WeekFacts:
    return changed("freezer", "cold_places", facts, holds_mg=holds_mg)


def test_what_blush_took_on_tuesday_makes_room_for_thursdays_cabbage() -> None:
    # The same freezer on Thursday holds 350 g: 480 more fit.
    week = week_of(freezer_of(3_350_000))

    assert told(week, "F").answer == "yes"
    assert told(week, "F").jobs[0] == "freeze CB-1121, Thu 26, 10 min"


def test_freezer_that_just_takes_the_stones_changes_nothing() -> None:
    # 3,350 + 1,180 = 4,530 g.
    week = week_of(freezer_of(4_530_000))

    assert brief(week) == THE_WEEK
    assert told(week, "A").jobs == ("freeze AV-1116, Mon 23, 0 min",)


def test_a_minute_less_on_tuesday_sends_slate_to_thursday() -> None:
    # 80 + 90 + 5 + 10 = 185, and 127 do not fit in 311. Thu 09:00 on R1, for R2 is lit for Olive
    # from 10:00: 133 min to 11:13, iron 14:13, rinsed 15:55, hung 16:00: 2.0 + 0.4, Fri 11:00
    # 2.0 + 0.4 + 0.6 = 3.0 of 3.0 kg.
    week = week_of(with_hours(nov(24), 311))

    assert brief(week) == {**THE_WEEK, "D": "yes, Mon 23 09:00, Sat 28 16:00"}
    assert starts(week, "D")["dye"] == "Thu 26 09:00"
    assert hands(week) == {**ITS_HANDS, "Tue 24": "185 of 311", "Thu 26": "327 of 600"}


def test_wool_with_too_little_alum_is_no_yes() -> None:
    # W-90 at 8 % for a recipe of 12 %, which has no mordant step of its own: not dyed as it is.
    week = week_of(changed("W-90", "fibre", mordant_percent=Decimal(8)))

    assert told(week, "C").answer == "no"
