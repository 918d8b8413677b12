"""The form of a what-if: each kind of change that may be asked, and what moved."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from api.contract.answers.week import ANSWERED, WEEK
from api.contract.shapes import (
    COUNT,
    DAYS_SHAPE,
    MOMENT,
    TEXT,
    YES,
    Shape,
    about,
    maybe,
    record,
    ref,
    rows,
    taken,
)
from api.entries.contract import shape_of
from api.what_if.kind import Kind
from api.what_if.kinds import KINDS
from sourcing.week.what_if import CHANGES_AT_MOST

EITHER = {"line room": ("more", "less")}  # of these fields one has to be said, and not both
BODY_EXAMPLE = {
    "at": "2026-11-23T07:30:00+00:00",
    "changes": [KINDS["line room"].example, KINDS["pick-up missed"].example],
}


def kind_shape(kind: Kind) -> Shape:
    """A change of one kind; nothing else may stand in it."""
    fields = kind.said().fields
    said: dict[str, object] = {
        "type": "object",
        "description": kind.says,
        "properties": {"change": {"const": kind.word}}
        | {name: _shape(field) for name, field in fields.items() if name != "change"},
        "required": [name for name, field in fields.items() if field.required],
        "additionalProperties": False,
        "examples": [kind.example],
    }
    if kind.word in EITHER:
        said["oneOf"] = [{"required": [name]} for name in EITHER[kind.word]]
    return said


def _shape(field: serializers.Field[Any, Any, Any, Any]) -> Shape:
    shape = shape_of(field)
    return maybe(shape) if field.allow_null else shape


KIND_SHAPES: dict[str, Shape] = {kind.name: kind_shape(kind) for kind in KINDS.values()}
CHANGE_TAKEN: Shape = {
    "oneOf": [ref(kind.name) for kind in KINDS.values()],
    "discriminator": {
        "propertyName": "change",
        "mapping": {word: f"#/components/schemas/{kind.name}" for word, kind in KINDS.items()},
    },
}
WHAT_IF_TAKEN = taken(
    ("at", "days", "compare"),
    at=about(MOMENT, "Seen from which moment; now, where it is left out."),
    days=DAYS_SHAPE,
    changes=rows(CHANGE_TAKEN, at_most=CHANGES_AT_MOST),
    compare=about({**YES, "default": True}, "Whether to say what moved."),
)
SHORT = record(what=TEXT, amount=ref("Amount"), pieces=maybe(COUNT))
SIDE = record(
    answer=ANSWERED,
    first_step_at=maybe(MOMENT),
    dry_at=maybe(MOMENT),
    late=about(YES, "Whether it would be dry after its due day."),
    short=rows(SHORT),
)
MOVED = record(
    run=TEXT,
    shade=TEXT,
    moved=YES,
    from_=about(maybe(SIDE), "As it is; null for one run more."),
    to=about(maybe(SIDE), "As it would be; null for one left out."),
    changes=rows(record(kind=TEXT, before=TEXT, after=TEXT, text=TEXT)),
)
UNDERSTOOD = record(pointer=TEXT, words=TEXT, amount=TEXT, unit=TEXT, understood=TEXT)
WHAT_IF: Shape = record(
    **WEEK["properties"],  # type: ignore[arg-type]
    changed=about(
        {"type": ["array", "null"], "items": MOVED},
        "Every run before and after; null where nothing was to be compared.",
    ),
    understood=about(rows(UNDERSTOOD), "Each amount as it was understood."),
)
