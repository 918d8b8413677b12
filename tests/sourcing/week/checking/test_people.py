"""People: there when a step begins and while a flame burns, with hands enough each day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from sourcing.week.facts import Chore, DayHours
from tests.sourcing.week.checking.breaking import (
    FACTS,
    kinds,
    later,
    open_on,
    texts,
    with_answer,
    with_day,
    with_figure,
    with_step,
)
from tests.sourcing.week.pellitory import MONDAY, nov
from tests.sourcing.week.pellitory_plan import WEEK, answer_steps


def test_nobody_begins_before_the_day_opens() -> None:
    facts = open_on(0, opens=nov(23, 9, 5))

    assert texts("hours", facts) == [
        "nobody is there when scour load 1 begins",
        "nobody is there when scour load 2 begins",
        "nobody is there when cold alum load 1 begins",
    ]
    assert kinds(facts) == {"hours"}


def test_somebody_is_there_till_the_hold_is_over() -> None:
    assert kinds(open_on(0, closes=nov(23, 13, 36))) == set()
    assert texts("attended", open_on(0, closes=nov(23, 13, 35))) == [
        "nobody is there through hot alum load 1"
    ]


def test_nobody_is_there_between_two_shifts() -> None:
    morning = DayHours(MONDAY, nov(23, 9), nov(23, 12), 180)
    afternoon = DayHours(MONDAY, nov(23, 12, 30), nov(23, 18), 180)
    hours = (morning, afternoon, *FACTS.hours[1:])

    assert kinds(replace(FACTS, hours=hours)) == {"attended"}


def test_two_who_overlap_are_there_throughout() -> None:
    morning = DayHours(MONDAY, nov(23, 9), nov(23, 12, 30), 180)
    afternoon = DayHours(MONDAY, nov(23, 12), nov(23, 18), 180)

    assert kinds(replace(FACTS, hours=(morning, afternoon, *FACTS.hours[1:]))) == set()


def test_after_bath_is_watched_to_its_end() -> None:
    """Olive's copper stands from 09:00 to 10:30 on Friday; the bath of nettle is at 17:15."""
    early = DayHours(date(2026, 11, 27), nov(27, 9), nov(27, 10, 15), 180)
    late = DayHours(date(2026, 11, 27), nov(27, 10, 25), nov(27, 18), 180)
    hours = (*FACTS.hours[:3], early, late, *FACTS.hours[4:])

    assert texts("attended", replace(FACTS, hours=hours)) == [
        "nobody is there through copper load 1"
    ]


def test_steps_begin_on_five_minutes() -> None:
    assert texts("grid", week=later("A", "hot alum", 2)) == [
        "hot alum load 1 does not fall on 5 minutes",
        "hot alum load 2 does not fall on 5 minutes",
    ]
    assert kinds(week=later("A", "hot alum", 2)) == {"grid"}


def test_step_that_follows_at_once_may_begin_at_any_minute() -> None:
    assert [placed.start.minute for placed in answer_steps("D", "iron")] == [18]
    assert kinds() == set()


def test_nothing_begins_before_the_moment_asked_for() -> None:
    facts = replace(FACTS, at=nov(23, 9, 5))

    assert kinds(facts, replace(WEEK, at=nov(23, 9, 5))) == {"past", "answer"}


def test_hands_of_a_day_are_a_budget() -> None:
    """Monday asks for 225 minutes: 60 + 60 + 30 of steps, 45 and 30 of chores."""
    enough = with_day(0, hands_available_min=225)
    too_few = with_day(0, hands_available_min=224)

    assert kinds(open_on(0, hands_min=225), enough) == set()
    assert texts("hands", open_on(0, hands_min=224), too_few) == [
        "Mon 23: 225 min of hands are asked for, 224 are in"
    ]
    assert kinds(open_on(0, hands_min=224), too_few) == {"hands"}


def test_chore_takes_hands_from_the_runs() -> None:
    chores = (*FACTS.chores, Chore(MONDAY, "sweep", 136))

    assert kinds(replace(FACTS, chores=chores), with_day(0, hands_on_min=361)) == {"hands"}


def test_day_row_says_what_the_steps_ask_for() -> None:
    assert kinds(week=with_day(1, hands_on_min=307)) == {"day row"}
    assert kinds(week=with_day(1, hands_available_min=360)) == {"day row"}


def test_strip_of_a_steeping_jar_takes_its_minutes() -> None:
    assert kinds(with_figure("studio", "dip_min", "6")) == {"day row"}


def test_hands_of_a_step_are_the_recipes() -> None:
    week = with_day(1, with_step("D", "dye", hands_min=84), hands_on_min=311)

    assert texts("hands of a step", week=week) == [
        "dye is charged 84 min of hands, 85 by the recipe"
    ]
    assert kinds(week=week) == {"hands of a step"}


def test_rinse_lasts_as_long_as_its_hands() -> None:
    """A rinse takes 30 minutes a kg: 12 for 400 g."""
    shorter = with_step("D", "rinse", end=nov(24, 15, 59))

    assert kinds(week=shorter) == {"too short"}


def test_extract_is_charged_for_each_load_of_the_dye() -> None:
    week = with_day(1, with_step("A", "extract", hands_min=40), hands_on_min=272)

    assert kinds(week=week) == {"hands of a step"}


def test_bath_made_needs_somebody_there() -> None:
    week = with_step("F", "make nettle bath", start=nov(27, 17, 25), end=nov(27, 18, 8))
    week = with_step("F", "make nettle bath", week, held_until=nov(27, 18, 8))

    assert texts("attended", week=week) == ["nobody is there to make nettle bath"]
    assert kinds(week=week) == {"attended"}


def test_bath_made_is_heated_as_long_as_it_takes() -> None:
    """7.2 L from 8 to 95 °C on 3.5 kW at 0.7: 7.2 x 4.186 x 87 / 147 = 17.8 min."""
    assert kinds(week=with_step("F", "make nettle bath", heat_min=16)) == {"heat"}


def test_first_step_said_is_the_first_step_placed() -> None:
    assert kinds(week=with_answer("A", first_step_at=nov(23, 9, 5))) == {"first step"}


def test_litres_of_the_bath_are_those_wanted() -> None:
    week = with_step("F", "make nettle bath", litres=Decimal("7.0"))

    assert kinds(week=week) == {"bath"}
