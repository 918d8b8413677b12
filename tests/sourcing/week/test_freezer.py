"""The freezer by evening; figures of the worked week (13.6, 13.7), worked by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from inventory.science.facts import ColdPlaceFacts
from sourcing.week.facts import PickUpExpected, WeekFacts
from sourcing.week.freezer import Evening, evenings
from tests.sourcing.week.pellitory import FACTS, LOTS, SHELF, lot, nov
from tests.sourcing.week.pellitory_answers import ANSWERS, UNTIL, blush, group_day, olive


def by_day(facts: WeekFacts = FACTS, until: datetime = UNTIL) -> dict[int, Evening]:
    return {row.day.day: row for row in evenings(facts, ANSWERS, until=until)}


def test_tonight_holds_what_is_in_it_what_is_put_by_and_what_comes() -> None:
    tonight = by_day()[23]

    assert (tonight.there_mg, tonight.put_by_mg, tonight.comes_mg) == (
        3_350_000,  # 1,900 + 1,450
        1_180_000,
        2_436_000,
    )
    assert tonight.over_mg == 966_000


def test_after_blush_two_kilos_are_free() -> None:
    assert by_day()[24].inside_mg == 3_966_000
    assert by_day()[24].free_mg == 2_034_000
    assert by_day()[24].over_mg == 0


def test_thursdays_likely_stones_and_the_cabbage_put_it_over() -> None:
    thursday = by_day()[26]

    assert thursday.likely_mg == 2_100_000
    assert thursday.put_by_mg == 480_000
    assert thursday.over_mg == 546_000
    assert thursday.inside_mg - thursday.put_by_mg - thursday.holds_mg == 66_000


def test_what_was_frozen_leaves_the_freezer_on_the_day_of_its_use() -> None:
    assert by_day()[27].there_mg == 4_446_000
    assert by_day()[28].there_mg == 3_966_000


def test_the_period_gives_one_evening_a_day() -> None:
    assert list(by_day(until=nov(25))) == [23, 24]
    assert list(by_day(until=nov(25, 12))) == [23, 24, 25]


def test_a_missed_or_confirmed_pick_up_is_not_likely() -> None:
    def likely(**change: object) -> int:
        rows = tuple(
            replace(row, **change) if row.at == nov(26, 17) else row  # type: ignore[arg-type]
            for row in FACTS.pick_ups
        )
        return by_day(replace(FACTS, pick_ups=rows))[26].likely_mg

    assert likely() == 2_100_000
    assert likely(missed=True) == 0
    assert likely(in_window=False) == 0
    assert likely(confirmed_mg=2_000_000) == 0


def test_what_is_dried_does_not_go_into_the_freezer() -> None:
    hedge = PickUpExpected("hedge", "privet", nov(27, 9), 2_000_000, 0)
    facts = replace(FACTS, pick_ups=(*FACTS.pick_ups, hedge))

    assert by_day(facts)[27] == by_day()[27]


def test_what_has_no_life_in_the_freezer_does_not_go_into_it() -> None:
    skins = PickUpExpected("greengrocer", "onion skins", nov(27, 9), 170_000, 0)

    assert by_day(replace(FACTS, pick_ups=(skins,)))[27].likely_mg == 0


def test_a_frozen_lot_from_elsewhere_counts_from_the_day_it_comes() -> None:
    frozen = replace(
        lot("AV-1", "avocado stones", 500, "frozen", "freezer", nov(25, 12)), arrives_at=nov(25, 12)
    )
    facts = replace(FACTS, shelf=replace(SHELF, lots=(*LOTS, frozen)))

    assert by_day(facts)[24].inside_mg == by_day()[24].inside_mg
    assert by_day(facts)[25].comes_mg == 500_000
    assert by_day(facts)[26].there_mg == by_day()[26].there_mg + 500_000


def test_a_lot_that_is_dried_by_a_job_is_not_put_by_in_the_freezer() -> None:
    job = replace(group_day().jobs[1], what="dry CB-1121")
    dried = replace(group_day(), jobs=(job,))

    found = {row.day.day: row for row in evenings(FACTS, (blush(), dried), until=UNTIL)}

    assert found[26].put_by_mg == 0


def test_two_runs_that_freeze_parts_of_one_lot_are_both_counted() -> None:
    job = replace(group_day().jobs[1], run="C")
    part = replace(olive(), jobs=(job,), takes=(replace(group_day().takes[2], run="C"),))

    found = {row.day.day: row for row in evenings(FACTS, (group_day(), part), until=UNTIL)}

    assert found[26].put_by_mg == 960_000


@pytest.mark.parametrize(
    "places",
    [(), (ColdPlaceFacts("freezer", "freezer", None),), (ColdPlaceFacts("f", "fridge", 1),)],
    ids=["no cold place", "a freezer without limit", "a fridge only"],
)
def test_without_a_limit_there_is_nothing_to_check(places: tuple[ColdPlaceFacts, ...]) -> None:
    facts = replace(FACTS, shelf=replace(SHELF, cold_places=places))

    assert evenings(facts, ANSWERS, until=UNTIL) == ()


def test_two_freezers_hold_what_both_hold() -> None:
    places = (*SHELF.cold_places, ColdPlaceFacts("second", "freezer", 966_000))

    assert by_day(replace(FACTS, shelf=replace(SHELF, cold_places=places)))[23].over_mg == 0
