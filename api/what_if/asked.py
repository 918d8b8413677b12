"""The body of a what-if: the moment, the days, and what is to be otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from rest_framework import serializers
from rest_framework.exceptions import ErrorDetail, ValidationError
from rest_framework.settings import api_settings

from api.asked import DAYS
from api.entries.fields import UNCLEAR, Moment, Said, Whole, Yes
from api.entries.reading import amount_understood, context_of
from api.rest.fields import FieldsUnclear, pointed, unfit
from api.what_if.kinds import KINDS
from inventory.models import Studio
from inventory.science.amounts import Amount
from inventory.science.saying import kept, say
from sourcing.week.project import DAYS_AT_MOST
from sourcing.week.what_if import CHANGES_AT_MOST, CannotBe, Change
from sourcing.week.words import decimal_string, listed

WHOLE = api_settings.NON_FIELD_ERRORS_KEY


@dataclass(frozen=True, slots=True)
class Otherwise:
    """What somebody asks to be otherwise; `at` None: seen from now."""

    at: datetime | None
    days: int
    changes: tuple[Change, ...]
    compare: bool
    understood: tuple[Mapping[str, str], ...]


class ChangesSaid(serializers.Field[list[Any], Any, Any, Any]):
    """A list of changes, each read by the fields of its kind."""

    def to_internal_value(self, data: Any) -> list[tuple[Change, Mapping[str, Any]]]:
        if not isinstance(data, list):
            raise unfit(say("Write a list of changes."))
        if len(data) > CHANGES_AT_MOST:
            raise unfit(
                say(
                    "{count} changes asked for; one question takes {most} at most.",
                    count=len(data),
                    most=CHANGES_AT_MOST,
                )
            )
        read: list[tuple[Change, Mapping[str, Any]]] = []
        faults: list[Any] = []
        for row in data:
            try:
                read.append(self._change(row))
                faults.append({})
            except ValidationError as wrong:
                faults.append(wrong.detail)
        if any(faults):
            raise ValidationError(faults)
        return read

    def _change(self, row: Any) -> tuple[Change, Mapping[str, Any]]:
        if not isinstance(row, Mapping):
            raise ValidationError({WHOLE: unfit(say("Write an object that says a change.")).detail})
        word = row.get("change")
        kind = KINDS.get(word) if isinstance(word, str) else None
        if kind is None:
            raise ValidationError(
                {
                    "change": unfit(
                        say("Write one of {kinds}.", kinds=listed(kept(name) for name in KINDS))
                    ).detail
                }
            )
        said = kind.said(data=row, context=self.context)
        said.is_valid(raise_exception=True)
        fields: Mapping[str, Any] = said.validated_data
        return kind.make(fields), fields

    def to_representation(self, value: Any) -> Any:
        return value


class WhatIfSaid(Said):
    """The whole body."""

    at = Moment(required=False)
    days = Whole(least=1, most=DAYS_AT_MOST, required=False)
    changes = ChangesSaid()
    compare = Yes(required=False)


def otherwise_of(body: Any, studio: Studio) -> Otherwise:
    """What a body asks to be otherwise.

    Raises
    ------
    rest_framework.exceptions.ValidationError
        If it breaks the schema.
    FieldsUnclear
        If it keeps to the schema and some field cannot be understood.
    """
    said = WhatIfSaid(data=body, context=context_of(studio))
    try:
        said.is_valid(raise_exception=True)
    except ValidationError as wrong:
        if all(code == UNCLEAR for code in _codes(wrong.detail)):
            raise FieldsUnclear(list(pointed(wrong.detail))) from wrong
        raise
    read: Mapping[str, Any] = said.validated_data
    rows = read["changes"]
    return Otherwise(
        read.get("at"),
        read.get("days", DAYS),
        tuple(change for change, _ in rows),
        read.get("compare", True),
        tuple(
            row for number, (_, fields) in enumerate(rows) for row in _understood(number, fields)
        ),
    )


def unclear_of(wrong: CannotBe) -> FieldsUnclear:
    """Changes that do not fit the studio, each fault with its place in the body."""
    return FieldsUnclear([
        (f"/changes/{number}{f'/{fault.field}' if fault.field else ''}", fault.text)
        for number, fault in wrong.faults
    ])  # fmt: skip


def _codes(detail: Any) -> Iterator[str]:
    if isinstance(detail, Mapping):
        for inner in detail.values():
            yield from _codes(inner)
    elif isinstance(detail, list):
        for inner in detail:
            yield from _codes(inner)
    elif isinstance(detail, ErrorDetail):
        yield str(detail.code)


def _understood(number: int, fields: Mapping[str, Any]) -> Iterator[Mapping[str, str]]:
    """Every amount of a change as it was understood, and the value of a figure."""
    for name, value in fields.items():
        where = f"/changes/{number}/{name}"
        if isinstance(value, Amount):
            yield {"pointer": where, "words": value.words, **amount_understood(value)}
    if "number" in fields:
        exact, rule = decimal_string(fields["number"]), fields["rule"]
        yield {"pointer": f"/changes/{number}/value", "words": fields["value"], "amount": exact,
               "unit": rule.rpartition("_")[2],
               "understood": f"{rule.replace('_', ' ')} = {exact}"}  # fmt: skip
