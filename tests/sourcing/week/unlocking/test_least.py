"""The smallest amount that works, whatever the amounts in between do."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, cast

from hypothesis import given
from hypothesis import strategies as st

from sourcing.week.unlocking.easing import Easing
from sourcing.week.unlocking.seek import _worth_saying, fewest

if TYPE_CHECKING:
    from sourcing.week.unlocking.trials import Trials


@given(st.sets(st.integers(1, 60)), st.lists(st.integers(-5, 80)))
def test_fewest_works_where_one_fewer_does_not(working: set[int], hints: list[int]) -> None:
    most = 61

    found = fewest(lambda grains: grains in working or grains == most, most, tuple(hints))

    assert found in working | {most}
    assert found - 1 not in working


def test_nothing_is_asked_for_where_nothing_is_needed() -> None:
    assert fewest(lambda _: True, 500, (3,)) == 0


def test_an_amount_that_the_answer_names_is_tried_first() -> None:
    asked: list[int] = []

    def works(grains: int) -> bool:
        asked.append(grains)
        return grains >= 2_034

    assert fewest(works, 12_000, (2_034, 6_000)) == 2_034
    assert asked == [0, 2_034, 2_033]


def test_ways_of_one_rank_stand_in_the_order_in_which_they_were_found() -> None:
    """A set of them would stand otherwise in each process."""
    days = [date(2026, 11, day) for day in (24, 26, 23, 29, 25)]
    easings = [Easing("open day", "", "A", 600, day=day) for day in days]
    found = [((easing, 45),) for easing in (*easings, easings[0])]

    kept = _worth_saying(found, cast("Trials", None))

    assert [pulled[0][0].day for pulled in kept] == days
