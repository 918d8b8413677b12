"""The largest that works, where more need not be worse than less."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from sourcing.week.how_big.search import POINTS, largest


@given(st.sets(st.integers(1, 200)), st.integers(0, 200))
def test_what_is_found_works_and_one_more_does_not(working: set[int], most: int) -> None:
    found = largest(lambda number: number in working, most)

    assert found <= most
    assert found == 0 or found in working
    assert found == most or found + 1 not in working or found == 0


@given(st.integers(0, 20_000), st.integers(0, 20_000))
def test_where_more_is_never_better_the_last_that_works_is_found(border: int, most: int) -> None:
    assert largest(lambda number: number <= border, most) == min(border, most)


def test_a_stretch_above_a_gap_is_found_at_its_end() -> None:
    def works(number: int) -> bool:
        return number <= 40 or 300 <= number <= 410

    assert largest(works, 800) == 410


def test_little_is_asked_however_much_there_could_be() -> None:
    asked: list[int] = []

    def works(number: int) -> bool:
        asked.append(number)
        return number <= 3

    assert largest(works, 20_000) == 3
    assert len(asked) <= POINTS + 2 * 15
