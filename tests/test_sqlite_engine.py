"""What our SQLite engine says of itself without asking the file."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from django.db.utils import ConnectionHandler

from api import environment


def test_a_reader_knows_of_json_while_somebody_writes(tmp_path: Path) -> None:
    """Django would ask inside a transaction, be refused, and remember that there is none."""
    settings = environment.database(None, tmp_path)
    ours = ConnectionHandler({"default": settings})["default"]

    with closing(sqlite3.connect(settings["NAME"], isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        known = ours.features.supports_json_field

    assert known
    with closing(sqlite3.connect(":memory:")) as asked:
        assert asked.execute("SELECT json('{\"a\": 1}')").fetchone() == ('{"a":1}',)
