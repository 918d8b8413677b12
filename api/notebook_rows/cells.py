"""Cells of a notebook in JSON: an amount with its unit, a list, yes or no; else the text.

What goes out comes in again as the same cell, so a row may be read, changed in one member and
written back.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from inventory.science.saying import say
from sourcing.notebook.moments import write_clock
from sourcing.notebook.page import Column, Value
from sourcing.notebook.quantities import Counted, FigureOf, Long, Weighed
from sourcing.week.words import decimal_string, exact

Json = dict[str, object]
WRITE = "Write a text as people write it, true or false, a whole number, an amount with its unit, "
MOST_IN_LIST = 100


class CellUnreadable(ValueError):
    """A member that is of no kind that a cell could be."""


def cell_as_json(column: Column, value: Value, cell: str, zone: ZoneInfo) -> object:
    """What a cell says, for programs; null where it is empty.

    Parameters
    ----------
    value : as it was read
    cell : as a notebook writes it, for what has no plainer form
    """
    if value is None or cell == "":
        return None
    form = FORMS.get(column.kind)
    if form is not None:
        return form(value)
    if isinstance(value, datetime):
        return value.astimezone(zone).isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if column.kind in LISTS:
        return cell.split(", ")
    return value if isinstance(value, bool) or column.kind == "whole" else cell


def cell_from_json(said: object) -> str:
    """A member as the cell that it stands for.

    Raises
    ------
    CellUnreadable
        With a sentence, if it cannot be one.
    """
    if said is None:
        return ""
    if isinstance(said, bool):
        return "yes" if said else "no"
    if isinstance(said, str | int):
        return str(said)
    if isinstance(said, list) and len(said) <= MOST_IN_LIST and _are_texts(said):
        return ", ".join(said)
    if isinstance(said, dict) and set(said) == {"amount", "unit"} and _are_texts(said.values()):
        return f"{said['amount']} {said['unit']}".strip()
    raise CellUnreadable(
        say(
            "{write}or a list of at most {most_in_list} texts.",
            write=WRITE,
            most_in_list=MOST_IN_LIST,
        )
    )


def _are_texts(parts: Iterable[object]) -> bool:
    return all(isinstance(part, str) for part in parts)


def _amount(number: Decimal | int, unit: str) -> Json:
    return {"amount": decimal_string(Decimal(number)), "unit": unit}


def _exact(number: int, unit: str) -> Json:
    amount, said = exact(number, unit)
    return {"amount": amount, "unit": said}


def _material(value: Any) -> Json:
    """A weight, so many pieces, or a length of cloth."""
    if isinstance(value, Counted):
        return _amount(value.pieces, value.word)
    if isinstance(value, Long):
        return _amount(Decimal(value.mm) / 1000, "m")
    return _exact(value.mg if isinstance(value, Weighed) else value, "mg")


def _figure(value: FigureOf) -> Json:
    return _amount(value.value, value.unit)


FORMS: dict[str, Callable[[Any], object]] = {
    **dict.fromkeys(("weight", "weight or count", "weight or length"), _material),
    "volume": lambda value: _exact(value, "µL"),
    "length": lambda value: _amount(Decimal(value) / 1000, "m"),
    "per m2": lambda value: _amount(value, "g per m²"),
    "grams per litre": lambda value: _amount(value, "g per L"),
    "power": lambda value: _amount(value, "W"),
    "warmth": lambda value: _amount(value, "°C"),
    "percent": lambda value: _amount(value, "%"),
    "minutes": lambda value: _amount(value, "min"),
    "days long": lambda value: _amount(value, "d"),
    "figure": _figure,
    "number": decimal_string,
    "clock": write_clock,
}
LISTS = ("codes", "choices", "days", "weekdays", "weekdays or days")
