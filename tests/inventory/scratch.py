"""A database of its own, made and dropped here: for what must really be committed."""

from __future__ import annotations

import fcntl
import os
import subprocess
import sys
import tempfile
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from django.conf import settings

ROOT = Path(__file__).resolve().parents[2]


@contextmanager
def scratch_database(folder: Path) -> Iterator[dict[str, str]]:
    """Environment that names a migrated database of the kind in use; gone afterwards."""
    if "postgresql" not in settings.DATABASES["default"]["ENGINE"]:
        yield _migrated({"DATABASE_URL": "", "DYE_LARDER_STATE": str(folder)})
        return
    import psycopg

    name = f"scratch_{uuid.uuid4().hex[:12]}"
    server = _server()
    with psycopg.connect(f"{server}/postgres", autocommit=True) as admin:
        admin.execute(f'CREATE DATABASE "{name}"')
        try:
            yield _migrated({"DATABASE_URL": f"{server}/{name}", "DYE_LARDER_STATE": str(folder)})
        finally:
            admin.execute(f'DROP DATABASE "{name}" WITH (FORCE)')


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


def _migrated(changes: dict[str, str]) -> dict[str, str]:
    environment = {**os.environ, **changes, "PYTHONPATH": str(ROOT)}
    environment["DJANGO_SETTINGS_MODULE"] = "api.settings"
    python(environment, "manage.py", "migrate", "--verbosity", "0")
    return environment


def _server() -> str:
    base = settings.DATABASES["default"]
    word = f":{base['PASSWORD']}" if base["PASSWORD"] else ""
    port = f":{base['PORT']}" if base["PORT"] else ""
    return f"postgresql://{base['USER']}{word}@{base['HOST']}{port}"


@contextmanager
def in_turn() -> Iterator[None]:
    """One crowd at a time: two that fill a server together find it full."""
    with (Path(tempfile.gettempdir()) / "dye-larder-crowd.lock").open("w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        yield
