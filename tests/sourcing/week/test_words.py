"""Amounts, days and pieces as they are said: both sides of every rounding."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from sourcing.week.words import (
    day_within,
    exact,
    grams,
    listed,
    money,
    pieces,
    pieces_short,
    pieces_spare,
    volume,
)

STONE_MG = Fraction(42_000)
MONDAY = date(2026, 11, 23)


@pytest.mark.parametrize(
    ("mg", "said"),
    [
        (0, "0 g"),
        (9_940, "9.9 g"),
        (10_000, "10 g"),
        (10_499, "10 g"),
        (10_500, "11 g"),
        (1_234_567_000, "1,234,567 g"),
    ],
)
def test_grams_are_whole_from_ten_on(mg: int, said: str) -> None:
    assert grams(mg) == said


@pytest.mark.parametrize(
    ("ul", "said"), [(999_000, "999 mL"), (1_000_000, "1 L"), (7_250_000, "7.3 L")]
)
def test_a_volume_is_said_in_litres_from_one_on(ul: int, said: str) -> None:
    assert volume(ul) == said


@pytest.mark.parametrize(
    ("mg", "short", "spare"), [(0, 0, 0), (1, 1, 0), (42_000, 1, 1), (42_001, 2, 1), (83_999, 2, 1)]
)
def test_short_rounds_up_and_spare_rounds_down(mg: int, short: int, spare: int) -> None:
    assert (pieces_short(mg, STONE_MG), pieces_spare(mg, STONE_MG)) == (short, spare)


def test_pieces_go_by_the_last_word_of_the_name() -> None:
    assert [pieces(count, "avocado stones") for count in (0, 1, 2, 1234)] == [
        "0 stones",
        "1 stone",
        "2 stones",
        "1,234 stones",
    ]


@pytest.mark.parametrize("mg", [0, 1, 999, 1_000, 2_105_263, 10**15])
def test_an_exact_amount_says_every_milligram(mg: int) -> None:
    text, unit = exact(mg, "mg")

    assert unit == "g"
    assert Fraction(text) * 1000 == mg
    assert "E" not in text


def test_exact_volumes_change_their_unit_at_a_litre() -> None:
    assert exact(999_999, "µL") == ("999.999", "mL")
    assert exact(1_000_000, "µL") == ("1", "L")


def test_money_is_rounded_half_up_once() -> None:
    assert [money(Fraction(n, 1000)) for n in (4, 5, 14, 15, -5)] == [
        "0.00",
        "0.01",
        "0.01",
        "0.02",
        "-0.01",
    ]


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (date(2026, 11, 22), "Sun 22 Nov"),
        (date(2026, 11, 23), "today"),
        (date(2026, 11, 29), "Sun"),
        (date(2026, 11, 30), "Mon 30 Nov"),
    ],
)
def test_a_weekday_stands_alone_within_the_week(day: date, said: str) -> None:
    assert day_within(day, MONDAY) == said


def test_words_in_a_row_end_with_and() -> None:
    assert [listed(words) for words in ((), ("a",), ("a", "b"), ("a", "b", "c"))] == [
        "",
        "a",
        "a and b",
        "a, b and c",
    ]
