"""Whether what an entry says can be kept at all: its words, its numbers and its moments.

The tables hold the same bounds; here they are said in a sentence before anything is written.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError
from django.db import models

from inventory.errors import NotKept, NoZone
from inventory.models.fields import DecimalText, FractionText

FIRST_YEAR, LAST_YEAR = 1900, 2199
MOST = 10**12  # mg or µL: a thousand tonnes or a thousand cubic metres
UNSEEN = ("Cc", "Cs")  # Unicode's control characters, and half a pair of what is written in two
# A jar that was found on the shelf may have neither name nor metal.
NEVER_EMPTY = ("code", "what", "kind", "state", "place_kind", "form")
LINES = "\n\r\t"
# What cannot be, whoever measured it; the figures that sums use stand in science/tables.
BOUNDS: dict[str, tuple[int, int]] = {
    "acid_percent": (0, 100),
    "mordant_percent": (0, 100),
    "iron_percent": (0, 100),
    "vinegar_parts": (0, 1000),
    "water_parts": (0, 1000),
    "temperature_c": (-60, 110),
    "metal_mg_per_l": (0, 1_000_000),
    "grade": (1, 5),
}
SIZES = {
    models.PositiveSmallIntegerField: (0, 32_767),
    models.PositiveIntegerField: (0, 2_147_483_647),
    models.PositiveBigIntegerField: (0, MOST),
    models.BigIntegerField: (-MOST, MOST),
}


def check_said(said: Mapping[str, Any]) -> None:
    """Refuse words that nobody can see and moments without a place or out of all time.

    Parameters
    ----------
    said : name to value; texts, numbers, moments, ids, and collections or dataclasses of them

    Raises
    ------
    NoZone, NotKept
        The message names what was said and what to say instead.
    """
    for name, value in said.items():
        for what, one in _parts(name, value):
            if isinstance(one, str):
                _check_words(what, one)
            elif isinstance(one, datetime):
                _check_moment(what, one)


def check_entry(entry: object, at: object) -> None:
    """Refuse an entry without an id of its own or without a moment."""
    if not isinstance(entry, UUID):
        raise NotKept("entry", entry, "is no id", "Make a UUID for it.")
    check_at(at)


def check_at(at: object) -> None:
    """Refuse what is no moment at all."""
    if not isinstance(at, datetime):
        raise NotKept("at", at, "is no moment", "Give day, time and zone.")


def check_row(row: models.Model) -> None:
    """Refuse a row of which a column does not hold what it says.

    Raises
    ------
    NotKept
        With the column in words, what was said and what it holds.
    """
    for field in row._meta.concrete_fields:
        value = row.__dict__.get(field.attname)
        if field.primary_key or field.is_relation:
            continue
        what = f"{row._meta.verbose_name} {field.verbose_name}"
        if value is None:
            if not field.null:
                raise NotKept(what, "nothing", "is said", "Say it.")
        elif isinstance(field, DecimalText | FractionText):
            _check_number(what, field, _exact(what, field, value))
        elif isinstance(field, models.CharField):
            _check_text(what, field, value)
        elif isinstance(field, models.IntegerField):
            _check_whole(what, field, value)
        elif isinstance(field, models.FloatField):
            _check_number(what, field, value)


def _parts(name: str, value: Any) -> Iterator[tuple[str, Any]]:
    """A value, or each value inside it, with the name it goes by."""
    if isinstance(value, Mapping):
        for key, inner in value.items():
            yield name, key
            yield from _parts(str(key), inner)
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            yield from _parts(field.name, getattr(value, field.name))
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from _parts(name, inner)
    else:
        yield name.replace("_", " "), value


def _check_words(what: str, text: str) -> None:
    for sign in text:
        if unicodedata.category(sign) in UNSEEN and sign not in LINES:
            note = f"holds U+{ord(sign):04X}, which cannot be seen or kept"
            raise NotKept(what, text, note, "Leave it out.")


def _check_moment(what: str, at: datetime) -> None:
    if at.tzinfo is None:
        raise NoZone(at)
    if not FIRST_YEAR < at.year < LAST_YEAR:
        note = f"lies outside the years {FIRST_YEAR + 1} to {LAST_YEAR - 1}"
        raise NotKept(what, f"{at:%d %B} {at.year}", note, "Look at the date again.")


def _check_text(what: str, field: models.Field[Any, Any], value: object) -> None:
    if not isinstance(value, str):
        raise NotKept(what, value, "is no text", "Say it in words.")
    if field.name in NEVER_EMPTY and not field.blank and not value.strip():
        raise NotKept(what, value, "is empty", "Say it.")
    most = field.max_length
    if most is not None and len(value) > most:
        raise NotKept(what, value, f"has {len(value):,} characters", f"Say it in at most {most}.")
    known = [key for key, _ in field.flatchoices]
    if known and value and value not in known:
        raise NotKept(what, value, "is not known here", f"Say one of: {', '.join(known)}.")


def _check_whole(what: str, field: models.Field[Any, Any], value: object) -> None:
    low, high = BOUNDS.get(field.name) or _size(field)
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise NotKept(what, value, "cannot be", f"Give a whole number from {low:,} to {high:,}.")


def _check_number(what: str, field: models.Field[Any, Any], value: object) -> None:
    low, high = BOUNDS.get(field.name, (-MOST, MOST))
    known = isinstance(value, int | float | Decimal | Fraction) and not isinstance(value, bool)
    # What is no number is neither above nor below any.
    if not known or not low <= value <= high:  # type: ignore[operator]
        raise NotKept(what, value, "cannot be", f"Give a number from {low:,} to {high:,}.")


def _exact(what: str, field: models.Field[Any, Any], value: object) -> object:
    try:
        return field.to_python(value)
    except (ValidationError, ValueError, TypeError, ArithmeticError):
        raise NotKept(what, value, "is no number", "Give one.") from None


def _size(field: models.Field[Any, Any]) -> tuple[int, int]:
    return next((size for kind, size in SIZES.items() if type(field) is kind), (-MOST, MOST))
