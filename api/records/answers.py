"""The records of a noun out of the tables, as JSON: a list, or one by its key.

One question to the database for the rows, and one for each kind of rows within them, however many
there are; each is put into SQL once a process.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import tzinfo
from functools import cache, partial
from operator import itemgetter
from typing import Any, Literal
from zoneinfo import ZoneInfo

from django.core.exceptions import EmptyResultSet
from django.db.models import Q

from api.records.asked import Asked
from api.records.cells import Json
from api.records.columns import Column, Read
from api.records.cursors import cursor_after
from api.records.noun import Noun, Part, Values
from inventory.models import Studio
from inventory.prepared import Keys, Prepared, among

PREFIX = "asked_"  # before the name of a filter, among the values of a prepared question


def listed_records(noun: Noun, studio: Studio, asked: Asked) -> tuple[list[Json], str | None]:
    """The records that are asked for, and the cursor of those that follow."""
    shaping = tuple((each.name, value) for each, value in asked.wanted.items() if each.shapes)
    beside = {PREFIX + each.name: value for each, value in asked.wanted.items() if not each.shapes}
    after = {f"after_{number}": cell for number, cell in enumerate(asked.after)}
    # All that makes it another statement; only values may differ within one.
    fixed = (
        ("limit", asked.limit),
        ("backwards", asked.backwards),
        ("shaping", shaping),
        ("named", (*beside, *after)),
    )
    rows = _found(_question(noun), fixed, studio=studio, **_first(noun, studio), **beside, **after)
    shown = rows[: asked.limit]
    going_on = None
    if len(rows) > asked.limit:
        last = dict(zip(_cells(noun), shown[-1], strict=True))
        cells = tuple(last[cell] for cell in noun.order)
        going_on = cursor_after(cells, question=asked.question)
    return _records(noun, studio, shown), going_on


def single_record(noun: Noun, studio: Studio, key: Any) -> Json | None:
    """The record of a key, the newest where several have it; None: there is none."""
    fixed = (("number", key),) if noun.key_kind == "number" else ()
    beside = {} if fixed else {"key": key}
    rows = _found(_single(noun), fixed, studio=studio, **_first(noun, studio), **beside)
    return next(iter(_records(noun, studio, rows)), None)


# -- questions ---------------------------------------------------------------------------------


def _first(noun: Noun, studio: Studio) -> Values:
    return {} if noun.first is None else noun.first(studio)


def _found(question: Prepared, fixed: tuple[tuple[str, Any], ...], **values: Any) -> list[Any]:
    """The rows of a question; none where a number is beyond all that its column may hold."""
    try:
        return list(question.rows(fixed=fixed, **values))
    except EmptyResultSet:
        return []


@cache
def _question(noun: Noun) -> Prepared:
    return Prepared(partial(_listed, noun))


@cache
def _single(noun: Noun) -> Prepared:
    return Prepared(partial(_one, noun))


@cache
def _within(part: Part) -> Prepared:
    return Prepared(partial(_parts, part))


def _listed(
    noun: Noun,
    *,
    studio: Studio,
    limit: int,
    backwards: bool,
    shaping: tuple[tuple[str, Any], ...],
    named: tuple[str, ...],
    **values: Any,
) -> Any:
    """Rows in order, one more than asked for, so that it is known whether others follow."""
    rows, fixed = noun.rows(studio, values), dict(shaping)
    for each in noun.filters:
        name = PREFIX + each.name
        if each.name in fixed or name in named:
            rows = rows.filter(**{each.lookup: fixed.get(each.name, values.get(name))})
    if "after_0" in named:
        rows = rows.filter(_after(noun.order, values, "lt" if backwards else "gt"))
    order = [f"-{cell}" if backwards else cell for cell in noun.order]
    return rows.order_by(*order).values_list(*_cells(noun))[: limit + 1]


def _after(order: tuple[str, ...], values: dict[str, Any], beyond: Literal["gt", "lt"]) -> Q:
    """Behind the row whose cells are given, in this order or from its end."""
    first, *others = order
    further = Q(**{f"{first}__{beyond}": values["after_0"]})
    if not others:
        return further
    (second,) = others
    further |= Q(**{f"{second}__{beyond}": values["after_1"]})
    # Said twice, so that an index on the first cell helps.
    return Q(**{f"{first}__{beyond}e": values["after_0"]}) & further


def _one(
    noun: Noun, *, studio: Studio, key: Any = None, number: int | None = None, **values: Any
) -> Any:
    rows = noun.rows(studio, values).filter(**{noun.key: key if number is None else number})
    order = (f"-{noun.newest}",) if noun.newest else ()
    return rows.order_by(*order).values_list(*_cells(noun))[:1]


def _parts(part: Part, *, studio: Studio, keys: Keys) -> Any:
    rows = part.model.objects.of(studio)  # type: ignore[attr-defined]
    within = rows.filter(**{f"{part.parent}__in": among(keys, kind=part.keys)})
    return within.order_by(*part.order).values_list(*_part_cells(part))


def _cells(noun: Noun) -> tuple[str, ...]:
    """Each cell once: the row's own key, those of the order, those of the columns."""
    return tuple(dict.fromkeys((noun.row_key, *noun.order, *_paths(noun.columns))))


def _part_cells(part: Part) -> tuple[str, ...]:
    return tuple(dict.fromkeys((part.parent, *_paths(part.columns))))


def _paths(columns: Iterable[Column]) -> list[str]:
    return [cell for column in columns for cell in column.cells]


# -- as JSON -----------------------------------------------------------------------------------


def _records(noun: Noun, studio: Studio, rows: Sequence[tuple[Any, ...]]) -> list[Json]:
    zone = ZoneInfo(studio.zone)
    records = _said(noun.columns, _cells(noun), zone, rows)
    if rows:
        keys = [row[0] for row in rows]
        for part in noun.parts:
            found = _by_parent(part, zone, list(_within(part).rows(studio=studio, keys=keys)))
            for key, record in zip(keys, records, strict=True):
                record[part.name] = found.get(key, [])
    return records


def _by_parent(
    part: Part, zone: tzinfo, rows: Sequence[tuple[Any, ...]]
) -> dict[object, list[Json]]:
    found: dict[object, list[Json]] = {}
    for row, record in zip(rows, _said(part.columns, _part_cells(part), zone, rows), strict=True):
        found.setdefault(row[0], []).append(record)
    return found


def _said(
    columns: Sequence[Column],
    cells: Sequence[str],
    zone: tzinfo,
    rows: Iterable[tuple[Any, ...]],
) -> list[Json]:
    """Each row under the names of its columns."""
    plan = [
        (
            column.name,
            itemgetter(*map(cells.index, column.cells)),
            column.read if column.in_zone is None else column.in_zone(zone),
        )
        for column in columns
    ]
    return [_record(row, plan) for row in rows]


def _record(row: tuple[Any, ...], plan: Iterable[tuple[str, Any, Read | None]]) -> Json:
    record: Json = {}
    for name, cell_of, read in plan:
        cell = cell_of(row)
        record[name] = cell if read is None or cell is None else read(cell)
    return record
