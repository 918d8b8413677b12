"""What `manage.py test` runs, in which order, and what it must leave out on this machine."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from itertools import groupby
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
POSTGRES = "postgresql://postgres@127.0.0.1:5432/postgres"
REDIS = "redis://127.0.0.1:6379/15"
CHROMIUM = "chromium"
# The suite decides these itself; what a shell has set for its own studio must not change a test.
OURS = (
    "DATABASE_URL",
    "REDIS_URL",
    "DYE_LARDER_STATE",
    "DYE_LARDER_DEBUG",
    "DYE_LARDER_HOSTS",
    "DYE_LARDER_MAIL",
    "DYE_LARDER_MAIL_FROM",
    "DYE_LARDER_MAIL_WAIT",
    "DYE_LARDER_ADDRESS",
    # Read and rewritten once for both rounds and all the processes that tests start.
    "PYTHONDONTWRITEBYTECODE",
)


# Tests whose answers do not depend on the database beneath; the benchmarks ask both by themselves.
SHOWN = (
    "tests/api/web",
    "tests/api/rest",
    "tests/api/contract",
    "tests/api/problems",
    "tests/api/what_if",
    "tests/api/throttles",
    "tests/api/test_who_may.py",
    "tests/api/test_visitor.py",
    "tests/api/test_bounds.py",
    "tests/api/notebook/test_notebook_csv.py",
    "tests/api/notebook/test_notebook_json.py",
    "tests/faults/test_notebook_files.py",
    "tests/benchmarks",
    # Refused before anybody looks into a database.
    *(
        f"tests/faults/test_addresses.py::test_{name}"
        for name in (
            "an_address_that_asks_for_ever_is_refused_at_once",
            "no_address_answers_a_method_that_changes_or_echoes",
            "where_something_is_entered_no_strange_method_or_host_is_answered",
            "no_address_answers_to_another_host",
            "an_address_that_nobody_serves_is_not_there",
        )
    ),
)
# Where no test touches a database; to read them all takes a worker longer than many tests.
# tests/conftest.py fails where one does.
PURE = (
    "inventory/science",
    "sourcing/forecast",
    "sourcing/ordering",
    "sourcing/putting_by",
    "sourcing/reminding",
    "sourcing/tracing",
    "sourcing/week",
    "tests/inventory/science",
    "tests/sourcing/forecast",
    "tests/sourcing/ordering",
    "tests/sourcing/putting_by",
    "tests/sourcing/reminding",
    "tests/sourcing/tracing",
    "tests/sourcing/week",
)


@dataclass(frozen=True)
class Step:
    """One part of the suite: what it is called, what is run and with which environment.

    Parts that follow each other and have the same `turn` run side by side.
    """

    name: str
    command: Sequence[str]
    environ: Mapping[str, str] = field(default_factory=dict)
    turn: str = ""


@dataclass(frozen=True)
class Outcome:
    """How one part ended: its exit code, the last line it said and how long it took."""

    name: str
    code: int
    last_line: str
    took_s: float


def run_all(say: Callable[[str], None]) -> int:
    """Run every part, even after one failed, then say how each ended; 0 when all are well."""
    with tempfile.TemporaryDirectory(prefix="dye-larder-test-") as folder:
        left_out = missing_servers(os.environ)
        state = Path(folder)
        parts = steps(state, postgres="PostgreSQL" not in left_out)
        outcomes = [outcome for turn in turns(parts) for outcome in _run(turn, state, say)]
    for outcome in outcomes:
        verdict = "ok    " if outcome.code == 0 else "FAILED"
        say(f"{verdict} {outcome.name:11}{outcome.took_s:6.1f} s  {outcome.last_line}")
    failed = any(outcome.code for outcome in outcomes)
    if left_out and in_ci(os.environ):
        say(f"FAILED {' and '.join(left_out)} must be there under CI=true.")
        failed = True
    elif left_out:
        say(f"Left out, as it is not there: what needs {' and '.join(left_out)}.")
    else:
        say("Nothing was left out.")
    return 1 if failed else 0


def run_some(arguments: Sequence[str]) -> int:
    """Run the tests that are named, on the database that the environment names."""
    return subprocess.call([sys.executable, "-m", "pytest", *arguments], cwd=ROOT)


def steps(state: Path, *, postgres: bool) -> list[Step]:
    """The parts of the whole suite, quickest first."""
    python = sys.executable
    parts = [
        Step("format", [python, "-m", "ruff", "format", "--check", "."]),
        Step("lint", [python, "-m", "ruff", "check", "."]),
        Step("types", [python, "-m", "mypy"], turn="read"),
        # The workers of the rounds begin by reading every file of tests, and would all compile
        # what nobody has read yet. What is wrong with one of them the rounds say.
        Step(
            "collect", [python, "-m", "pytest", "--collect-only", "-p", "no:terminal"], turn="read"
        ),
        Step("migrations", [python, "manage.py", "makemigrations", "--check", "--dry-run"]),
        _round("SQLite", state, (), {"DYE_LARDER_TEST_SQLITE": str(state / "test.sqlite3")}, 3),
    ]
    if postgres:
        # What touches no database would only give the same answer again; these show what the
        # floors below have found, and tests/faults asks every address of them here too.
        shown = [
            f"--{'deselect' if '::' in place else 'ignore'}={place}" for place in (*SHOWN, *PURE)
        ]
        again = ("-m", "database", *shown)
        parts.append(_round("PostgreSQL", state, again, _postgres_environ(os.environ), 2))
    return parts


def turns(parts: Sequence[Step]) -> Iterator[list[Step]]:
    """Which parts run at the same time, turn after turn."""
    for turn, part in groupby(parts, key=lambda part: part.turn):
        together = list(part)
        yield from [together] if turn else [[each] for each in together]


def _round(
    name: str, state: Path, chosen: Sequence[str], environ: Mapping[str, str], workers: int
) -> Step:
    """The tests once more; the rounds run side by side.

    A third of their time goes by in waiting (for a lock, a browser, a server, a worker that was
    killed), and what waits in one leaves both cores to the others. The longer round has a worker
    more, so that both end at about the same time.
    """
    command = [
        "-m",
        "pytest",
        "-q",
        "-n",
        str(workers),
        "--dist",
        "worksteal",
        "--durations=10",
        *chosen,
    ]
    # Tables take longer to make than most tests; both rounds make them once, and copy.
    kept = {"DYE_LARDER_TEST_KEPT": str(state / "kept")}
    return Step(name, [sys.executable, *command], {**kept, **environ}, turn="rounds")


def missing_servers(environ: Mapping[str, str]) -> list[str]:
    """Names of the servers that do not answer, and of the browser if there is none."""
    return [
        name
        for name, answers in (
            ("PostgreSQL", postgres_answers),
            ("Redis", redis_answers),
            ("Chromium", lambda environ: chromium(environ) is not None),
        )
        if not answers(environ)
    ]


def postgres_answers(environ: Mapping[str, str]) -> bool:
    """True when the PostgreSQL server for tests lets us in."""
    import psycopg

    try:
        psycopg.connect(_postgres_url(environ), connect_timeout=3).close()
    except psycopg.OperationalError:
        return False
    return True


def redis_answers(environ: Mapping[str, str]) -> bool:
    """True when the Redis server for tests answers a ping."""
    import redis

    url = environ.get("DYE_LARDER_TEST_REDIS", REDIS)
    try:
        with redis.Redis.from_url(url, socket_timeout=3) as connection:
            return bool(connection.ping())
    except redis.RedisError:
        return False


def chromium(environ: Mapping[str, str] = os.environ) -> str | None:
    """Where the browser for tests is; none is ever fetched."""
    return shutil.which(environ.get("DYE_LARDER_TEST_CHROMIUM", CHROMIUM))


def in_ci(environ: Mapping[str, str]) -> bool:
    """True under `CI=true`, where nothing may be left out."""
    return environ.get("CI", "").lower() in {"1", "true", "yes"}


def _postgres_url(environ: Mapping[str, str]) -> str:
    return environ.get("DYE_LARDER_TEST_POSTGRES", POSTGRES)


def _postgres_environ(environ: Mapping[str, str]) -> dict[str, str]:
    # A name of its own for each call, so that two people on one server do not drop each other's.
    name = environ.get("DYE_LARDER_TEST_DATABASE", f"test_dye_larder_{os.getpid()}")
    return {"DATABASE_URL": _postgres_url(environ), "DYE_LARDER_TEST_DATABASE": name}


def _run(together: Sequence[Step], state: Path, say: Callable[[str], None]) -> list[Outcome]:
    """Run parts at the same time; of several each line says whose it is."""
    say(f"--- {' and '.join(step.name for step in together)}")
    running = [_started(step, state) for step in together]
    heads = [f"{step.name:11}" if len(together) > 1 else "" for step in together]
    with ThreadPoolExecutor(len(together)) as hands:
        said = [hands.submit(_followed, *each, say) for each in zip(running, heads, strict=True)]
        try:
            ends = [each.result() for each in said]
        except BaseException:
            # Whoever ends us ends what we started.
            for process in running:
                process.terminate()
            raise
    return [Outcome(step.name, *end) for step, end in zip(together, ends, strict=True)]


def _started(step: Step, state: Path) -> subprocess.Popen[str]:
    kept = {name: value for name, value in os.environ.items() if name not in OURS}
    return subprocess.Popen(
        step.command,
        cwd=ROOT,
        env={**kept, "DYE_LARDER_STATE": str(state), **step.environ},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )


def _followed(
    process: subprocess.Popen[str], head: str, say: Callable[[str], None]
) -> tuple[int, str, float]:
    """Pass on what a process says; its exit code, its last line and its seconds."""
    began, last_line = time.monotonic(), ""
    with process as running:
        assert running.stdout is not None
        for line in running.stdout:
            say(f"{head}{line.rstrip()}")
            last_line = line.strip() or last_line
    return running.returncode, last_line, time.monotonic() - began
