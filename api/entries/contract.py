"""The fields of an entry as the contract shows them, from the same fields that read it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rest_framework import serializers
from rest_framework.fields import empty

from api.contract.shapes import (
    COUNT,
    DAY,
    MOMENT,
    TEXT,
    UUID,
    WHOLE,
    YES,
    Shape,
    about,
    maybe,
    named,
    one_of,
    record,
    ref,
    rows,
)
from api.entries.fields import LONGEST_AMOUNT, AmountOf, Clock, Day, LengthOf, Moment, Number
from api.models.entries import STATES

UNDERSTOOD = rows(record(pointer=TEXT, words=TEXT, amount=TEXT, unit=TEXT, understood=TEXT))
MOVED = rows(record(lot=TEXT, number=COUNT, change=ref("Amount"), left=ref("Amount")))
ENTRY: Shape = about(
    record(
        ("noun", "key", "values", "moved", "problem"),
        id=UUID,
        verb=TEXT,
        state=one_of(*STATES),
        occurred_at=about(MOMENT, "When it happened, as we take it."),
        said_at=about(MOMENT, "When it happened, by the clock of the device."),
        recorded_at=about(MOMENT, "When we wrote it down."),
        clock_off_s=about(maybe(WHOLE), "How far the device's clock is ahead, where it is far."),
        by=maybe(TEXT),
        noun=about(TEXT, "The list of records in which it is found again."),
        key=about(TEXT, "Under which code or name."),
        values=named({}),
        moved=about(MOVED, "What it did to each lot, and what was left then."),
        understood=about(UNDERSTOOD, "How each amount was understood."),
        problem=about(ref("Problem"), "Why it needs a look."),
    ),
    "What came of an entry: the same for ever, but for one that needed a look and was settled.",
)


def shape_of(field: Any) -> Shape:
    """The form of a field in JSON Schema."""
    shape = _shape(field)
    return about(shape, str(field.help_text)) if field.help_text else shape


def _shape(field: Any) -> Shape:
    if isinstance(field, AmountOf):
        return ref("AmountTaken")
    if isinstance(field, LengthOf):
        return {**TEXT, "minLength": 1, "maxLength": LONGEST_AMOUNT}
    if isinstance(field, Moment):
        return MOMENT
    if isinstance(field, Day):
        return DAY
    if isinstance(field, Clock):
        return {**TEXT, "pattern": "^([01][0-9]|2[0-3]):[0-5][0-9]$"}
    if isinstance(field, Number):
        return {"type": "string", "pattern": r"^-?[0-9]{1,12}(\.[0-9]{1,9})?$"}
    if isinstance(field, serializers.UUIDField):
        return UUID
    if isinstance(field, serializers.BooleanField):
        return YES
    if isinstance(field, serializers.IntegerField):
        return {**WHOLE, "minimum": field.min_value, "maximum": field.max_value}
    if isinstance(field, serializers.ChoiceField):
        return one_of(*field.choices)
    if isinstance(field, serializers.CharField):
        least = 0 if field.allow_blank else 1
        return {**TEXT, "minLength": least, "maxLength": field.max_length}
    if isinstance(field, serializers.ListField):
        return {
            "type": "array",
            "items": shape_of(field.child),
            "minItems": field.min_length or 0,
            "maxItems": field.max_length,
        }
    if isinstance(field, serializers.DictField):
        return {"type": "object"}
    if isinstance(field, serializers.Serializer):
        return said_shape(field)
    raise TypeError(f"Nobody has said how {type(field).__name__} looks in the contract.")


def said_shape(said: serializers.Serializer[Any]) -> Shape:
    """An object of a body; nothing else may stand in it."""
    fields: Mapping[str, Any] = said.fields
    return {
        "type": "object",
        "properties": {name: shape_of(field) for name, field in fields.items()},
        "required": [name for name, field in fields.items() if _needed(field)],
        "additionalProperties": False,
    }


def _needed(field: Any) -> bool:
    return bool(field.required) and field.default is empty
