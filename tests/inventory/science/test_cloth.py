"""Metres and grams of cloth, against printed relations of units and there and back again."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science.cloth import OUNCE_PER_SQUARE_YARD, ClothSize, length_mm, mass_mg, thinned
from inventory.science.unclear import OutOfRange

SHEETING = ClothSize(Decimal(180), 1500)
SIZES = st.builds(ClothSize, st.decimals(5, 2000, places=3), st.integers(10, 5000))


def test_an_ounce_on_a_square_yard_is_what_is_printed() -> None:
    # NIST SP 811 (2008), appendix B.8: ounce (avoirdupois) per square yard = 3.390 575 E-02 kg/m².
    assert float(OUNCE_PER_SQUARE_YARD) == pytest.approx(33.905_75, abs=5e-6)
    ounce = pint.UnitRegistry().Quantity(1, "ounce / yard ** 2")
    assert float(OUNCE_PER_SQUARE_YARD) == pytest.approx(ounce.to("g / m ** 2").magnitude)


@pytest.mark.parametrize(
    ("per_m2", "width_mm", "length", "grams"),
    [
        ("180", 1500, 12_000, 3240),  # 12 x 1.5 x 180
        ("1", 1000, 1000, None),
        ("150", 914, 914, Fraction("125.3094")),  # a yard of a yard, nearly: 0.914² x 150
        ("60", 900, 0, 0),
    ],
)
def test_mass_is_length_times_width_times_the_mass_of_a_square_metre(
    per_m2: str, width_mm: int, length: int, grams: int | Fraction | None
) -> None:
    if grams is None:
        with pytest.raises(OutOfRange, match="g_per_m2 is 1; it must be from 5 to 2000"):
            ClothSize(Decimal(per_m2), width_mm)
    else:
        assert mass_mg(length, ClothSize(Decimal(per_m2), width_mm)) == grams * 1000


def test_a_mass_by_pint_is_the_same() -> None:
    registry = pint.UnitRegistry()
    mass = 7.3 * registry.m * 140 * registry.cm * 215 * registry.g / registry.m**2

    size = ClothSize(Decimal(215), 1400)
    assert float(mass_mg(7300, size)) == pytest.approx(mass.to("mg").magnitude)


@given(st.integers(0, 10**8), SIZES)
def test_metres_there_and_back_are_the_same(length: int, size: ClothSize) -> None:
    assert length_mm(mass_mg(length, size), size) == length


@given(st.integers(1, 10**9), st.integers(1, 10**9), SIZES)
def test_cloth_that_lost_weight_keeps_its_metres(one: int, other: int, size: ClothSize) -> None:
    after, before = sorted((one, other))
    lighter = thinned(size, before_mg=before, after_mg=after)

    if lighter.g_per_m2 > 5:  # not held at the lightest cloth there is
        kept = float(length_mm(after, lighter))
        assert kept == pytest.approx(float(length_mm(before, size)), rel=1.1e-4)


@pytest.mark.parametrize(
    "call",
    [
        lambda: ClothSize(Decimal("4.9"), 1500),
        lambda: ClothSize(Decimal("2000.1"), 1500),
        lambda: ClothSize(Decimal(180), 9),
        lambda: ClothSize(Decimal(180), 5001),
        lambda: mass_mg(-1, SHEETING),
        lambda: length_mm(-1, SHEETING),
        lambda: thinned(SHEETING, before_mg=10, after_mg=11),
        lambda: thinned(SHEETING, before_mg=10, after_mg=0),
    ],
)
def test_what_lies_outside_its_range_is_refused(call: object) -> None:
    with pytest.raises(OutOfRange):
        call()  # type: ignore[operator]
