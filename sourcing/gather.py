"""Rows of many small tables in one question to the database.

The week hangs on a dozen tables that hold a few rows each; asked one by one they would cost more
than all the arithmetic. Each row comes as one JSON document, its columns read by their own fields.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from typing import Any, cast

from django.db import models
from django.db.models import F, QuerySet, Value
from django.db.models.functions import JSONObject

from inventory.models.fields import DecimalText, FractionText

Cells = Mapping[str, Any]
AS_THEY_ARE = (models.IntegerField, models.CharField, models.TextField)


def gather(wanted: Mapping[str, QuerySet[Any]]) -> dict[str, list[Cells]]:
    """The rows of each query, as columns by name, all in one query.

    Parameters
    ----------
    wanted : name to the query that finds its rows; any tables, at least one
    """
    found: dict[str, list[Cells]] = {name: [] for name in wanted}
    first, *others = [_as_documents(name, rows) for name, rows in wanted.items()]
    readers = {name: _readers(rows.model) for name, rows in wanted.items()}
    for name, document in first.union(*others, all=True):
        cells = json.loads(document) if isinstance(document, str) else document
        for column, read in readers[name]:
            if cells[column] is not None:
                cells[column] = read(cells[column])
        found[name].append(cells)
    return found


def _as_documents(name: str, rows: QuerySet[Any]) -> QuerySet[Any]:
    columns = {column: F(column) for column in _fields(rows.model)}
    named = rows.order_by().annotate(_page=Value(name), _row=JSONObject(**columns))
    return cast("QuerySet[Any]", named.values_list("_page", "_row"))


def _fields(model: type[models.Model]) -> dict[str, models.Field[Any, Any]]:
    return {field.attname: field for field in model._meta.concrete_fields}


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
