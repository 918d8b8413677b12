"""What will come of each dyestuff: pick-ups, amounts by day, who is short, what it rests on."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

from sourcing.forecast.facts import Stream
from sourcing.week.coming import (
    DYESTUFFS_AT_MOST,
    LEVELS,
    PICK_UPS_AT_MOST,
    AllComing,
    Coming,
    all_coming,
)
from sourcing.week.facts import WeekFacts
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS
from tests.sourcing.week.test_enough import CAFE, SIX, visits

STONES = "avocado stones"
PROMISED = Stream("New kitchen", STONES, (1,), promised_pieces=30)
SKINS = Stream("Three Crates greengrocer", "onion skins", (5,), promised_mg=200_000)
LEAVES = Stream("Hedge at the corner house", "privet", (date(2026, 11, 27),), promised_mg=2_000_000)
YARD = replace(FACTS, streams=(LEAVES, SKINS, CAFE))


def coming(facts: WeekFacts = YARD, *, gives: str = "") -> AllComing:
    return all_coming(facts, project(facts, days=7).answers, gives=gives)


def stones(*streams: Stream) -> Coming:
    found = coming(replace(FACTS, streams=streams), gives=STONES)
    (row,) = found.dyestuffs
    return row


def test_what_runs_are_short_of_stands_in_front() -> None:
    found = coming()

    assert [row.dyestuff for row in found.dyestuffs] == [STONES, "onion skins", "privet"]
    assert (found.first, found.last) == (date(2026, 11, 23), date(2026, 12, 20))
    assert found.others == ()


def test_pick_ups_of_four_weeks_are_listed_and_none_after() -> None:
    rows = stones(CAFE).pick_ups

    # Mondays and Thursdays from 23 Nov to 17 Dec; Monday 21 December is the fifth week.
    assert [row.at.date() for row in rows] == [
        date(2026, 11, 23), date(2026, 11, 26), date(2026, 11, 30), date(2026, 12, 3),
        date(2026, 12, 7), date(2026, 12, 10), date(2026, 12, 14), date(2026, 12, 17),
    ]  # fmt: skip
    assert rows[0].confirmed_mg == 2_436_000


def test_what_was_told_of_is_on_the_shelf_and_no_part_of_the_fan() -> None:
    days = stones(CAFE).days

    assert days[0].day == date(2026, 11, 26)
    assert len(days) == 7


def test_amounts_rise_from_day_to_day_and_from_sure_to_lucky() -> None:
    days = stones(CAFE).days

    assert all(len(row.mg) == len(LEVELS) and list(row.mg) == sorted(row.mg) for row in days)
    for before, after in pairwise(days):
        assert all(low <= high for low, high in zip(before.mg, after.mg, strict=True))
    # The café missed one in seven, so for one pick-up the worst tenth is none at all.
    assert days[0].worst == 0 < days[0].middle


def test_the_middle_lies_by_what_the_last_six_brought() -> None:
    # Mean of the six, the missed one too: 50 stones of 42 g, 2,100 g; seven of them 14,700 g.
    last = stones(CAFE).days[-1]

    assert 0.8 * 14_700_000 < last.middle < 1.2 * 14_700_000


def test_a_run_that_is_short_has_its_chance_and_its_days() -> None:
    by_run = {row.run: row for row in stones(CAFE).short}
    old_rose = by_run["B"]

    assert old_rose.short_mg == 2_034_000
    assert old_rose.by == date(2026, 12, 20)
    assert old_rose.chance > 0.99
    chances, days = zip(*old_rose.days, strict=True)
    assert chances == (0.5, 0.8, 0.95)
    assert days == (date(2026, 11, 26), date(2026, 11, 30), date(2026, 12, 3))


def test_the_chance_is_that_of_the_week() -> None:
    answers = project(YARD, days=28).answers
    week = {answer.run: answer.enough[0] for answer in answers if answer.enough}
    here = {row.run: row for row in all_coming(YARD, answers, gives=STONES).dyestuffs[0].short}

    assert here
    assert here.keys() == week.keys()
    for run, enough in week.items():
        assert here[run].chance == enough.chance
        assert dict(here[run].days).items() >= dict(enough.days).items()


def test_a_source_says_what_it_rests_on() -> None:
    one = replace(CAFE, visits=visits(SIX)[-1:])
    two = replace(CAFE, visits=visits(SIX)[-2:])
    nothing = replace(CAFE, visits=())

    (known,), (few,), (more,), (promised,), (silent,) = (
        stones(each).rests_on for each in (CAFE, one, two, PROMISED, nothing)
    )
    assert (known.visits, known.missed, known.thin) == (7, 1, False)
    assert (few.thin, more.thin) == (True, False)
    assert (promised.visits, promised.promised, promised.thin) == (0, True, True)
    assert (silent.silent, promised.silent) == (True, False)


def test_where_nobody_knows_how_much_nothing_is_foretold() -> None:
    assert stones(replace(CAFE, visits=())).days == ()
    assert stones(PROMISED).days != ()


def test_where_no_piece_was_weighed_it_says_so() -> None:
    counted = Stream("New kitchen", "beech nuts", (1,), promised_pieces=30)
    found = coming(replace(FACTS, streams=(counted,)), gives="beech nuts")

    assert found.dyestuffs[0].unweighed
    assert found.dyestuffs[0].days == ()


def test_one_dyestuff_alone_leaves_the_others_named() -> None:
    found = coming(gives="privet")

    assert [row.dyestuff for row in found.dyestuffs] == ["privet"]
    assert found.others == (STONES, "onion skins")


def test_what_no_source_gives_is_nothing() -> None:
    assert coming(gives="walnut hulls").dyestuffs == ()


def test_dyestuffs_and_pick_ups_have_an_upper_bound() -> None:
    many = tuple(replace(PROMISED, gives=f"leaf {n:02}") for n in range(DYESTUFFS_AT_MOST + 3))
    found = all_coming(replace(FACTS, streams=many, pick_ups=()), ())
    first = FACTS.pick_ups[0]
    daily = tuple(replace(first, at=first.at + timedelta(days=n, minutes=m))
                  for n in range(28) for m in (0, 1))  # fmt: skip
    (row,) = all_coming(replace(FACTS, pick_ups=daily, streams=()), ()).dyestuffs

    assert (len(found.dyestuffs), len(found.others)) == (DYESTUFFS_AT_MOST, 3)
    assert (len(row.pick_ups), row.more) == (PICK_UPS_AT_MOST, 56 - PICK_UPS_AT_MOST)
