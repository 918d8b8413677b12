"""A studio of the fixtures on the shelves, quickly: read and checked once a process, then repeated.

To read a notebook, check it and find its rows takes ten times as long as to write them. On SQLite
what the first load wrote is therefore written once more where everything begins the same, in the
same order and past the same guards. PostgreSQL numbers rows on, so there each load is a load; so
it is in tests that are about loading, which do not come here.
"""

from __future__ import annotations

from collections.abc import Callable
from io import StringIO
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.db import connection, transaction

from inventory.models import Studio

FIXTURES = Path(__file__).resolve().parents[1] / "fixtures"
Written = list[tuple[str, Any, bool]]
_kept: dict[tuple[str, object], Written] = {}


def load_fixture(name: str = "pellitory-yard") -> None:
    """A studio of the fixtures, as its notebook has it."""
    if connection.vendor != "sqlite" or Studio.objects.exists():
        really_load(name)
        return
    begin = (name, _numbers())
    if begin in _kept:
        _write(_kept[begin])
        return
    written: Written = []
    with connection.execute_wrapper(_noting(written)):
        really_load(name)
    _kept[begin] = written


def really_load(name: str) -> None:
    """By the command itself."""
    call_command("load", str(FIXTURES / name), stdout=StringIO())


def _numbers() -> object:
    """The last number that each table gave to a row: where they differ, the next ones do."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT name, seq FROM sqlite_sequence ORDER BY name")
        return tuple(cursor.fetchall())


def _write(written: Written) -> None:
    with transaction.atomic(), connection.cursor() as cursor:
        for sql, words, many in written:
            (cursor.executemany if many else cursor.execute)(sql, words)


def _noting(written: Written) -> Callable[..., Any]:
    """Everything that changes a row is noted as it is done."""

    def note(execute: Callable[..., Any], sql: str, words: Any, many: bool, context: Any) -> Any:
        if sql.startswith(("INSERT", "UPDATE", "DELETE")):
            written.append((sql, words, many))
        return execute(sql, words, many, context)

    return note
