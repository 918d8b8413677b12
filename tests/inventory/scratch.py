"""A database of its own, made and dropped here: for what must really be committed."""

from __future__ import annotations

import fcntl
import shutil
import subprocess
import sys
import tempfile
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.inventory.firsts import (
    FILE,
    ROOT,
    administer,
    environment_of,
    first_file,
    first_on_server,
    is_server,
    server,
)


@contextmanager
def scratch_database(folder: Path, *, holding: Path | None = None) -> Iterator[dict[str, str]]:
    """Environment that names a migrated database of the kind in use; gone afterwards.

    Parameters
    ----------
    folder : for its signing key, and its file on SQLite
    holding : a notebook that it begins with
    """
    if not is_server():
        shutil.copy2(first_file(holding), folder / FILE)
        yield environment_of("", folder)
        return
    name, first = f"scratch_{uuid.uuid4().hex[:12]}", first_on_server(holding)
    administer(f'CREATE DATABASE "{name}" TEMPLATE "{first}"')
    try:
        yield environment_of(f"{server()}/{name}", folder)
    finally:
        administer(f'DROP DATABASE "{name}" WITH (FORCE)')


def python(environment: dict[str, str], *words: str, timeout_s: int = 300) -> str:
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


@contextmanager
def in_turn(*, alone: bool = True) -> Iterator[None]:
    """One crowd at a time: two that fill a server together find it full.

    `alone` False: beside others who are no crowd either.
    """
    with (Path(tempfile.gettempdir()) / "dye-larder-crowd.lock").open("w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX if alone else fcntl.LOCK_SH)
        yield
