"""Metres beside kilos: how far an amount of measured cloth goes."""

from __future__ import annotations

from inventory.science.cloth import length_mm
from sourcing.week.facts import WeekFacts


def length_of(code: str, weight_mg: int, facts: WeekFacts) -> int | None:
    """Whole millimetres in a weight of a lot; None for what is no measured cloth."""
    for row in facts.shelf.fibre:
        if row.code == code and row.cloth is not None:
            return round(length_mm(weight_mg, row.cloth))
    return None
