"""Rows of many small tables in one question to the database.

The week hangs on a dozen tables that hold a few rows each; asked one by one they would cost more
than all the arithmetic. Each row comes as one JSON document, its columns read by their own fields.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from datetime import UTC, datetime
from functools import cache
from typing import Any, cast

from django.db import models
from django.db.models import F, QuerySet, Value
from django.db.models.functions import JSONObject

from inventory.models.fields import DecimalText, FractionText
from inventory.prepared import Prepared

Cells = Mapping[str, Any]
Gathered = dict[str, list[Cells]]
AS_THEY_ARE = (models.IntegerField, models.CharField, models.TextField)


def gather(wanted: Mapping[str, QuerySet[Any]]) -> Gathered:
    """The rows of each query, as columns by name, all in one query.

    Parameters
    ----------
    wanted : name to the query that finds its rows; any tables, at least one. What a query is
        annotated with comes along, as JSON has it.
    """
    return _read(_together(wanted), {name: rows.model for name, rows in wanted.items()})


class Gathering:
    """The same question over many small tables, put into SQL once a process.

    Parameters
    ----------
    wanted : named values to the queries of `gather`; values are used as they are, see `Prepared`
    """

    def __init__(self, wanted: Callable[..., Mapping[str, QuerySet[Any]]]) -> None:
        self._tables: dict[str, type[models.Model]] = {}
        self._wanted = wanted
        self._prepared = Prepared(self._build)

    def rows(self, *, fixed: tuple[tuple[str, Any], ...] = (), **values: Any) -> Gathered:
        """The rows of each query for these values, as `gather` gives them."""
        rows = self._prepared.rows(fixed=fixed, **values)
        return _read(rows, self._tables)

    def _build(self, **values: Any) -> QuerySet[Any]:
        wanted = self._wanted(**values)
        self._tables = {name: rows.model for name, rows in wanted.items()}
        return _together(wanted)


def _together(wanted: Mapping[str, QuerySet[Any]]) -> QuerySet[Any]:
    first, *others = [_as_documents(name, rows) for name, rows in wanted.items()]
    return first.union(*others, all=True)


def _read(rows: Iterable[tuple[str, Any]], tables: Mapping[str, type[models.Model]]) -> Gathered:
    found: Gathered = {name: [] for name in tables}
    readers = {name: _readers(table) for name, table in tables.items()}
    for name, document in rows:
        cells = json.loads(document) if isinstance(document, str) else document
        for column, read in readers[name]:
            if cells[column] is not None:
                cells[column] = read(cells[column])
        found[name].append(cells)
    return found


def _as_documents(name: str, rows: QuerySet[Any]) -> QuerySet[Any]:
    columns = {column: F(column) for column in (*_fields(rows.model), *rows.query.annotations)}
    named = rows.order_by().annotate(_page=Value(name), _row=JSONObject(**columns))
    return cast("QuerySet[Any]", named.values_list("_page", "_row"))


def _fields(model: type[models.Model]) -> dict[str, models.Field[Any, Any]]:
    return {field.attname: field for field in model._meta.concrete_fields}


@cache
def _readers(model: type[models.Model]) -> list[tuple[str, Callable[[Any], Any]]]:
    """The columns that JSON gives otherwise than their own fields do, and how each is read."""
    found: list[tuple[str, Callable[[Any], Any]]] = []
    for column, field in _fields(model).items():
        plain = field.target_field if isinstance(field, models.ForeignKey) else field
        if isinstance(plain, models.JSONField):
            found.append((column, _document))
        elif isinstance(plain, models.DateTimeField):
            found.append((column, _moment))
        elif not isinstance(plain, AS_THEY_ARE) or isinstance(plain, DecimalText | FractionText):
            found.append((column, plain.to_python))
    return found


def _document(value: Any) -> Any:
    return json.loads(value) if isinstance(value, str) else value


def _moment(value: str) -> datetime:
    moment = datetime.fromisoformat(value)
    return moment if moment.tzinfo is not None else moment.replace(tzinfo=UTC)
