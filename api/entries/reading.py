"""The body of an entry into its fields, or everything that is wrong with them at once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from rest_framework.exceptions import ValidationError

from api.entries.fields import UNCLEAR, Moment, OwnId, Said, studio_context
from api.entries.verb import Verb
from api.rest.fields import FieldsUnclear, pointer_part, sentence_of
from api.tongue.customs import custom_of
from inventory.models import Dyestuff, Studio
from inventory.science.amounts import Amount
from sourcing.week.words import exact

BESIDE = ("id", "occurred_at", "sent_at")  # what every entry says beside its fields


@dataclass(frozen=True, slots=True)
class Read:
    """An entry that was read: its id, when it was said to happen, its fields, its amounts."""

    entry: UUID
    said_at: datetime
    sent_at: datetime | None
    fields: Mapping[str, Any]
    understood: tuple[Mapping[str, str], ...]


@cache
def body_of(verb: Verb) -> type[Said]:
    """The whole body of an entry of a verb: id, moments and its fields."""
    name = "".join(part.capitalize() for part in verb.name.split("-"))
    beside = {
        "id": OwnId(help_text="made by the client, once for this entry"),
        "occurred_at": Moment(help_text="when it happened, by the clock of the device"),
        "sent_at": Moment(required=False, help_text="the clock of the device as it is sent"),
    }
    return type(f"{name}Entry", (verb.fields,), {**beside, "__doc__": verb.says})


def read_entry(verb: Verb, body: Any, studio: Studio) -> Read:
    """The entry that a body says.

    Raises
    ------
    rest_framework.exceptions.ValidationError
        If it breaks the schema.
    FieldsUnclear
        If it keeps to the schema and some field cannot be understood.
    """
    said = valid(body_of(verb)(data=body, context=context_of(studio)))
    fields = {name: value for name, value in said.items() if name not in BESIDE}
    return Read(
        entry=said["id"],
        said_at=said["occurred_at"],
        sent_at=said.get("sent_at"),
        fields=fields,
        understood=tuple(_understood(fields, "")),
    )


def context_of(studio: Studio) -> dict[str, Any]:
    """What fields are read with in a studio; its own pieces are asked for where one is met."""

    @cache
    def pieces() -> tuple[str, ...]:
        rows = Dyestuff.objects.of(studio).exclude(piece="").values_list("piece", flat=True)
        return tuple(rows)

    return studio_context(
        zone=ZoneInfo(studio.zone),
        custom=custom_of(studio),
        pieces=pieces,
    )


def valid(said: Said) -> Mapping[str, Any]:
    """What the fields say, or everything that is wrong with them at once."""
    try:
        said.is_valid(raise_exception=True)
    except ValidationError as wrong:
        found = list(_faults(wrong.detail, ""))
        if found and all(code == UNCLEAR for _, _, code in found):
            pairs = [(pointer, sentence) for pointer, sentence, _ in found]
            raise FieldsUnclear(pairs) from wrong
        raise
    valid: Mapping[str, Any] = said.validated_data
    return valid


def _faults(detail: Any, pointer: str) -> Iterator[tuple[str, str, str]]:
    """Pointer (RFC 6901), sentence and code of every fault."""
    if isinstance(detail, Mapping):
        for name, inner in detail.items():
            step = "" if name == "non_field_errors" else f"/{pointer_part(name)}"
            yield from _faults(inner, pointer + step)
    elif isinstance(detail, list):
        for number, inner in enumerate(detail):
            nested = isinstance(inner, Mapping | list)
            yield from _faults(inner, f"{pointer}/{number}" if nested else pointer)
    else:
        yield pointer, sentence_of(detail), str(getattr(detail, "code", "invalid"))


def _understood(said: Any, pointer: str) -> Iterator[Mapping[str, str]]:
    """Every amount of an entry as it was understood."""
    if isinstance(said, Amount):
        yield {"pointer": pointer, "words": said.words, **amount_understood(said)}
    elif isinstance(said, Mapping):
        for name, inner in said.items():
            yield from _understood(inner, f"{pointer}/{pointer_part(name)}")
    elif isinstance(said, list | tuple):
        for number, inner in enumerate(said):
            yield from _understood(inner, f"{pointer}/{number}")


def amount_understood(amount: Amount) -> dict[str, str]:
    """What an amount comes to: a decimal with its unit, and in words."""
    if amount.kind in ("mass", "volume"):
        number, unit = exact(amount.mg if amount.kind == "mass" else amount.ul, amount.unit)
    else:
        number, unit = f"{float(amount.value):g}", amount.unit
    return {"amount": number, "unit": unit, "understood": amount.understood}
