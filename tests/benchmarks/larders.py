"""Databases of their own for one run of figures, and one connection to each, all open at once.

The first is migrated; the others are copies of it, so that ten cost little more than one. Code
that asks for *the* database gets the one that stands in for it.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from uuid import uuid4

from tests.inventory.firsts import FILE, KEPT, first_file

EMPTY = "DYE_LARDER_BENCHMARK_EMPTY"  # names the migrated database that is copied


class Larders:
    """Copies of one migrated, empty database, by name."""

    def __init__(self) -> None:
        self._open: dict[str, Any] = {}

    def use(self, name: str) -> bool:
        """Put a larder in the place of the database; True where it is new and empty."""
        from django.db import connections

        new = name not in self._open
        if new:
            self._open[name] = self._another(len(self._open) + 1)
        connections["default"] = self._open[name]
        return new

    def _another(self, number: int) -> Any:
        from django.db import connections

        old = connections["default"]
        name = _copy(old.vendor, number)
        new = connections.create_connection("default")
        new.settings_dict = {**new.settings_dict, "NAME": name}
        return new


def _copy(vendor: str, number: int) -> str:
    """A copy of the empty database; returns its name."""
    empty = os.environ[EMPTY]
    if vendor == "sqlite":
        path = Path(empty)
        copy = path.with_name(f"{path.stem}-{number}{path.suffix}")
        shutil.copyfile(path, copy)
        return str(copy)
    import psycopg

    name = f"{empty}_{number}"
    with psycopg.connect(_server(os.environ["DATABASE_URL"]), autocommit=True) as server:
        server.execute(f'CREATE DATABASE "{name}" TEMPLATE "{empty}"')
    return name


@contextmanager
def empty_larder(engine: str, server: str, folder: Path) -> Iterator[dict[str, str]]:
    """Environment that names a migrated database and the folder or server of its copies.

    Parameters
    ----------
    engine : sqlite or postgresql
    server : address of a PostgreSQL database that may make others
    folder : for the SQLite files and the signing key
    """
    changes = {"DYE_LARDER_STATE": str(folder), "REDIS_URL": ""}
    if engine == "sqlite":
        path = folder / FILE
        if KEPT in os.environ:  # In a round of the tests, which has made its tables.
            shutil.copy2(first_file(), path)
        yield _migrated({**changes, "DATABASE_URL": "", EMPTY: str(path)})
        return
    import psycopg

    name = f"figures_{uuid4().hex[:10]}"
    with psycopg.connect(server, autocommit=True) as admin:
        admin.execute(f'CREATE DATABASE "{name}"')
        try:
            url = urlsplit(server)._replace(path=f"/{name}").geturl()
            yield _migrated({**changes, "DATABASE_URL": url, EMPTY: name})
        finally:
            _drop(admin, name)


def _drop(admin: Any, name: str) -> None:
    """Drop the copies and the first."""
    found = admin.execute(
        "SELECT datname FROM pg_database WHERE datname = %s OR starts_with(datname, %s)",
        [name, f"{name}_"],
    )
    for (each,) in found.fetchall():
        admin.execute(f'DROP DATABASE IF EXISTS "{each}" WITH (FORCE)')


def _migrated(changes: dict[str, str]) -> dict[str, str]:
    from tests.inventory.scratch import ROOT, python

    environment = {**os.environ, **changes, "PYTHONPATH": str(ROOT)}
    environment["DJANGO_SETTINGS_MODULE"] = "api.settings"
    python(environment, "manage.py", "migrate", "--verbosity", "0")
    return environment


def _server(url: str) -> str:
    return urlsplit(url)._replace(path="/postgres").geturl()
