"""Rows of many small tables in one question to the database.

The week hangs on a dozen tables that hold a few rows each; asked one by one they would cost more
than all the arithmetic. Each row comes as one JSON document, its columns read by their own fields.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any, cast

from django.db import models
from django.db.models import F, QuerySet, Value
from django.db.models.functions import JSONObject

Cells = Mapping[str, Any]


def gather(wanted: Mapping[str, QuerySet[Any]]) -> dict[str, list[Cells]]:
    """The rows of each query, as columns by name, all in one query.

    Parameters
    ----------
    wanted : name to the query that finds its rows; any tables, at least one
    """
    found: dict[str, list[Cells]] = {name: [] for name in wanted}
    first, *others = [_as_documents(name, rows) for name, rows in wanted.items()]
    fields = {name: _fields(rows.model) for name, rows in wanted.items()}
    for name, document in first.union(*others, all=True):
        cells = json.loads(document) if isinstance(document, str) else document
        found[name].append(
            {column: _cell(field, cells[column]) for column, field in fields[name].items()}
        )
    return found


def _as_documents(name: str, rows: QuerySet[Any]) -> QuerySet[Any]:
    columns = {column: F(column) for column in _fields(rows.model)}
    named = rows.order_by().annotate(_page=Value(name), _row=JSONObject(**columns))
    return cast("QuerySet[Any]", named.values_list("_page", "_row"))


def _fields(model: type[models.Model]) -> dict[str, models.Field[Any, Any]]:
    return {field.attname: field for field in model._meta.concrete_fields}


def _cell(field: models.Field[Any, Any], value: Any) -> Any:
    """A column's value as its own field would have given it."""
    if value is None:
        return None
    if isinstance(field, models.JSONField):
        return json.loads(value) if isinstance(value, str) else value
    if isinstance(field, models.DateTimeField):
        moment = datetime.fromisoformat(value)
        return moment if moment.tzinfo is not None else moment.replace(tzinfo=UTC)
    if isinstance(field, models.ForeignKey):
        return field.target_field.to_python(value)
    return field.to_python(value)
