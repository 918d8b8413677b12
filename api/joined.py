"""Rows of several tables in one question that is put into SQL once, read back as their models.

Who asks is asked before anything else, at every request: the framework would take longer to put
the question together than the database takes to answer it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from django.db import DEFAULT_DB_ALIAS, models
from django.db.models import QuerySet

from inventory.prepared import Prepared

Part = tuple[str, type[models.Model]]  # the way to it from the first table, and its model


class Joined:
    """One question whose rows are the models of `parts`, each with its own fields whole.

    Parameters
    ----------
    build : named values to a query of the first table
    parts : the first table, under the name "", and those that its keys lead to
    also : annotations of the query, which come behind the models
    """

    def __init__(
        self,
        build: Callable[..., QuerySet[Any]],
        parts: Sequence[Part],
        *,
        also: Sequence[str] = (),
    ) -> None:
        self._parts = [(model, _names(model)) for _, model in parts]
        ways = [f"{way}__" if way else "" for way, _ in parts]
        named = zip(ways, self._parts, strict=True)
        columns = [f"{way}{name}" for way, (_, names) in named for name in names]
        self._asked = Prepared(lambda **values: build(**values).values_list(*columns, *also))

    def rows(self, **values: Any) -> Iterator[tuple[Any, ...]]:
        """The models of each row, in the order of the parts."""
        for cells in self._asked.rows(**values):
            yield tuple(self._models(cells))

    def _models(self, cells: Sequence[Any]) -> Iterator[Any]:
        first = 0
        for model, names in self._parts:
            last = first + len(names)
            yield model.from_db(DEFAULT_DB_ALIAS, names, cells[first:last])
            first = last
        yield from cells[first:]


def _names(model: type[models.Model]) -> list[str]:
    return [field.attname for field in model._meta.concrete_fields]
