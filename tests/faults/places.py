"""A larder of its own for each fault: made, counted, locked by somebody else, looked over."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import psycopg

from tests.inventory.scratch import ROOT, scratch_database

LONG = os.environ.get("DYE_LARDER_LONG") == "1"
YARD = ROOT / "fixtures" / "pellitory-yard"
LOFT = ROOT / "fixtures" / "kelpwick-loft"
HANDS = Path(__file__).with_name("hands.py")
BUSY = "The larder is busy: others were writing all the while. Nothing was recorded; try again."
NO_ROOM = (
    "The larder cannot be written: its disk is full or at fault. "
    "Nothing was recorded; make room and try again."
)
OUT_OF_REACH = (
    "The larder does not answer. What was being recorded is there whole or not at all; "
    "enter the same again, it counts once."
)
TRY_AGAIN = 75


@dataclass(frozen=True)
class Larder:
    """A database with its tables, and the environment that names it."""

    environment: dict[str, str] = field(repr=False)

    @property
    def url(self) -> str:
        """The address of its server; empty on SQLite."""
        return self.environment["DATABASE_URL"]

    @property
    def file(self) -> Path:
        return Path(self.environment["DYE_LARDER_STATE"]) / "larder.sqlite3"

    def begun(self, *words: str, **options: Any) -> subprocess.Popen[str]:
        """A Python process of this larder, running."""
        return subprocess.Popen(
            [sys.executable, *words],
            cwd=ROOT,
            env=self.environment,
            text=True,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            **options,
        )

    def called(self, *words: str, **options: Any) -> subprocess.CompletedProcess[str]:
        """A command of `manage.py`, to its end."""
        process = self.begun("manage.py", *words, **options)
        said, told = process.communicate(timeout=180)
        return subprocess.CompletedProcess(words, process.returncode, said, told)

    def hand(self, *words: str, **options: Any) -> subprocess.CompletedProcess[str]:
        """What `hands.py` does and says."""
        return self.hand_of(HANDS, *words, **options)

    def hand_of(
        self, program: Path, *words: str, **options: Any
    ) -> subprocess.CompletedProcess[str]:
        """What another such program does and says."""
        process = self.begun(str(program), *words, **options)
        said, told = process.communicate(timeout=180)
        return subprocess.CompletedProcess(words, process.returncode, said, told)

    def waiting(self, seconds: int) -> Larder:
        """The same larder for those who wait so long for others."""
        return Larder({**self.environment, "DYE_LARDER_WAIT": str(seconds)})

    def value(self, sql: str) -> Any:
        """One value, read past every verb."""
        return self.rows(sql)[0][0]

    def rows(self, sql: str) -> list[tuple[Any, ...]]:
        if self.url:
            with psycopg.connect(self.url) as other:
                return list(other.execute(sql).fetchall())  # type: ignore[arg-type]
        with closing(sqlite3.connect(self.file)) as other:
            return other.execute(sql).fetchall()

    def counts(self) -> dict[str, int]:
        """How many rows each table has."""
        one = "SELECT '{0}', count(*) FROM \"{0}\""
        return dict(self.rows(" UNION ALL ".join(map(one.format, self._tables()))))

    def _tables(self) -> list[str]:
        every = (
            "SELECT table_name FROM information_schema.tables WHERE table_schema = 'public'"
            if self.url
            else "SELECT name FROM sqlite_master WHERE type = 'table'"
        )
        return sorted(row[0] for row in self.rows(every))

    def is_sound(self) -> bool:
        """Whether `audit` finds nothing, and SQLite finds its file whole."""
        if not self.url and self.value("PRAGMA integrity_check") != "ok":
            return False
        audit = self.called("audit")
        assert audit.returncode == 0, audit.stdout + audit.stderr
        return "faults" not in audit.stdout


@contextmanager
def larder(folder: Path, *, loaded: bool) -> Iterator[Larder]:
    """A larder with its tables; `loaded`: with the demo studio in it."""
    folder.mkdir(exist_ok=True)
    with scratch_database(folder, holding=YARD if loaded else None) as environment:
        yield Larder(environment)


@contextmanager
def writing(place: Larder) -> Iterator[None]:
    """Somebody else holds the write lock; who reads is not in the way."""
    with _held(place, file="BEGIN IMMEDIATE", server="EXCLUSIVE"):
        yield


@contextmanager
def alone(place: Larder) -> Iterator[None]:
    """Somebody else has the larder to himself; nobody can even read."""
    if not place.url:
        with closing(sqlite3.connect(place.file, isolation_level=None)) as other:
            other.execute("PRAGMA locking_mode = EXCLUSIVE")
            other.execute("BEGIN EXCLUSIVE")
            yield
        return
    with _held(place, file="", server="ACCESS EXCLUSIVE"):
        yield


@contextmanager
def _held(place: Larder, *, file: str, server: str) -> Iterator[None]:
    if place.url:
        with psycopg.connect(place.url) as other:
            names = ", ".join(f'"{name}"' for name in place._tables())
            other.execute(f"LOCK TABLE {names} IN {server} MODE")  # type: ignore[arg-type]
            yield
        return
    with closing(sqlite3.connect(place.file, isolation_level=None)) as other:
        other.execute(file)
        yield


def untraced(done: subprocess.CompletedProcess[str]) -> str:
    """What a command told, which is never a trace of the program."""
    assert "Traceback" not in done.stderr, done.stderr
    return done.stderr.strip()


def printed(done: subprocess.CompletedProcess[str]) -> str:
    """What a process printed that ended well."""
    assert done.returncode == 0, done.stderr
    untraced(done)
    return done.stdout.strip()
