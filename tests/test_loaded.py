"""What is written once more is what the command would have loaded."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from django.apps import apps
from django.db import connection, transaction

from inventory.models import Studio
from tests import loaded

# Filled by the database or made by chance anew at each load.
BY_THE_CLOCK = ("recorded_at", "made_at")
CHANCE = re.compile("[0-9a-f]{8}-?([0-9a-f]{4}-?){3}[0-9a-f]{12}")


def rows() -> dict[str, list[Any]]:
    """Every row of every table, but for what the clock and chance have written into it."""
    tables = [model._meta.db_table for model in apps.get_models(include_auto_created=True)]
    return {table: sorted(_rows_of(table)) for table in tables}


def _rows_of(table: str) -> Iterator[str]:
    with connection.cursor() as cursor:
        cursor.execute(f'SELECT * FROM "{table}"')
        names = [column[0] for column in cursor.description]
        for row in cursor.fetchall():
            kept = dict(zip(names, row, strict=True))
            yield repr(
                {
                    name: value
                    for name, value in kept.items()
                    if name not in BY_THE_CLOCK and not CHANCE.fullmatch(str(value))
                }
            )


def rows_after(make: Callable[[], object]) -> dict[str, list[Any]]:
    with transaction.atomic():
        make()
        found = rows()
        transaction.set_rollback(True)
    return found


@pytest.mark.parametrize("name", ["pellitory-yard", "kelpwick-loft"])
def test_the_second_load_leaves_the_rows_of_the_command(db: None, name: str) -> None:
    first = rows_after(lambda: loaded.load_fixture(name))
    second = rows_after(lambda: loaded.load_fixture(name))

    with_command = rows_after(lambda: loaded.really_load(name))

    assert sum(len(found) for found in with_command.values()) > 200
    if connection.vendor == "sqlite":
        assert first == second == with_command
    else:  # its numbers go on
        assert {table: len(found) for table, found in second.items()} == {
            table: len(found) for table, found in with_command.items()
        }


def test_beside_another_studio_the_notebook_is_read(db: None) -> None:
    loaded.load_fixture("kelpwick-loft")

    loaded.load_fixture("pellitory-yard")

    assert sorted(Studio.objects.values_list("name", flat=True)) == [
        "Kelpwick Loft", "Pellitory Yard"
    ]  # fmt: skip
