"""Amounts written out for people and for the notebook."""

from fractions import Fraction

import pytest

from inventory.science.wording import (
    mass_for_people,
    volume_for_people,
    write_amount,
    write_count,
    write_fraction,
    write_volume,
)


@pytest.mark.parametrize(
    ("mg", "words"),
    [
        (0, "0 g"),
        (1, "1 mg"),
        (999, "999 mg"),
        (1000, "1 g"),
        (1500, "1.5 g"),
        (1234, "1,234 mg"),
        (992_233, "992,233 mg"),
        (2_436_000, "2,436 g"),
        (2_436_001, "2,436.001 g"),
        (99_999_000, "99,999 g"),
        (100_000_000, "100 kg"),
        (1_234_567_891, "1234.567891 kg"),
    ],
)
def test_a_weight_is_written_in_full(mg: int, words: str) -> None:
    assert write_amount(mg) == words


def test_a_weight_may_be_written_in_the_unit_asked_for() -> None:
    assert write_amount(1_500_000, unit="kg") == "1.5 kg"
    assert write_amount(250_000_000, unit="g") == "250,000 g"


@pytest.mark.parametrize(
    ("ul", "words"),
    [
        (0, "0 mL"),
        (5, "5 µL"),
        (1000, "1 mL"),
        (1234, "1,234 µL"),
        (900_000, "900 mL"),
        (999_990, "999.99 mL"),
        (1_000_000, "1 L"),
        (1_500_000, "1.5 L"),
        (36_000_000, "36 L"),
    ],
)
def test_a_volume_is_written_in_full(ul: int, words: str) -> None:
    assert write_volume(ul) == words


@pytest.mark.parametrize(
    ("number", "noun", "words"),
    [
        (0, "stone", "0 stones"),
        (1, "stone", "1 stone"),
        (1500, "stone", "1,500 stones"),
        (Fraction(1, 2), "bucket", "½ bucket"),
        (Fraction(9, 4), "box", "2¼ boxes"),
    ],
)
def test_a_count_is_written_with_its_noun(number: Fraction | int, noun: str, words: str) -> None:
    assert write_count(number, noun) == words


@pytest.mark.parametrize(
    ("number", "words"), [("2.3", "2.3"), ("9/7", "1 2/7"), ("2/7", "2/7"), ("8/3", "2⅔")]
)
def test_a_fraction_is_written_as_people_write_it(number: str, words: str) -> None:
    assert write_fraction(Fraction(number)) == words


@pytest.mark.parametrize(
    ("mg", "words"),
    [(10_499, "10 g"), (10_500, "10 g"), (11_500, "12 g"), (9_994, "9.99 g"), (99, "99 mg")],
)
def test_a_weight_is_said_to_the_gram_or_finer_below_ten(mg: int, words: str) -> None:
    assert mass_for_people(mg) == words


@pytest.mark.parametrize(
    ("ul", "words"), [(2_841_306, "2.841 L"), (227_305, "227 mL"), (4_929, "4.93 mL")]
)
def test_a_volume_is_said_to_the_millilitre_or_finer_below_ten(ul: int, words: str) -> None:
    assert volume_for_people(ul) == words
