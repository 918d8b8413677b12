"""A database of its own, made and dropped here: for what must really be committed."""

from __future__ import annotations

import atexit
import fcntl
import os
import shutil
import subprocess
import sys
import tempfile
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

import psycopg
from django.conf import settings

ROOT = Path(__file__).resolve().parents[2]
FILE = "larder.sqlite3"


@contextmanager
def scratch_database(folder: Path, *, holding: Path | None = None) -> Iterator[dict[str, str]]:
    """Environment that names a migrated database of the kind in use; gone afterwards.

    Parameters
    ----------
    folder : for its signing key, and its file on SQLite
    holding : a notebook that it begins with

    Migrations take as long as a whole test, so the first of a process is made and kept, and the
    others are copies of it.
    """
    if "postgresql" not in settings.DATABASES["default"]["ENGINE"]:
        shutil.copy2(_first_file(holding), folder / FILE)
        yield _environment("", folder)
        return
    name, first = f"scratch_{uuid.uuid4().hex[:12]}", _first_on_server(holding)
    with psycopg.connect(f"{_server()}/postgres", autocommit=True) as admin:
        admin.execute(f'CREATE DATABASE "{name}" TEMPLATE "{first}"')
        try:
            yield _environment(f"{_server()}/{name}", folder)
        finally:
            admin.execute(f'DROP DATABASE "{name}" WITH (FORCE)')


@cache
def _first_file(holding: Path | None) -> Path:
    folder = Path(tempfile.mkdtemp(prefix="dye-larder-first-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    _fill(_environment("", folder), holding)
    return folder / FILE


@cache
def _first_on_server(holding: Path | None) -> str:
    name = f"first_{uuid.uuid4().hex[:12]}"
    folder = Path(tempfile.mkdtemp(prefix="dye-larder-first-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    _admin(f'CREATE DATABASE "{name}"')
    atexit.register(_admin, f'DROP DATABASE "{name}" WITH (FORCE)')
    _fill(_environment(f"{_server()}/{name}", folder), holding)
    return name


def _admin(sql: str) -> None:
    with psycopg.connect(f"{_server()}/postgres", autocommit=True) as admin:
        admin.execute(sql)  # type: ignore[arg-type]


def _fill(environment: dict[str, str], holding: Path | None) -> None:
    python(environment, "manage.py", "migrate", "--verbosity", "0")
    if holding is not None:
        python(environment, "manage.py", "load", str(holding))


def python(environment: dict[str, str], *words: str, timeout_s: int = 120) -> str:
    """Run Python with that environment; what it printed."""
    done = subprocess.run(
        [sys.executable, *words],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        text=True,
        timeout=timeout_s,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def _environment(url: str, folder: Path) -> dict[str, str]:
    return {
        **os.environ,
        "DATABASE_URL": url,
        "DYE_LARDER_STATE": str(folder),
        "PYTHONPATH": str(ROOT),
        "DJANGO_SETTINGS_MODULE": "api.settings",
    }


def _server() -> str:
    base = settings.DATABASES["default"]
    word = f":{base['PASSWORD']}" if base["PASSWORD"] else ""
    port = f":{base['PORT']}" if base["PORT"] else ""
    return f"postgresql://{base['USER']}{word}@{base['HOST']}{port}"


@contextmanager
def in_turn(*, alone: bool = True) -> Iterator[None]:
    """One crowd at a time: two that fill a server together find it full.

    `alone` False: beside others who are no crowd either.
    """
    with (Path(tempfile.gettempdir()) / "dye-larder-crowd.lock").open("w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX if alone else fcntl.LOCK_SH)
        yield
