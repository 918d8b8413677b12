"""Warmth, cloth and doses as people say them who weigh in pounds, beside pint's own."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science import customary
from inventory.science.custom import IMPERIAL, UNITS, US, Custom
from inventory.science.wording import liquor_dose, warmth

units = pint.UnitRegistry()
# pint's own names for what a gallon and a fluid ounce are in Britain.
GALLONS = {IMPERIAL: "imperial_gallon", US: "gallon"}
FLUID_OUNCES = {IMPERIAL: "imperial_fluid_ounce", US: "fluid_ounce"}
OURS = st.sampled_from([IMPERIAL, US])


def number(said: str) -> float:
    return float(said.split()[0].replace(",", ""))


@pytest.mark.parametrize(
    ("warmth_c", "words"),
    [(0, "32 °F"), (100, "212 °F"), (-40, "-40 °F"), (55, "131 °F"), (Decimal("82.2"), "180 °F")],
)
def test_a_warmth_is_said_in_whole_degrees(warmth_c: int | Decimal, words: str) -> None:
    assert customary.degrees_said(warmth_c, US) == words


def test_nothing_is_not_below_nothing() -> None:
    assert customary.degrees_said(Decimal("-17.8"), US) == "0 °F"  # -0.04 °F


@given(st.decimals(-40, 110, places=1))
def test_degrees_are_those_of_pint(warmth_c: Decimal) -> None:
    theirs = units.Quantity(float(warmth_c), "degC").to("degF").magnitude

    assert abs(number(customary.degrees_said(warmth_c, US)) - theirs) <= 0.5 + 1e-9


@given(st.integers(-40, 110))
def test_a_least_warmth_is_never_said_colder(warmth_c: int) -> None:
    assert number(customary.least_degrees_said(warmth_c, US)) >= warmth_c * 1.8 + 32 - 1e-9


@given(st.integers(915, 500_000))
def test_yards_are_those_of_pint(mm: int) -> None:
    theirs = units.Quantity(mm, "mm").to("yard").magnitude

    assert abs(number(customary.yards_said(mm, US)) - theirs) <= 0.05 + 1e-9


def test_less_than_a_yard_is_said_in_inches() -> None:
    assert customary.yards_said(914, US) == "36 in"
    assert customary.yards_said(915, US) == "1 yd"


@given(st.integers(10, 2_000))
def test_what_a_square_yard_weighs_is_what_pint_says(g_per_m2: int) -> None:
    theirs = units.Quantity(g_per_m2, "g/m**2").to("oz/yard**2").magnitude

    assert abs(number(customary.ounces_per_yard_said(g_per_m2, US)) - theirs) <= 0.05 + 1e-9


@given(st.integers(1, 4_000).map(lambda tenths: Decimal(tenths) / 10), OURS)
def test_a_dose_is_what_pint_says(ml: Decimal, whose: str) -> None:
    share = units.Quantity(float(ml) / 100, "mL/g")
    theirs = (share * units.Quantity(4, "oz")).to(FLUID_OUNCES[whose]).magnitude

    assert abs(number(customary.dose_said(ml, whose)) - theirs) <= 0.005 + 1e-9
    assert number(customary.most_of_dose_said(ml, whose)) <= theirs + 1e-9
    assert number(customary.most_of_dose_said(ml, whose)) > theirs - 0.01 - 1e-9


@given(st.fractions(1, 500, max_denominator=10), OURS)
def test_a_ratio_is_what_pint_says(l_per_kg: Fraction, whose: str) -> None:
    theirs = units.Quantity(float(l_per_kg), "L/kg").to(f"{GALLONS[whose]}/lb").magnitude

    assert abs(number(customary.ratio_said(l_per_kg, whose)) - theirs) <= 0.05 + 1e-9


def test_to_everything_else_they_stay_metric_text() -> None:
    assert warmth(82) == "82 °C"
    assert liquor_dose(Decimal("35")) == "35 mL"


def test_every_studio_is_offered_both_degrees_its_own_first() -> None:
    assert [Custom(units=one).degrees[0] for one in UNITS] == ["°C", "°F", "°F"]
    assert all(set(Custom(units=one).degrees) == {"°C", "°F"} for one in UNITS)
