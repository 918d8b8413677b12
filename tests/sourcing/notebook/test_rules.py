"""A studio's own figure may be written in degrees Fahrenheit, ounces or pounds."""

from __future__ import annotations

from decimal import Decimal

import pytest

from sourcing.notebook.problem import Unclear
from sourcing.notebook.quantities import read_figure
from sourcing.notebook.rules import value_of


@pytest.mark.parametrize(
    ("rule", "text", "value"),
    [
        ("shed_c", "46.4 °F", "8"),
        ("shed_c", "-4 °F", "-20"),
        ("shed_c", "50 ° F", "10"),
        ("shed_c", "8 °C", "8"),
        ("felts_above_k", "27 °F", "15"),  # a fall of so many degrees, from wherever
        ("piece_mass_g", "1.5 oz", "42.524"),
        ("piece_mass_g", "2 lb", "907.185"),
    ],
)
def test_a_figure_is_turned_into_what_its_rule_is_kept_in(rule: str, text: str, value: str) -> None:
    assert value_of(rule, read_figure(text)) == Decimal(value)


def test_a_figure_in_another_kind_of_unit_is_refused() -> None:
    with pytest.raises(Unclear, match="Write it in °C"):
        value_of("shed_c", read_figure("8 oz"))
