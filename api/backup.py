"""Copy the whole database into one file while others go on writing, and prove the copy."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
from contextlib import closing
from pathlib import Path

from django.db.backends.base.base import BaseDatabaseWrapper


class BackupFailed(Exception):
    """The copy was not made; nothing was left under its name."""


def back_up(connection: BaseDatabaseWrapper, file: Path) -> str:
    """One sentence on the copy made under `file`, which must not be there yet."""
    if not _can_be_written(file):
        raise BackupFailed(f"{str(file)!r} holds half a letter; name a file in whole ones.")
    if file.exists():
        raise BackupFailed(f"{file} is there already; name a new file.")
    if not file.parent.is_dir():
        raise BackupFailed(f"The folder {file.parent} is not there; make it or name another.")
    copy = _copy_sqlite if connection.vendor == "sqlite" else _copy_postgres
    # Made beside its place and named last: a copy that was cut short never looks like a good one.
    beside = file.with_name(f".{file.name}.{os.getpid()}")
    try:
        beside.touch(mode=0o600, exist_ok=False)
        proved = copy(connection, beside)
        _to_disk(beside)
        os.link(beside, file)
    except FileExistsError as error:
        raise BackupFailed(f"{file} is there already; name a new file.") from error
    finally:
        beside.unlink(missing_ok=True)
    return f"{file}: {file.stat().st_size:,} bytes, {proved}."


def _can_be_written(file: Path) -> bool:
    """Whether a database can be told the name; a shell hands on bytes of any kind."""
    try:
        str(file).encode()
    except UnicodeEncodeError:
        return False
    return True


def _copy_sqlite(connection: BaseDatabaseWrapper, file: Path) -> str:
    with connection.cursor() as cursor:
        # One reading of the whole database as it is now; writers are not stopped by it.
        cursor.execute("VACUUM INTO %s", [str(file)])
    with closing(sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro", uri=True)) as copy:
        faults = copy.execute("PRAGMA integrity_check").fetchall()
        if faults != [("ok",)]:
            raise BackupFailed(f"The copy is not sound: {faults[0][0]}.")
        if broken := copy.execute("PRAGMA foreign_key_check").fetchall():
            raise BackupFailed(f"The copy has {len(broken)} rows that point at nothing.")
        tables = copy.execute("SELECT count(*) FROM sqlite_master WHERE type = 'table'")
        return f"opened again and sound, {tables.fetchone()[0]} tables"


def _copy_postgres(connection: BaseDatabaseWrapper, file: Path) -> str:
    _server_tool(connection, "pg_dump", "--format=custom", f"--file={file}", "--no-password")
    listed = _server_tool(connection, "pg_restore", "--list", str(file))
    tables = sum(" TABLE DATA " in line for line in listed.splitlines())
    if not tables:
        raise BackupFailed("The copy holds no table.")
    return f"opened again and sound, {tables} tables"


def _server_tool(connection: BaseDatabaseWrapper, tool: str, *arguments: str) -> str:
    if shutil.which(tool) is None:
        raise BackupFailed(f"{tool} is not here: install postgresql-client and call again.")
    settings = connection.settings_dict
    named = {
        "PGHOST": settings["HOST"],
        "PGPORT": str(settings["PORT"]),
        "PGUSER": settings["USER"],
        # In the environment and not on the command line, where everybody could read it.
        "PGPASSWORD": settings["PASSWORD"],
        "PGDATABASE": str(settings["NAME"]),
        "PGSSLMODE": settings["OPTIONS"].get("sslmode", ""),
    }
    environ = {**os.environ, **{name: value for name, value in named.items() if value}}
    done = subprocess.run(
        [tool, *arguments],
        env=environ,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode:
        said = (done.stderr.strip().splitlines() or ["no reason given"])[-1]
        raise BackupFailed(f"{tool} stopped: {said}.")
    return done.stdout


def _to_disk(file: Path) -> None:
    with file.open("rb+") as copy:
        os.fsync(copy.fileno())
