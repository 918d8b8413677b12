"""In which units all that is measured is written: as the studio of the page weighs and measures."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from inventory.science.custom import IMPERIAL, METRIC, US
from inventory.science.customary import WRITTEN
from inventory.science.pounds import gallons_said, pounds_said
from inventory.science.saying import Measured, Said

_units: ContextVar[str] = ContextVar("units", default="")


def set_units(units: str) -> None:
    """Write weights and volumes so from here on, till others are set; empty: metric."""
    _units.set(units)


def units_written() -> str:
    """The units that are written just now."""
    return _units.get() or METRIC


def are_metric() -> bool:
    """Whether everything stands in grams and litres as it was made."""
    return units_written() == METRIC


def written(said: Measured) -> Said | None:
    """A measure in the units of the studio; None where it stays metric."""
    units = units_written()
    if units != IMPERIAL and units != US:
        return None
    if said.kind in WRITTEN:
        return WRITTEN[said.kind](said.amount, units)
    if said.kind == "mg":
        return pounds_said(said.exact)
    return gallons_said(said.exact, units)


@contextmanager
def units_of(units: str) -> Iterator[None]:
    """Weights and volumes in units for as long as something is written."""
    before = _units.set(units)
    try:
        yield
    finally:
        _units.reset(before)
