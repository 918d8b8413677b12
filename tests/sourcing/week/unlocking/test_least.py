"""The smallest amount that works, whatever the amounts in between do."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from sourcing.week.unlocking.seek import fewest


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
    assert asked == [11_999, 0, 2_034, 2_033]
