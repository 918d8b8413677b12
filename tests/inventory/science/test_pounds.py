"""Weights and volumes in ounces, pounds, fluid ounces, pints and gallons, beside pint's own."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science.amounts import read_mass, read_volume
from inventory.science.pounds import gallons_said, pounds_said
from inventory.science.units import plain, quantity

OUNCE_MG = Fraction("28349.523125")  # a sixteenth of 0.45359237 kg


@pytest.mark.parametrize(
    ("mg", "words"),
    [
        (0, "0 oz"),
        (28_320, None),  # just short of an ounce
        (28_350, "1 oz"),
        (28_349, "1 oz"),  # to the thousandth
        (453_000_000, "998.7 lb"),
        (452_174, "15.9 oz"),
        (452_175, "1 lb"),  # 15.95 oz, halves up
        (4_535_923, "10 lb"),
        (992_233, "2 lb 3 oz"),
        (-240_000, "-8.5 oz"),
        (45_359_237, "100 lb"),
        (1_000_000_000, "2,204.6 lb"),
    ],
)
def test_a_weight_is_written_to_the_step_of_its_scale(mg: int, words: str | None) -> None:
    assert pounds_said(mg) == words


@pytest.mark.parametrize(
    ("ul", "imperial", "us"),
    [
        (28_413, "1 fl oz", None),  # a US fluid ounce is larger
        (568_261, "1 pt", "1 pt 3 fl oz"),
        (473_176, "16.7 fl oz", "1 pt"),
        (4_546_090, "1 gal", "1.2 gal"),
        (3_785_412, "6 pt 13 fl oz", "1 gal"),
        (0, "0 fl oz", "0 fl oz"),
        (-36_000_000, "-7.9 gal", "-9.5 gal"),
    ],
)
def test_a_volume_is_written_by_the_pint_of_the_studio(
    ul: int, imperial: str | None, us: str | None
) -> None:
    assert gallons_said(ul, "imperial") == imperial
    assert gallons_said(ul, "us") == us


def test_what_an_ounce_and_a_gallon_hold_is_what_pint_says() -> None:
    """pint's registry has the international pound and both gallons of its own."""
    assert plain(quantity(16, "ounce"), "mg") == Decimal("453592.37")
    assert plain(quantity(1, "imperial_gallon"), "microliter") == Decimal(4_546_090)
    assert gallons_said(int(plain(quantity(3, "imperial_gallon"), "microliter")), "imperial") == (
        "3 gal"
    )
    assert gallons_said(round(plain(quantity(3, "gallon"), "microliter")), "us") == "3 gal"
    assert pounds_said(round(plain(quantity(35, "ounce"), "mg"))) == "2 lb 3 oz"


@given(st.integers(min_value=28_350, max_value=2 * 10**9))
def test_what_is_written_reads_back_within_half_a_step(mg: int) -> None:
    words = pounds_said(mg)

    assert words is not None
    step = Fraction(1, 10) if mg < 160 * OUNCE_MG else 1 if mg < 1600 * OUNCE_MG else Fraction(8, 5)
    assert abs(read_mass(words) - mg) <= step * OUNCE_MG / 2 + 1


@given(st.integers(min_value=29_574, max_value=2 * 10**9), st.sampled_from(["GB", "US"]))
def test_a_volume_that_is_written_reads_back_within_half_a_step(ul: int, country: str) -> None:
    units = {"GB": "imperial", "US": "us"}[country]
    words = gallons_said(ul, units)

    assert words is not None
    tenth = bool(re.fullmatch(r"[\d.]+ fl oz", words))
    gallon_ul = Fraction("4546090") if country == "GB" else Fraction("3785411.784")
    ounce_ul = gallon_ul / (160 if country == "GB" else 128)
    step = gallon_ul / 10 if "gal" in words else ounce_ul / 10 if tenth else ounce_ul
    assert abs(read_volume(words, country=country) - ul) <= step / 2 + 1
