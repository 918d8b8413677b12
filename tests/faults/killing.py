"""Processes stopped dead at a chosen moment, and how far they had come by then."""

from __future__ import annotations

import shutil
import signal
import sqlite3
import subprocess
import time
import uuid
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

import psycopg

from tests.faults.places import Larder

LOOK_S = 0.002
PATIENCE_S = 180
WRITERS = (
    "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() "
    "AND pid <> pg_backend_pid() AND backend_xid IS NOT NULL"
)


@dataclass(frozen=True)
class Lengths:
    """How long a process took to begin writing, to write, and to end."""

    before_s: float
    writing_s: float
    after_s: float


def is_writing(place: Larder) -> bool:
    """Whether anybody is inside a transaction that writes."""
    with _watched(place) as found:
        return found()


@contextmanager
def _watched(place: Larder) -> Iterator[Callable[[], bool]]:
    """The same, asked often over one connection: each new one costs a server a process."""
    if not place.url:
        yield lambda: _is_file_written(place)
        return
    with psycopg.connect(place.url, autocommit=True) as line:
        yield lambda: line.execute(WRITERS).fetchone() != (0,)


def _is_file_written(place: Larder) -> bool:
    with closing(sqlite3.connect(place.file, timeout=0, isolation_level=None)) as other:
        try:
            other.execute("BEGIN IMMEDIATE")
        except sqlite3.OperationalError as refusal:
            # Who opens a file first looks it over; that too keeps others out, with another code.
            return refusal.sqlite_errorcode == sqlite3.SQLITE_BUSY
        return False


def kill(process: subprocess.Popen[str], place: Larder) -> tuple[bool, str]:
    """End a process by SIGKILL; whether it was writing when it froze, and what it had said."""
    process.send_signal(signal.SIGSTOP)  # nothing to one that has ended meanwhile
    inside = process.poll() is None and is_writing(place)
    process.kill()
    said = _rest(process)
    _until(lambda: not place.url or not _others(place))
    return inside, said


def _rest(process: subprocess.Popen[str]) -> str:
    """What an ended process had said; `communicate` would lose what a reader has looked at."""
    assert process.stdout is not None
    assert process.stderr is not None
    with process.stdout as out, process.stderr:
        said = out.read()
    process.wait()
    return said


def _others(place: Larder) -> int:
    """Connections of others to this database."""
    return int(
        place.value(
            "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() "
            "AND pid <> pg_backend_pid() AND backend_type = 'client backend'"
        )
    )


def wait_for_writing(process: subprocess.Popen[str], place: Larder) -> None:
    """Till a process has begun to write, or has ended."""
    with _watched(place) as is_written:
        _until(lambda: process.poll() is not None or is_written())


def wait_for_the_end_of_writing(process: subprocess.Popen[str], place: Larder) -> None:
    """Till a process that was writing is no more."""
    with _watched(place) as is_written:
        _until(lambda: process.poll() is not None or not is_written())


def measured(process: subprocess.Popen[str], place: Larder) -> Lengths:
    """A process left to itself, and how long its parts took."""
    began = time.monotonic()
    wait_for_writing(process, place)
    wrote = time.monotonic()
    wait_for_the_end_of_writing(process, place)
    ended = time.monotonic()
    process.communicate()
    return Lengths(wrote - began, ended - wrote, time.monotonic() - ended)


@contextmanager
def copied(place: Larder, folder: Path) -> Iterator[Larder]:
    """A larder like another one, which nobody has open."""
    shutil.copytree(place.environment["DYE_LARDER_STATE"], folder)
    state = {"DYE_LARDER_STATE": str(folder)}
    if not place.url:
        yield Larder({**place.environment, **state})
        shutil.rmtree(folder)
        return
    server, old = place.url.rsplit("/", 1)
    name = f"scratch_{uuid.uuid4().hex[:12]}"
    with psycopg.connect(f"{server}/postgres", autocommit=True) as admin:
        admin.execute(f'CREATE DATABASE "{name}" TEMPLATE "{old}"')  # type: ignore[arg-type]
        try:
            yield Larder({**place.environment, **state, "DATABASE_URL": f"{server}/{name}"})
        finally:
            admin.execute(f'DROP DATABASE "{name}" WITH (FORCE)')  # type: ignore[arg-type]
            shutil.rmtree(folder)


def _until(true: Callable[[], bool]) -> None:
    """Look often; a process that never gets there fails the test."""
    ends = time.monotonic() + PATIENCE_S
    while not true():
        assert time.monotonic() < ends, "it did not get there"
        time.sleep(LOOK_S)
