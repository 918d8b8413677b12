"""How a studio writes amounts: which pint, and whether a point may group thousands."""

from __future__ import annotations

import pytest

from inventory.science.custom import Custom
from inventory.science.unclear import TwoReadings


@pytest.mark.parametrize(
    ("custom", "ul"),
    [
        (Custom("GB"), 568_261),
        (Custom("US"), 473_176),
        (Custom("GB", units="us"), 473_176),
        (Custom("US", units="imperial"), 568_261),
        (Custom("DE", units="us"), 473_176),
    ],
)
def test_the_units_of_a_studio_say_which_pint_before_its_country_does(
    custom: Custom, ul: int
) -> None:
    assert custom.amount("1 pt").ul == ul


@pytest.mark.parametrize("custom", [Custom("DE"), Custom("GB", point_groups=True)])
def test_a_point_before_three_digits_is_refused_where_it_may_group(custom: Custom) -> None:
    with pytest.raises(TwoReadings, match=r"may mean 1500 g or 1\.5 g"):
        custom.amount("1.500 g")
    with pytest.raises(TwoReadings, match=r"may mean 2350 or 2\.35"):
        custom.check_marks("2,350 mg/L")


@pytest.mark.parametrize("custom", [Custom("GB"), Custom("DE", point_groups=False)])
def test_a_point_is_the_decimal_mark_elsewhere(custom: Custom) -> None:
    assert custom.amount("1.500 g").mg == 1500
    custom.check_marks("1.500")


@pytest.mark.parametrize("plain", ["0.500", "12.5", "1500", "1.500.000", "0,125", "1500.250"])
def test_a_number_with_one_reading_passes_everywhere(plain: str) -> None:
    Custom("DE").check_marks(plain)


def test_a_metric_studio_is_offered_what_it_was_and_another_its_own_in_front() -> None:
    units = ("g", "kg", "mL")

    assert Custom("US").offered(units) == units
    assert Custom(units="imperial").offered(units) == (
        *("oz", "lb", "g", "kg", "fl oz", "pt", "gal", "mL"),
    )
