"""Questions that are put into SQL once a process and then asked again with other values.

A page asks a handful of questions over many small tables, always the same ones. Putting them into
SQL takes several times as long as the database takes to answer, so it is done once: with markers
in place of the values, which are found again among the statement's parameters.
"""

from __future__ import annotations

import json
from collections import OrderedDict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any, Literal
from uuid import UUID

from django.db import connections, router
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.models import QuerySet
from django.db.models.expressions import RawSQL

from inventory.models import Studio

KEPT_AT_MOST = 16  # statements of one question: one for each set of fixed values
# Values that no row has: what is found of them in a statement was put there by us.
MARK_KEY, MARK_AT = 7_000_000_000_000_000_000, datetime(1900, 1, 1, 0, 0, 0, 11, tzinfo=UTC)

Keys = Sequence[int] | Sequence[UUID]


class ValueReshaped(AssertionError):
    """A question was built with something worked out from a value; only the value itself may be."""

    def __init__(self, sql: str) -> None:
        super().__init__(
            "A prepared question changes with its values in other places than where they stand; "
            f"work the value out first and hand it in: {sql[:400]}"
        )


@dataclass(frozen=True, slots=True)
class _Statement:
    """SQL with its parameters, of which some are places for values, and how its rows are read."""

    sql: str
    params: tuple[Any, ...]
    # Position among the parameters, name of the value, kind of number that the database wants.
    places: tuple[tuple[int, str, type[int] | None], ...]
    converters: tuple[tuple[int, Any, Any], ...]


class Prepared:
    """One question, as `build` makes it of values; asked as often as wanted.

    Parameters
    ----------
    build : named values to a query of `values_list` rows; each value is used as it is (a `Studio`,
        an aware moment, a day, a text, a UUID, a sequence of keys for `among`), never worked on:
        what is worked out from a value (`at - a year`) is a value of its own
    """

    def __init__(self, build: Callable[..., QuerySet[Any, Any]]) -> None:
        self._build = build
        self._known: OrderedDict[Any, _Statement] = OrderedDict()

    def rows(self, *, fixed: tuple[tuple[str, Any], ...] = (), **values: Any) -> Iterator[Any]:
        """The rows for these values, as tuples.

        Parameters
        ----------
        fixed : names and values that shape the statement itself, as how many rows to pass over
        """
        connection = connections[router.db_for_read(Studio)]
        statement = self._statement(connection, fixed, values)
        params = list(statement.params)
        for position, name, number in statement.places:
            param = _as_parameter(values[name], connection)
            params[position] = param if number is None else number(param)
        with connection.cursor() as cursor:
            cursor.execute(statement.sql, params)
            found = cursor.fetchall()
        return _read(found, statement.converters, connection)

    def _statement(
        self, connection: BaseDatabaseWrapper, fixed: tuple[tuple[str, Any], ...], values: Any
    ) -> _Statement:
        key = (connection.alias, connection.vendor, fixed)
        if key not in self._known:
            self._known[key] = self._put_in_sql(connection, dict(fixed), values)
            while len(self._known) > KEPT_AT_MOST:
                self._known.popitem(last=False)
        return self._known[key]

    def _put_in_sql(
        self, connection: BaseDatabaseWrapper, fixed: dict[str, Any], values: dict[str, Any]
    ) -> _Statement:
        marks = {name: _mark(value, n) for n, (name, value) in enumerate(values.items(), 1)}
        others = {name: _mark(value, n) for n, (name, value) in enumerate(values.items(), 102)}
        compiler, sql, params = _compiled(self._build(**marks, **fixed), connection)
        _, again, params_again = _compiled(self._build(**others, **fixed), connection)
        _, itself, _ = _compiled(self._build(**values, **fixed), connection)
        named = {_known_by(_as_parameter(mark, connection)): name for name, mark in marks.items()}
        places = tuple(
            (position, named[_known_by(param)], type(param) if isinstance(param, int) else None)
            for position, param in enumerate(params)
            if _known_by(param) in named
        )
        where = {position for position, _, _ in places}
        differ = {n for n, pair in enumerate(zip(params, params_again, strict=False))
                  if pair[0] != pair[1]}  # fmt: skip
        if not sql == again == itself or len(params) != len(params_again) or differ != where:
            raise ValueReshaped(sql)
        fields = [row[0] for row in compiler.select[: compiler.col_count]]
        found = compiler.get_converters(fields)
        converters = tuple((at, convs, expression) for at, (convs, expression) in found.items())
        return _Statement(sql, params, places, converters)


def among(keys: Keys, *, kind: Literal["bigint", "uuid"] = "bigint") -> RawSQL:
    """A list of keys as one value: no limit on how many, unlike one place for each."""
    connection = connections[router.db_for_read(Studio)]
    if connection.vendor == "sqlite":
        return RawSQL("SELECT value FROM json_each(%s)", [_as_parameter(keys, connection)])
    return RawSQL(f"SELECT unnest(%s::{kind}[])", [_as_parameter(keys, connection)])


def _as_parameter(value: Any, connection: BaseDatabaseWrapper) -> Any:
    """A value as the statement takes it."""
    if isinstance(value, Studio):
        return value.pk
    if isinstance(value, datetime):
        return connection.ops.adapt_datetimefield_value(value)
    if isinstance(value, date):
        return connection.ops.adapt_datefield_value(value)
    if isinstance(value, int | str):
        return value
    if isinstance(value, UUID):
        return value if connection.features.has_native_uuid_field else value.hex
    assert isinstance(value, Sequence), value
    if connection.vendor != "sqlite":
        return list(value)
    return json.dumps([key.hex if isinstance(key, UUID) else key for key in value])


def _mark(value: Any, number: int) -> Any:
    """Something of the same kind as a value, found nowhere else."""
    if isinstance(value, Studio):
        return Studio(pk=MARK_KEY + number)
    if isinstance(value, datetime):
        return MARK_AT + timedelta(hours=number)
    if isinstance(value, date):
        return MARK_AT.date() - timedelta(days=number)
    if isinstance(value, int):
        return MARK_KEY + number
    if isinstance(value, str):
        return f"{MARK_KEY + number}, said nowhere"
    if isinstance(value, UUID):
        return UUID(int=MARK_KEY + number)
    return (MARK_KEY + number,)


def _known_by(param: Any) -> tuple[str, str]:
    """What a parameter is recognised by; whole numbers come in several kinds."""
    if isinstance(param, int):
        return "number", str(int(param))
    return type(param).__name__, repr(param)


def _compiled(
    rows: QuerySet[Any, Any], connection: BaseDatabaseWrapper
) -> tuple[Any, str, tuple[Any, ...]]:
    compiler = rows.query.get_compiler(connection=connection)
    sql, params = compiler.as_sql()
    return compiler, sql, tuple(params)


def _read(
    found: Sequence[Any],
    converters: tuple[tuple[int, Any, Any], ...],
    connection: BaseDatabaseWrapper,
) -> Iterator[Any]:
    """The rows with their values as the fields have them, column by column."""
    if not converters or not found:
        return iter(found)
    columns: list[Sequence[Any]] = list(zip(*found, strict=True))
    for position, convs, expression in converters:
        for convert in convs:
            columns[position] = [
                convert(value, expression, connection) for value in columns[position]
            ]
    return zip(*columns, strict=True)
