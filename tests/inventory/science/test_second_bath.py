"""Worked by hand: 2,000 g in 60 L leave half a shade; what that colours, and how many baths."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science.figures import Figure, Figures
from inventory.science.second_bath import (
    baths_at_most,
    cloth_for,
    left_in,
    litres_per_kg,
    strength_of,
)
from inventory.science.unclear import OutOfRange

MONDAY = date(2026, 11, 23)
SHIPPED = Figures()
SHARES = st.fractions(min_value=Fraction(1, 100), max_value=1)


def own(name: str, value: str, item: str = "studio") -> Figures:
    return Figures((Figure(item, name, Decimal(value), own=True),))


def test_strengths_fall_from_bath_to_bath() -> None:
    found = [strength_of(number, SHIPPED, on=MONDAY)[0] for number in range(1, 6)]

    # 100, 50, 30 %, then as 30 to 50: 18 and 10.8 %.
    assert found == [1, Fraction(1, 2), Fraction(3, 10), Fraction(18, 100), Fraction(108, 1000)]


def test_the_studio_s_own_strength_counts_and_is_named() -> None:
    share, found = strength_of(2, own("second_bath_strength_fraction", "0.6"), on=MONDAY)

    assert share == Fraction(3, 5)
    assert found is not None
    assert found.own


def test_a_bath_before_the_first_is_refused() -> None:
    with pytest.raises(OutOfRange):
        strength_of(0, SHIPPED, on=MONDAY)


def test_each_bath_leaves_a_share_of_its_own_shade() -> None:
    assert left_in(1, SHIPPED, on=MONDAY)[0] == Fraction(1, 2)
    assert left_in(2, SHIPPED, on=MONDAY)[0] == Fraction(3, 5)


def test_a_studio_whose_second_bath_gives_nothing_leaves_nothing() -> None:
    figures = own("second_bath_strength_fraction", "0")

    assert left_in(1, figures, on=MONDAY)[0] == 0
    assert left_in(2, figures, on=MONDAY)[0] == 0


def test_paler_cloth_wants_fewer_litres_of_the_bath() -> None:
    half = Fraction(1, 2)

    # 1 kg at 40 % of a bath of 30 L a kilo that leaves 50 %: 30 x 0.4 / 0.5 = 24 L.
    assert litres_per_kg(Fraction(30), strength=Fraction(2, 5), left=half) == 24
    assert litres_per_kg(Fraction(30), strength=Fraction(7, 10), left=half) == 42


def test_how_much_cloth_a_bath_colours_is_what_its_litres_are_enough_for() -> None:
    # 2,000 g x 0.5 / 0.4 = 2,500 g; 60 L are 24 L each for 2.5 kg.
    strength, left = Fraction(2, 5), Fraction(1, 2)

    assert cloth_for(2_000_000, strength=strength, left=left) == 2_500_000
    assert litres_per_kg(Fraction(30), strength=strength, left=left) * Fraction(5, 2) == 60


@given(st.integers(1, 10_000_000), st.fractions(min_value=1, max_value=100), SHARES, SHARES)
def test_no_cloth_asks_for_more_than_the_bath_holds(
    first_mg: int, ratio: Fraction, strength: Fraction, left: Fraction
) -> None:
    cloth = cloth_for(first_mg, strength=strength, left=left)
    each = litres_per_kg(ratio, strength=strength, left=left)

    assert cloth * each <= first_mg * ratio < (cloth + 1) * each


@pytest.mark.parametrize(("strength", "left"), [("0", "1/2"), ("1/2", "0"), ("11/10", "1/2")])
def test_shares_outside_their_range_are_refused(strength: str, left: str) -> None:
    with pytest.raises(OutOfRange):
        litres_per_kg(Fraction(30), strength=Fraction(strength), left=Fraction(left))
    with pytest.raises(OutOfRange):
        cloth_for(1, strength=Fraction(strength), left=Fraction(left))


def test_a_ratio_or_a_weight_of_less_than_nothing_is_refused() -> None:
    with pytest.raises(OutOfRange):
        litres_per_kg(Fraction(0), strength=Fraction(1, 2), left=Fraction(1, 2))
    with pytest.raises(OutOfRange):
        cloth_for(-1, strength=Fraction(1, 2), left=Fraction(1, 2))


def test_the_dyestuff_with_the_fewest_baths_says_how_many_there_are() -> None:
    found = baths_at_most(["madder", "onion skins"], SHIPPED, on=MONDAY)

    assert found is not None
    assert (found.item, found.value) == ("onion skins", 2)
    assert baths_at_most([], SHIPPED, on=MONDAY) is None


def test_a_dyestuff_that_nobody_knows_gives_as_many_as_any() -> None:
    found = baths_at_most(["lichen of the wall"], SHIPPED, on=MONDAY)

    assert found is not None
    assert (found.item, found.value) == ("any dyestuff", 2)


def test_the_studio_s_own_count_stands_above_the_shipped_one() -> None:
    found = baths_at_most(["madder"], own("exhaust_baths", "5", "madder"), on=MONDAY)

    assert found is not None
    assert found.value == 5
