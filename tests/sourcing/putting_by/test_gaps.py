"""Gaps: closings, windows and seasons, both sides of each."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sourcing.forecast.facts import Stream
from sourcing.putting_by.gaps import gaps_of, season_in_words, season_of
from tests.sourcing.putting_by.olive import HEDGE

TODAY = date(2026, 11, 23)
CAFE = Stream(
    "Lantern Steps café",
    "avocado stones",
    (0, 3),
    closed=((date(2026, 12, 24), date(2027, 1, 4)),),
    promised_pieces=50,
)


def spans(*streams: Stream, at_least: int = 7) -> list[tuple[date, date | None]]:
    return [(row.since, row.until) for row in
            gaps_of(streams, today=TODAY, at_least_days=at_least)]  # fmt: skip


def test_a_café_that_shuts_over_christmas_leaves_a_gap_of_twelve_days() -> None:
    assert spans(CAFE) == [(date(2026, 12, 24), date(2027, 1, 5))]
    assert gaps_of([CAFE], today=TODAY, at_least_days=7)[0].why == (
        "Lantern Steps café: closed till Mon 4 Jan 2027"
    )


def test_a_gap_just_long_enough_counts_and_one_a_day_shorter_does_not() -> None:
    assert spans(CAFE, at_least=12) == [(date(2026, 12, 24), date(2027, 1, 5))]
    assert spans(CAFE, at_least=13) == []


def test_a_second_source_that_is_open_closes_the_gap() -> None:
    other = replace(CAFE, source="Two Bells", closed=())

    assert spans(CAFE, other) == []


def test_a_source_that_gives_all_year_has_no_gap() -> None:
    assert spans(replace(CAFE, closed=())) == []


def test_a_window_not_open_yet_is_a_gap_from_today() -> None:
    assert spans(replace(HEDGE, since=date(2026, 12, 15)))[0] == (TODAY, date(2026, 12, 15))


def test_a_window_that_closes_in_the_season_waits_for_the_next_one() -> None:
    assert spans(replace(HEDGE, last_on=date(2026, 12, 31)), at_least=30) == [
        (date(2027, 1, 1), date(2027, 9, 1))
    ]


def test_a_source_whose_agreement_ends_leaves_a_gap_without_end() -> None:
    assert spans(replace(CAFE, closed=(), last_on=date(2027, 2, 1))) == [(date(2027, 2, 2), None)]


def test_a_plant_is_out_of_season_though_its_window_is_open() -> None:
    open_all_year = replace(HEDGE, days=(4,), since=None, last_on=None)

    assert spans(open_all_year)[0] == (date(2027, 3, 1), date(2027, 9, 1))


def test_seasons_are_read_from_the_catalogue() -> None:
    """The catalogue's own rows: nettle March to June, privet September to February."""
    assert season_of("nettle") == {3, 4, 5, 6}
    assert season_of("privet") == {9, 10, 11, 12, 1, 2}
    assert len(season_of("a plant that nobody knows")) == 12


def test_a_season_is_said_over_the_turn_of_the_year() -> None:
    assert season_in_words(frozenset({12, 1})) == "Dec to Jan"
    assert season_in_words(frozenset({3})) == "Mar"
    assert season_in_words(frozenset({3, 4, 9})) == "Mar to Apr and Sep"


def test_a_gap_that_begins_within_a_year_is_told_to_its_end_and_a_later_one_not_at_all() -> None:
    forever = replace(HEDGE, days=(4,), since=None, last_on=None)
    last = TODAY.replace(year=2027)

    assert gaps_of([forever], today=TODAY, at_least_days=7)[-1].since <= last
    assert not gaps_of([forever], today=TODAY, at_least_days=7)[-1].anew
    assert spans(forever) == [(date(2027, 3, 1), date(2027, 9, 1))]
