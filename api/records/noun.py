"""Noun: one table as a program sees it, declared once."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from django.db import models
from django.db.models import F, OuterRef, QuerySet, Subquery
from django.db.models.lookups import GreaterThan

from api.records.columns import Column
from api.visitor import Right
from inventory.models import Movement, Studio

ENTRY = "posting__entry"  # by which whoever wrote something down knows it
Values = Mapping[str, Any]
Also = Callable[[Any, Studio, Values], Any]
Kind = Literal["text", "yes", "since", "until", "since day", "until day", "uuid", "number"]


@dataclass(frozen=True, slots=True, eq=False)
class Filter:
    """A word that a list may be asked with, and the cell that it narrows."""

    name: str
    cell: str
    kind: Kind = "text"
    choices: tuple[str, ...] = ()
    about: str = ""

    @property
    def lookup(self) -> str:
        """How the cell is compared; a period begins with `since` and ends before `until`."""
        ends = {"since": "__gte", "since day": "__gte", "until": "__lt", "until day": "__lt"}
        return self.cell + ends.get(self.kind, "")

    @property
    def shapes(self) -> bool:
        """Whether its value stands in the statement, not beside it."""
        return self.kind in ("yes", "number")


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """Rows that a record carries within it: the lines of an order, the movements of a posting."""

    name: str
    about: str
    model: type[models.Model]
    parent: str  # the cell that points at the record's own row
    order: tuple[str, ...]
    columns: tuple[Column, ...]
    keys: Literal["bigint", "uuid"] = "bigint"


@dataclass(frozen=True, eq=False)
class Noun:
    """The records of one table: their names, columns, filters, order and key.

    `order` ends with a cell that no two rows share; where it is two, neither may be empty. `key`
    is the cell that a single record is asked for by; of several with one key (versions) the one
    that is last by `newest` is meant.
    """

    name: str  # in the address
    one: str  # a single one, in a sentence
    about: str
    model: type[models.Model]
    columns: tuple[Column, ...]
    filters: tuple[Filter, ...] = ()
    order: tuple[str, ...] = ("id",)
    key: str = "id"
    key_kind: Literal["text", "uuid", "number", "day"] = "text"
    newest: str = ""
    parts: tuple[Part, ...] = ()
    least: Right = Right.LOOKER_ON
    first: Callable[[Studio], Values] | None = None  # values that have to be asked for before
    also: Also | None = None  # what the rows get besides, out of those values

    @property
    def row_key(self) -> str:
        """The cell of the row's own key in its table."""
        assert self.model._meta.pk is not None
        return self.model._meta.pk.name

    def rows(self, studio: Studio, values: Values) -> QuerySet[Any]:
        """All its rows of a studio."""
        rows: QuerySet[Any] = self.model.objects.of(studio)  # type: ignore[attr-defined]
        return rows if self.also is None else self.also(rows, studio, values)


def with_left(lot: str) -> Also:
    """Rows with what is left of the lot that a cell names: what its last movement left."""

    def also(rows: Any, studio: Studio, _: Values) -> Any:
        moved = Movement.objects.of(studio).filter(lot=OuterRef(lot)).order_by("-number")
        left = rows.annotate(left=Subquery(moved.values("left_after")[:1]))
        # For those who ask only for what is there, or only for what is used up.
        return left.annotate(any_left=GreaterThan(F("left"), 0))

    return also


def happened(cell: str) -> tuple[Filter, Filter]:
    """A period of moments: from `since` on, before `until`."""
    return (
        Filter("since", cell, "since", about="from this moment or day on"),
        Filter("until", cell, "until", about="before this moment or day"),
    )


def on_days(cell: str) -> tuple[Filter, Filter]:
    """A period of days: from `since` on, before `until`."""
    return (
        Filter("since", cell, "since day", about="from this day on"),
        Filter("until", cell, "until day", about="before this day"),
    )


def by(*names: str, **cells: str) -> tuple[Filter, ...]:
    """Filters by text: of cells called as they are, and of others."""
    return tuple(Filter(name, cell) for name, cell in {**{n: n for n in names}, **cells}.items())


def one_of(name: str, choices: Sequence[str], cell: str = "") -> Filter:
    """A filter by one of a few words."""
    return Filter(name, cell or name, choices=tuple(choices))


def yes(name: str, cell: str = "") -> Filter:
    """A filter by yes or no."""
    return Filter(name, cell or name, "yes")
