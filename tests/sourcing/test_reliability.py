"""The record of a source: the last six, all of them, and days of which nobody has said anything."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from sourcing.reliability import (
    Came,
    OnWeekday,
    Tally,
    days_back,
    days_gone_by,
    reliability,
)

MONDAY = date(2026, 11, 23)


def stones(*counts: int) -> list[Came]:
    """Hand-overs of stones of 42 g, latest first; 0 is a missed one."""
    return [
        Came(MONDAY - timedelta(days=n + 1), 42_000 * count, pieces=count or None, missed=not count)
        for n, count in enumerate(counts)
    ]


def test_the_cafe_of_the_worked_week() -> None:
    # Mean 50 = 2,100 g, worst 0, missed 1 in 6: the worked week's own figures.
    found = reliability(stones(62, 55, 70, 48, 0, 65), []).lately

    assert (found.mean_pieces, found.mean_mg) == (50, 2_100_000)
    assert (found.least_pieces, found.least_mg, found.most_mg) == (0, 0, 70 * 42_000)
    assert (found.missed, found.times) == (1, 6)


def test_the_greengrocer_of_the_worked_week() -> None:
    # 210, 180, 0, 240, 190 and 200 g of skins: 170 g likely, worst 0.
    grams = (210, 180, 0, 240, 190, 200)
    rows = [
        Came(MONDAY - timedelta(weeks=n + 1), gram * 1000, missed=not gram)
        for n, gram in enumerate(grams)
    ]

    found = reliability(rows, []).lately

    assert (found.mean_mg, found.least_mg, found.mean_pieces) == (170_000, 0, None)


def test_a_seventh_back_is_in_all_and_not_in_the_last_six() -> None:
    rows = stones(60, 60, 60, 60, 60, 60, 0)
    tallies = [Tally(made=6, missed=1, mg=360 * 42_000, pieces=360)]

    found = reliability(reversed(rows), tallies)

    assert (found.lately.times, found.lately.missed, found.lately.least_pieces) == (6, 0, 60)
    assert (found.ever.times, found.ever.missed) == (7, 1)
    assert found.ever.mean_pieces == Fraction(360, 7)


def test_a_source_that_never_came_has_a_record_of_nothing() -> None:
    found = reliability([], [])

    assert (found.lately.times, found.lately.mean_mg, found.lately.mean_pieces) == (0, 0, None)
    assert (found.lately.least_mg, found.ever.times, found.weekdays, found.last_made) == (
        *(None, 0),
        *((), None),
    )


def test_one_that_only_missed_brought_nothing() -> None:
    found = reliability(stones(0, 0), [Tally(missed=2)])

    assert (found.lately.mean_mg, found.lately.mean_pieces, found.lately.missed) == (0, None, 2)
    assert (found.ever.mean_mg, found.ever.mean_pieces, found.last_made) == (0, None, None)


def test_where_some_were_weighed_no_count_is_made_up() -> None:
    rows = [*stones(62), Came(MONDAY, 2_000_000)]
    tallies = [Tally(made=1, mg=2_604_000, pieces=62), Tally(made=1, mg=2_000_000)]

    found = reliability(rows, tallies)

    assert (found.lately.mean_pieces, found.lately.mean_mg) == (None, 2_302_000)
    assert (found.ever.mean_pieces, found.ever.mean_mg) == (None, 2_302_000)


def test_weekdays_are_told_apart_from_monday_on() -> None:
    rows = [OnWeekday(3, 0, 1), OnWeekday(0, 3, 0), OnWeekday(3, 2, 0)]

    assert reliability([], [], weekdays=rows).weekdays == (OnWeekday(0, 3, 0), OnWeekday(3, 2, 1))


def test_the_last_that_came_is_no_missed_one() -> None:
    rows = stones(0, 55)

    assert reliability(rows, []).last_made == rows[1].on
    assert reliability(rows, [], last_made=MONDAY).last_made == MONDAY


def test_a_day_gone_by_without_a_word_is_shown_and_not_counted_as_missed() -> None:
    due = [MONDAY - timedelta(days=n) for n in (14, 7, 0)]
    since = due[1] - timedelta(days=1)

    silent = days_gone_by(due, [due[2]], since=since)
    found = reliability(stones(62), [], nobody_said=silent)

    assert (found.nobody_said, found.lately.missed) == ((due[1],), 0)
    assert days_gone_by(due, [], since=due[0]) == tuple(due)
    assert days_gone_by(due, due, since=due[0]) == ()


def test_days_back_end_with_the_day_itself() -> None:
    found = days_back(MONDAY, days=2)

    assert found == (date(2026, 11, 21), date(2026, 11, 22), MONDAY)
    assert days_back(MONDAY, days=0) == (MONDAY,)


@given(st.lists(st.integers(0, 200), max_size=6))
def test_the_mean_lies_between_the_least_and_the_most(counts: list[int]) -> None:
    found = reliability(stones(*counts), []).lately

    if counts:
        assert found.least_mg is not None
        assert found.most_mg is not None
        assert found.least_mg <= found.mean_mg <= found.most_mg
        assert found.missed == counts.count(0)
    assert found.total_mg == sum(counts) * 42_000
