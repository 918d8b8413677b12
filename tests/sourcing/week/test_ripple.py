"""A missed visit and all that moves: the worked week (JOB 38) by hand, then made-up studios."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import lru_cache

import pytest

from inventory.science.facts import LotFacts
from sourcing.forecast.facts import Stream, Visit
from sourcing.week.facts import PickUpExpected, WeekFacts
from sourcing.week.guidance import in_order
from sourcing.week.project import project
from sourcing.week.ripple import (
    Moved,
    Ripple,
    hardest_first,
    pick_ups_of,
    ripple,
    struck,
    visits_of,
)
from tests.sourcing.week.pellitory import FACTS, nov
from tests.sourcing.week.random_studios import studio

CAFE, STONES = "Lantern Steps café", "avocado stones"


def missed(day: int, facts: WeekFacts = FACTS, *, days: int = 7) -> Ripple:
    rows = pick_ups_of(facts, source=CAFE, on=date(2026, 11, day))
    return ripple(facts, rows, days=days)


def run(found: Ripple, code: str) -> Moved:
    (row,) = [row for row in found.moved if row.run == code]
    return row


def texts(row: Moved) -> list[str]:
    return [shift.text for shift in row.shifts]


# -- the worked week -------------------------------------------------------------------------


def test_thursday_missed_leaves_old_rose_as_short_as_it_was() -> None:
    # 6,000 - 3,966 = 2,034 g = 48.4, 49 stones, with Thursday and without: it rests on the shelf.
    rose = run(missed(26), "B")

    assert (rose.before.answer, rose.after.answer, rose.worse) == ("no", "no", 0)
    assert rose.stays == ("avocado stones: short stays 2,034 g = 49 stones",)
    # Thu 26 would likely do, usable Fri 27; without it Mon 30, usable Tue 1 Dec.
    assert texts(rose) == ["avocado stones likely enough from Fri 27 Nov becomes Tue 1 Dec"]


@pytest.mark.parametrize("day", [26, 30])
def test_one_missed_day_turns_eight_stones_spare_into_42_short(day: int) -> None:
    # 3,966 + 4 x 2,100 = 12,366 - 12,000 = 366 g = 8.7 stones; 3 x 2,100: 1,734 g = 41.3 stones.
    (stones,) = missed(day).sums

    assert (stones.what, stones.by, stones.runs) == (STONES, date(2026, 12, 7), ("G", "B"))
    assert stones.before is not None
    assert (stones.before.spare_mg, stones.before.pieces) == (366_000, 8)
    assert (stones.after.short_mg, stones.after.pieces) == (1_734_000, 42)
    assert stones.text == (
        "avocado stones: G and B want 12,000 g by Mon 7 Dec: "
        "366 g spare (8 stones) becomes short by 1,734 g (42 stones)"
    )


def test_runs_that_do_not_wait_for_stones_stay() -> None:
    assert missed(26).stay == ("F", "A", "C", "D", "E")


def test_todays_report_struck_goes_with_its_lot() -> None:
    # 1,900 + 1,450 + 1,180 - 3,000 = 1,530: 6,000 - 1,530 = 4,470 g = 106.4, 107 stones.
    rose = run(missed(23), "B")

    assert texts(rose)[0] == (
        "avocado stones short by 2,034 g = 49 stones becomes "
        "avocado stones short by 4,470 g = 107 stones"
    )
    # 12,366 - 2,436 = 9,930: 2,070 g = 49.3, 50 stones short.
    assert missed(23).sums[0].after.short_mg == 2_070_000
    assert missed(23).sums[0].after.pieces == 50


def test_a_report_struck_can_turn_a_yes_into_a_no() -> None:
    # 130 stones of 42 g told of for today: 1,530 + 5,460 = 6,990 >= 6,000. Old Rose without its
    # card and its other wants is a yes by them alone; without them it lacks 4,470 g.
    facts = _stones_alone(reported_mg=5_460_000)
    found = missed(23, facts, days=14)
    rose = run(found, "B")

    assert (rose.before.answer, rose.after.answer) != ("no", "no")
    assert rose.after.answer == "no"
    assert rose.worse > 0
    assert rose.after.short[0].amount == 4_470_000


def _stones_alone(*, reported_mg: int) -> WeekFacts:
    """Old Rose wanting nothing but stones: no card, scoured linen, alum and room enough."""
    shelf = FACTS.shelf
    lots = tuple(
        replace(lot, left_mg=reported_mg) if lot.code == "AV-1123" else lot for lot in shelf.lots
    )
    shelf = replace(
        shelf,
        lots=lots,
        supplies=tuple(replace(row, left_mg=row.left_mg * 9) for row in shelf.supplies),
        cold_places=tuple(replace(row, holds_mg=None) for row in shelf.cold_places),
    )
    runs = tuple(
        replace(row, wishes=(), due=None) if row.code == "B" else row
        for row in FACTS.runs
        if row.code in ("A", "B")
    )
    rows = tuple(
        replace(row, confirmed_mg=reported_mg) if row.at == nov(23, 17) else row
        for row in FACTS.pick_ups
    )
    return replace(FACTS, shelf=shelf, runs=runs, pick_ups=rows)


def test_thursday_missed_leaves_room_in_the_freezer() -> None:
    # 3,966 + 480 of cabbage + 2,100 likely = 6,546; without them 6,000 - 4,446 = 1,554 free.
    assert [row.text for row in missed(26).rooms] == [
        "freezer on Thu 26 Nov: likely over by 546 g becomes 1,554 g free"
    ]
    # Today's 2,436 struck: 4,530 in it, 1,470 free.
    assert [row.text for row in missed(23).rooms] == [
        "freezer on Mon 23 Nov: over by 966 g becomes 1,470 g free"
    ]


# -- what can be struck ----------------------------------------------------------------------


def test_what_is_missed_already_or_closed_or_past_is_no_visit() -> None:
    def open_days(**change: object) -> int:
        rows = tuple(
            replace(row, **change) if row.at == nov(26, 17) else row  # type: ignore[arg-type]
            for row in FACTS.pick_ups
        )
        return len(pick_ups_of(replace(FACTS, pick_ups=rows), source=CAFE))

    assert open_days() == len(FACTS.pick_ups)
    assert open_days(missed=True) == len(FACTS.pick_ups) - 1
    assert open_days(in_window=False) == len(FACTS.pick_ups) - 1
    assert open_days(at=FACTS.at) == len(FACTS.pick_ups) - 1


def test_a_visit_is_all_that_a_source_brings_on_a_day() -> None:
    skins = PickUpExpected(CAFE, "onion skins", nov(26, 17), 170_000, 0)
    facts = replace(FACTS, pick_ups=(*FACTS.pick_ups, skins))
    on = date(2026, 11, 26)

    assert [row.dyestuff for row in pick_ups_of(facts, source=CAFE, on=on)] == [
        STONES,
        skins.dyestuff,
    ]
    assert pick_ups_of(facts, source=CAFE, on=on, gives="onion skins") == (skins,)
    assert pick_ups_of(facts, source=CAFE, on=on, gives="privet") == ()
    assert [len(rows) for rows in visits_of(facts, until=nov(30))] == [1, 2]


def test_visits_end_with_the_period() -> None:
    assert [rows[0].at.day for rows in visits_of(FACTS, until=nov(30))] == [23, 26]


def test_a_long_list_of_visits_is_cut_and_says_so() -> None:
    daily = tuple(
        PickUpExpected(f"source {n}", STONES, nov(25, 9), 1_000_000, 0) for n in range(30)
    )

    found = hardest_first(replace(FACTS, pick_ups=daily), days=7)

    assert (len(found.ripples), found.left_out) == (24, 6)


def test_the_forecast_takes_the_day_as_decided_and_keeps_the_others() -> None:
    rows = (Visit(date(2026, 11, 19), "made", 62), Visit(date(2026, 11, 23), "reported", 58))
    facts = replace(FACTS, streams=(
        Stream(CAFE, STONES, (0, 3), visits=rows), Stream("elsewhere", STONES, (0, 3), visits=rows)
    ))  # fmt: skip

    mine, other = struck(facts, pick_ups_of(facts, source=CAFE, on=date(2026, 11, 23))).streams

    assert mine.visits == (rows[0], Visit(date(2026, 11, 23), "missed"))
    assert other.visits == rows


# -- which hurts most ------------------------------------------------------------------------


def test_the_visit_that_costs_a_yes_stands_in_front() -> None:
    found = hardest_first(_stones_alone(reported_mg=5_460_000), days=14).ripples

    assert found[0].missed[0].at.day == 23
    assert [row.hurts for row in found] == sorted(row.hurts for row in found)


def test_of_the_worked_week_todays_hurts_most() -> None:
    # 58 stones told of are more than the 50 that are likely on Thursday.
    assert [row.missed[0].at.day for row in hardest_first(FACTS, days=7).ripples] == [23, 26]


def test_a_studio_without_pick_ups_has_none_to_miss() -> None:
    found = hardest_first(replace(FACTS, pick_ups=()), days=7)

    assert (found.ripples, found.left_out) == ((), 0)


# -- made-up studios -------------------------------------------------------------------------

STUDIOS = 40
DAYS = 7


@lru_cache(maxsize=STUDIOS)
def told_of(number: int) -> tuple[WeekFacts, LotFacts | None]:
    """A made-up studio in which one lot is told of by a source; pick-ups cost no hands."""
    facts = studio(number)
    coming = [
        lot for lot in facts.shelf.lots if lot.arrives_at is not None and lot.arrives_at > facts.at
    ]
    rows = tuple(replace(row, hands_min=0) for row in facts.pick_ups)
    rows += tuple(
        PickUpExpected("teller", lot.dyestuff, lot.arrives_at, lot.left_mg, 0,
                       confirmed_mg=lot.left_mg)
        for lot in coming[:1]
        if lot.arrives_at is not None
    )  # fmt: skip
    lots = tuple(
        replace(lot, source="teller") if lot in coming[:1] else lot for lot in facts.shelf.lots
    )
    facts = replace(facts, pick_ups=rows, shelf=replace(facts.shelf, lots=lots))
    return facts, next((lot for lot in lots if lot.source == "teller"), None)


@lru_cache(maxsize=1)
def reported() -> list[tuple[int, WeekFacts, LotFacts, Ripple]]:
    found = []
    for number in range(STUDIOS * 2):
        facts, lot = told_of(number)
        if lot is not None:
            rows = pick_ups_of(facts, source="teller")
            found.append((number, facts, lot, ripple(facts, rows, days=DAYS)))
    return found


def test_a_lot_told_of_that_no_run_takes_or_wants_moves_nothing() -> None:
    quiet = 0
    for number, facts, lot, found in reported():
        recipes = {row.code: row for row in facts.recipes}
        wanted = {dose.what for row in facts.runs for dose in recipes[row.recipe].doses}
        if lot.dyestuff not in wanted | {making.dyestuff for making in facts.makings}:
            quiet += 1
            assert found.moved == (), number
    assert quiet > 0


def test_the_first_run_that_a_lot_told_of_moves_is_never_better_without_it() -> None:
    """Later ones may be: what the first no longer takes is theirs."""
    moved = 0
    for number, facts, lot, found in reported():
        order = [row.code for row in sorted(facts.runs, key=in_order)]
        rows = sorted(found.moved, key=lambda row: order.index(row.run))
        if rows:
            moved += 1
            first = rows[0]
            assert first.before.answer != "no" or first.after.answer == "no", number
            assert lot.code in {take.source for take in first.before.takes} or (
                first.before.answer != "yes"
            ), number
    assert moved > 0


def test_a_pick_up_that_nobody_has_told_of_moves_no_answer() -> None:
    """Answers rest on what is there and told of; its hands are none here."""
    for number in range(STUDIOS):
        facts, _ = told_of(number)
        rows = [row for row in facts.pick_ups if row.confirmed_mg is None and row.at > facts.at]
        found = ripple(facts, rows[:1], days=DAYS)

        kinds = {shift.kind for row in found.moved for shift in row.shifts}
        assert kinds <= {"likely", "chance"}, number


def test_what_is_struck_lowers_what_is_likely_there_by_just_that() -> None:
    lowered = 0
    for number in range(STUDIOS):
        facts, _ = told_of(number)
        likely = [row for row in facts.pick_ups if row.confirmed_mg is None and row.at > facts.at]
        for row in ripple(facts, likely[:1], days=DAYS).sums:
            assert row.before is not None
            assert row.before.there_mg - row.after.there_mg == likely[0].likely_mg, number
            assert row.before.over_mg - row.after.over_mg == likely[0].likely_mg, number
            lowered += 1
    assert lowered > 0


def test_striking_twice_is_striking_once() -> None:
    rows = pick_ups_of(FACTS, source=CAFE, on=date(2026, 11, 23))

    once = struck(FACTS, rows)

    assert pick_ups_of(once, source=CAFE, on=date(2026, 11, 23)) == ()
    assert struck(once, rows) == once
    assert project(once, days=DAYS) == project(struck(once, rows), days=DAYS)
