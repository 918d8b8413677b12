"""A studio's own figure: the unit that stands behind it against the one that its rule asks for."""

from __future__ import annotations

from decimal import Decimal
from functools import cache

from inventory.science.catalogue import shipped
from sourcing.notebook.problem import Unclear
from sourcing.notebook.quantities import FigureOf
from sourcing.notebook.saying import say

HUNDREDTH, THOUSANDTH = Decimal("0.01"), Decimal("0.001")
FIVE_NINTHS = Decimal(5) / 9
OUNCE_G = Decimal("28.349523125")  # exact: a sixteenth of 453.59237 g
FREEZING_F = 32
# The last words of a rule, the units that may stand behind its figure, and what each is worth.
UNITS: tuple[tuple[str, dict[str, Decimal]], ...] = (
    ("_kwh", {"kwh": Decimal(1)}),
    ("_fraction", {"%": HUNDREDTH}),
    ("_percent", {"%": Decimal(1)}),
    ("_days", {"d": Decimal(1), "day": Decimal(1), "days": Decimal(1), "weeks": Decimal(7)}),
    ("_months", {"month": Decimal(1), "months": Decimal(1)}),
    ("_min", {"min": Decimal(1), "h": Decimal(60)}),
    ("_h", {"h": Decimal(1), "hours": Decimal(1), "d": Decimal(24)}),
    ("_g", {"g": Decimal(1), "kg": Decimal(1000), "oz": OUNCE_G, "lb": 16 * OUNCE_G}),
    ("_l", {"l": Decimal(1)}),
    ("_l_per_kg", {"l per kg": Decimal(1), "l/kg": Decimal(1)}),
    ("_c", {"°c": Decimal(1), "c": Decimal(1), "°f": FIVE_NINTHS}),
    (
        "_k",
        {"°c": Decimal(1), "c": Decimal(1), "k": Decimal(1), "°f": FIVE_NINTHS},
    ),  # a rise or fall in warmth
)
SHOWN = {"_kwh": "kWh", "_percent": "%", "_fraction": "%", "_days": "d", "_months": "months",
         "_min": "min", "_h": "h", "_g": "g", "_l": "L", "_c": "°C",
         "_l_per_kg": "L per kg", "_k": "°C"}  # fmt: skip
CUSTOMARY = ("°f", "oz", "lb")  # turned into what a figure is kept in, to its thousandth
PLAIN = ("_price_per_kwh", "_price_per_kg", "_rate_per_h", "_cools_per_h")


@cache
def known_rules() -> frozenset[str]:
    """The names of all figures that a sum asks for."""
    return frozenset(row.name for row in shipped().rows)


def value_of(rule: str, figure: FigureOf) -> Decimal:
    """The figure in the unit of its rule."""
    if not figure.unit:
        return figure.value
    end, units = _units(rule)
    unit = figure.unit.casefold().replace("° ", "°")
    worth = units.get(unit)
    if worth is None:
        names = " or ".join(dict.fromkeys(SHOWN[end] for end in SHOWN if units is _of(end)))
        wanted = (
            say("Write it in {names}.", names=names) if names else say("Write the number alone.")
        )
        raise Unclear(
            say("The rule is not counted in {unit}. {wanted}", unit=figure.unit, wanted=wanted)
        )
    value = figure.value - FREEZING_F if end == "_c" and unit == "°f" else figure.value
    return (value * worth).quantize(THOUSANDTH).normalize() if unit in CUSTOMARY else value * worth


def figure_of(rule: str, value: Decimal) -> FigureOf:
    """A figure as a notebook shows it: with its unit, a fraction in percent."""
    end, _ = _units(rule)
    if end == "_fraction":
        value = (value / HUNDREDTH).normalize()
    return FigureOf(value, SHOWN[end] if end else "")


def _units(rule: str) -> tuple[str, dict[str, Decimal]]:
    if rule.endswith(PLAIN) or f"_{rule}".endswith(PLAIN):
        return "", {}
    for end, units in UNITS:
        if rule.endswith(end):
            return end, units
    return "", {}


def _of(end: str) -> dict[str, Decimal]:
    return next(units for name, units in UNITS if name == end)
