"""Larders that others are copies of: made once, for a whole round of the suite where it says so.

Its tables take a larder longer than most tests take. `DYE_LARDER_TEST_KEPT` names the folder of a
round, which all its processes share; without it each process makes what it needs for itself.
"""

from __future__ import annotations

import atexit
import fcntl
import hashlib
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

import psycopg
from django.conf import settings

ROOT = Path(__file__).resolve().parents[2]
FILE = "larder.sqlite3"
KEPT = "DYE_LARDER_TEST_KEPT"
MADE = "made"  # Written last: who finds it finds a whole larder.


def first_file(holding: Path | None = None) -> Path:
    """The file of a larder with its tables, and with a notebook; on SQLite."""
    folder, before = _folder("file", holding), None if holding is None else first_file()
    with _alone(folder) as is_made:
        if not is_made:
            if before is not None:
                shutil.copy2(before, folder / FILE)
            _fill(environment_of("", folder), holding)
    return folder / FILE


def first_on_server(holding: Path | None = None) -> str:
    """The name of such a database; on PostgreSQL."""
    folder = _folder("server", holding)
    before = None if holding is None else first_on_server()
    name = f"first_{hashlib.blake2b(str(folder).encode(), digest_size=6).hexdigest()}"
    with _alone(folder) as is_made:
        if not is_made:
            administer(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)')
            administer(f'CREATE DATABASE "{name}"' + (f' TEMPLATE "{before}"' if before else ""))
            (folder / "database").write_text(name, encoding="utf-8")
            _fill(environment_of(f"{server()}/{name}", folder), holding)
    return name


def drop_firsts() -> None:
    """Drop what a server keeps for copies."""
    for file in _kept().glob("*/database"):
        administer(f'DROP DATABASE IF EXISTS "{file.read_text(encoding="utf-8")}" WITH (FORCE)')
        shutil.rmtree(file.parent)


def environment_of(url: str, folder: Path) -> dict[str, str]:
    """The environment of a process whose larder that is."""
    return {
        **os.environ,
        "DATABASE_URL": url,
        "DYE_LARDER_STATE": str(folder),
        "PYTHONPATH": str(ROOT),
        "DJANGO_SETTINGS_MODULE": "api.settings",
    }


def administer(sql: str) -> None:
    """Do something to the databases of the server themselves."""
    with psycopg.connect(f"{server()}/postgres", autocommit=True) as admin:
        admin.execute(sql)  # type: ignore[arg-type]


def server() -> str:
    """The address of the server, without a database."""
    base = settings.DATABASES["default"]
    word = f":{base['PASSWORD']}" if base["PASSWORD"] else ""
    port = f":{base['PORT']}" if base["PORT"] else ""
    return f"postgresql://{base['USER']}{word}@{base['HOST']}{port}"


def is_server() -> bool:
    """Whether a server is the database beneath."""
    return "postgresql" in settings.DATABASES["default"]["ENGINE"]


@cache
def _kept() -> Path:
    if KEPT in os.environ:
        return Path(os.environ[KEPT])
    folder = Path(tempfile.mkdtemp(prefix="dye-larder-first-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    if is_server():
        atexit.register(drop_firsts)  # before the folder, which says what there is
    return folder


def _folder(kind: str, holding: Path | None) -> Path:
    folder = _kept() / f"first-{kind}-{'bare' if holding is None else holding.name}"
    folder.mkdir(parents=True, exist_ok=True)
    return folder


@contextmanager
def _alone(folder: Path) -> Iterator[bool]:
    """One process makes it, the others wait; whether it is made."""
    with (folder / "turn").open("w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        yield (folder / MADE).exists()
        (folder / MADE).touch()


def _fill(environment: dict[str, str], holding: Path | None) -> None:
    if holding is None:
        _manage(environment, "migrate", "--verbosity", "0")
    else:
        _manage(environment, "load", str(holding))


def _manage(environment: dict[str, str], *words: str) -> None:
    command = [sys.executable, "manage.py", *words]
    done = subprocess.run(
        command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
