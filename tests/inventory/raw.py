"""Raw SQL past every verb, for tests of what the database holds by itself."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from django.db import IntegrityError, connection, transaction


def key(value: uuid.UUID) -> Any:
    """A UUID as the database in use keeps it."""
    return value.hex if connection.vendor == "sqlite" else value


def execute(sql: str, *values: Any) -> None:
    """Run one statement."""
    with connection.cursor() as cursor:
        cursor.execute(sql, values)


def row_of(table: str, pk: Any) -> dict[str, Any]:
    """A row as the database keeps it."""
    with connection.cursor() as cursor:
        cursor.execute(f'SELECT * FROM "{table}" WHERE id = %s', [pk])
        names = [column[0] for column in cursor.description]
        return dict(zip(names, cursor.fetchone(), strict=True))


def insert(table: str, row: dict[str, Any], *, how: str = "INSERT") -> None:
    """Write a row without asking anybody."""
    names = ", ".join(f'"{name}"' for name in row)
    places = ", ".join(["%s"] * len(row))
    execute(f'{how} INTO "{table}" ({names}) VALUES ({places})', *row.values())


def copy(table: str, pk: Any, **changes: Any) -> None:
    """Write a copy of a row with some values changed."""
    row = row_of(table, pk) | changes
    if "id" not in changes:
        del row["id"]
    insert(table, row)


@contextmanager
def refused(rule: str) -> Iterator[None]:
    """What follows is refused by the database, and its message names the rule."""
    with pytest.raises(IntegrityError) as refusal, transaction.atomic():  # noqa: PT012
        yield
        connection.check_constraints()
    # SQLite says "FOREIGN KEY constraint failed" without the name of the key.
    said = str(refusal.value)
    unnamed = connection.vendor == "sqlite" and "foreign key" in said.lower()
    assert unnamed or rule in said, said
