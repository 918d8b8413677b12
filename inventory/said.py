"""Whether what an entry says can be kept at all: its words, its numbers and its moments.

The tables hold the same bounds; here they are said in a sentence before anything is written.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, is_dataclass
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError
from django.db import models

from inventory.errors import NotKept, NoZone
from inventory.models.fields import DecimalText, FractionText
from inventory.science.saying import joined, say

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
SIZES: dict[type[models.Field[Any, Any]], tuple[int, int]] = {
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
        _look(name, value)


def check_entry(entry: object, at: object) -> None:
    """Refuse an entry without an id of its own or without a moment."""
    if not isinstance(entry, UUID):
        raise NotKept("entry", entry, "is no id", say("Make a UUID for it."))
    check_at(at)


def check_at(at: object) -> None:
    """Refuse what is no moment at all."""
    if not isinstance(at, datetime):
        raise NotKept("at", at, "is no moment", say("Give day, time and zone."))


def check_row(row: models.Model) -> None:
    """Refuse a row of which a column does not hold what it says.

    Raises
    ------
    NotKept
        With the column in words, what was said and what it holds.
    """
    held = row.__dict__
    for column in _columns(type(row)):
        value = held.get(column.name)
        if value is not None:
            column.check(column, value)
        elif not column.empty:
            raise NotKept(column.what, "nothing", "is said", "Say it.")


@dataclass(frozen=True, slots=True)
class _Column:
    """What a column holds; looked up once, as a draw is a matter of microseconds."""

    name: str
    what: str  # in words
    check: Callable[[_Column, Any], None]
    empty: bool  # whether nothing may be said
    never_blank: bool
    most: int | None  # characters
    known: tuple[str, ...]
    low: int
    high: int


@cache
def _columns(model: type[models.Model]) -> tuple[_Column, ...]:
    fields = [field for field in model._meta.concrete_fields if not field.primary_key]
    return tuple(
        _column(model, field, check)
        for field in fields
        if not field.is_relation and (check := _check_of(field)) is not None
    )


def _column(
    model: type[models.Model], field: models.Field[Any, Any], check: Callable[[_Column, Any], None]
) -> _Column:
    low, high = BOUNDS.get(field.name) or SIZES.get(type(field)) or (-MOST, MOST)
    return _Column(
        name=field.attname,
        what=say(
            "{verbose_name} {field_verbose_name}",
            verbose_name=model._meta.verbose_name,
            field_verbose_name=field.verbose_name,
        ),
        check=check,
        empty=field.null,
        never_blank=field.name in NEVER_EMPTY and not field.blank,
        most=field.max_length,
        known=tuple(str(key) for key, _ in field.flatchoices),
        low=low,
        high=high,
    )


def _check_of(field: models.Field[Any, Any]) -> Callable[[_Column, Any], None] | None:
    if isinstance(field, DecimalText | FractionText):
        return lambda column, value: _check_number(column, _exact(column, field, value))
    if isinstance(field, models.CharField):
        return _check_text
    if isinstance(field, models.IntegerField):
        return _check_whole
    return _check_number if isinstance(field, models.FloatField) else None


def _look(name: str, value: Any) -> None:
    """Look at a value, or at each value inside it, under the name it goes by."""
    if value is None or isinstance(value, int):
        return
    if isinstance(value, str):
        _check_words(name, value)
    elif isinstance(value, datetime):
        _check_moment(name, value)
    elif isinstance(value, list | tuple):
        for inner in value:
            _look(name, inner)
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            _look(name, key)
            _look(str(key), inner)
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            _look(field.name, getattr(value, field.name))


def _check_words(what: str, text: str) -> None:
    if text.isprintable():
        return
    for sign in text:
        if unicodedata.category(sign) in UNSEEN and sign not in LINES:
            note = say("holds U+{sign:04X}, which cannot be seen or kept", sign=ord(sign))
            raise NotKept(what.replace("_", " "), text, note, say("Leave it out."))


def _check_moment(what: str, at: datetime) -> None:
    if at.tzinfo is None:
        raise NoZone(at)
    if not FIRST_YEAR < at.year < LAST_YEAR:
        note = say(
            "lies outside the years {first_year} to {last_year}",
            first_year=FIRST_YEAR + 1,
            last_year=LAST_YEAR - 1,
        )
        shown = say("{at:%d %B} {year}", at=at, year=at.year)
        raise NotKept(what.replace("_", " "), shown, note, say("Look at the date again."))


def _check_text(column: _Column, value: object) -> None:
    what, most, known = column.what, column.most, column.known
    if not isinstance(value, str):
        raise NotKept(what, value, "is no text", say("Say it in words."))
    if column.never_blank and not value.strip():
        raise NotKept(what, value, "is empty", "Say it.")
    if most is not None and len(value) > most:
        raise NotKept(
            what,
            value,
            say("has {count:,} characters", count=len(value)),
            say("Say it in at most {most}.", most=most),
        )
    if known and value and value not in known:
        raise NotKept(
            what,
            value,
            say("is not known here"),
            say("Say one of: {known}.", known=joined(", ", known)),
        )


def _check_whole(column: _Column, value: object) -> None:
    low, high = column.low, column.high
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        wanted = say("Give a whole number from {low:,} to {high:,}.", low=low, high=high)
        raise NotKept(column.what, value, "cannot be", wanted)


def _check_number(column: _Column, value: object) -> None:
    low, high = column.low, column.high
    known = isinstance(value, int | float | Decimal | Fraction) and not isinstance(value, bool)
    # What is no number is neither above nor below any.
    if not known or not low <= value <= high:  # type: ignore[operator]
        wanted = say("Give a number from {low:,} to {high:,}.", low=low, high=high)
        raise NotKept(column.what, value, "cannot be", wanted)


def _exact(column: _Column, field: models.Field[Any, Any], value: object) -> object:
    try:
        return field.to_python(value)
    except (ValidationError, ValueError, TypeError, ArithmeticError):
        raise NotKept(column.what, value, "is no number", "Give one.") from None
