"""What an error carries, under stable names and in forms that JSON has."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from sourcing.week.words import decimal_string, exact

# Members that every problem has; what an error carries under such a name stays in its sentence.
FIXED = frozenset({"type", "title", "status", "detail", "code", "at", "errors", "instance"})
AMOUNTS = frozenset(
    {"asked", "left", "short", "claimed", "spare", "back", "taken", "made", "lost", "gap"}
)
UNITS = {"mg": "mg", "µL": "ul"}


def values_of(error: Exception) -> dict[str, object]:
    """The values of an error: amounts as they are said, and beside that as whole mg or µL."""
    found: dict[str, object] = {}
    unit = getattr(error, "unit", None)
    for name, value in vars(error).items():
        if name in FIXED or name.startswith("_"):
            continue
        if unit in UNITS and name in AMOUNTS and isinstance(value, int):
            found |= _amount(name, value, unit)
        elif _has_a_form(value):
            found[name] = _formed(value)
    return found


def _amount(name: str, number: int, unit: str) -> dict[str, object]:
    amount, said = exact(number, unit)
    return {name: {"amount": amount, "unit": said}, f"{name}_{UNITS[unit]}": number}


def _has_a_form(value: object) -> bool:
    if isinstance(value, tuple):
        return all(_has_a_form(each) for each in value)
    return isinstance(value, str | int | Decimal | UUID | date)


def _formed(value: object) -> object:
    if isinstance(value, tuple):
        return [_formed(each) for each in value]
    if isinstance(value, datetime):
        return value.isoformat(timespec="seconds")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Decimal):
        return decimal_string(value)
    return value if isinstance(value, int) else str(value)
