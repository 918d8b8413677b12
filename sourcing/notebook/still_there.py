"""What rows of a notebook name, as far as it is there: a lot that is used up is named no more.

A studio goes on meaning to use what it has used up, and notes who gave a lot without having
written them among its sources. A notebook that named them could not be loaded anywhere.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from sourcing.notebook.page import Column, Row
from sourcing.notebook.yard_pages import BY_NAME

NOTE_AT_MOST = 400
Rows = dict[str, tuple[Row, ...]]


def still_there(rows: Rows) -> Rows:
    """The same rows; where a cell names what no page has any more, the name is left out."""
    known = {
        name: {str(row.values.get(page.key[0], "")) for row in rows.get(name, ())}
        for name, page in BY_NAME.items()
    }
    return {name: tuple(_settled(row, known) for row in found) for name, found in rows.items()}


def _settled(row: Row, known: Mapping[str, set[str]]) -> Row:
    values = dict(row.values)
    for column in BY_NAME[row.page].columns:
        names = _names(column, known)
        value = values.get(column.name)
        if names is None or value is None:
            continue
        if isinstance(value, tuple):
            kept = tuple(part for part in value if part in names)
            values = {**values, column.name: kept} if kept else _without(values, column.name)
        elif value not in names:
            values = _without(values, column.name)
            if (row.page, column.name) == ("lots", "source"):
                # Who gave it is worth keeping, also where it is no source of the studio.
                values["note"] = _noted(row.text("note"), f"from {value}")
    return row if values == row.values else replace(row, values=values)


def _names(column: Column, known: Mapping[str, set[str]]) -> set[str] | None:
    """What a cell of a column may name; None where it names nothing that could be gone."""
    if column.required or not column.refers:
        return None
    return set().union(*(known[page] for page in column.refers))


def _without(values: dict[str, object], name: str) -> dict[str, object]:
    return {key: value for key, value in values.items() if key != name}


def _noted(note: str, more: str) -> str:
    return (f"{note}; {more}" if note else more)[:NOTE_AT_MOST]
