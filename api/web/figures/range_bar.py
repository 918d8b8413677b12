"""A small drawing of a range: a thread from low to high, a knot at the typical figure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

LONG = 100.0  # every bar is drawn this long, and stretched to its room
INSET = 4.0  # so that a knot at either end is whole


@dataclass(frozen=True, slots=True)
class RangeBar:
    """Where a range lies between the lowest and the highest figure that anybody gives."""

    start: float  # INSET to LONG - INSET
    width: float
    knot: float | None  # the typical figure; None where none is given


def range_bar(
    numbers: Iterable[Decimal], *, typical: Decimal | None, low: Decimal, high: Decimal
) -> RangeBar:
    """The bar of one source on the scale of all.

    Parameters
    ----------
    numbers : low, typical and high of the source, as far as known; at least one
    low, high : ends of the scale; what lies on one point only is drawn in the middle
    """
    values = sorted(numbers)
    start, end = _x(values[0], low, high), _x(values[-1], low, high)
    knot = None if typical is None else _x(typical, low, high)
    return RangeBar(start, round(end - start, 1), knot)


def _x(value: Decimal, low: Decimal, high: Decimal) -> float:
    part = 0.5 if high == low else float((value - low) / (high - low))
    return round(INSET + part * (LONG - 2 * INSET), 1)
