"""Every budget as a ratio, measured in one run: `python -m tests.benchmarks`.

    python -m tests.benchmarks                      all of it, on each engine that answers
    python -m tests.benchmarks --only placing       some groups; may be given several times
    python -m tests.benchmarks --engine sqlite      one engine
    python -m tests.benchmarks --quick              whether it runs at all; its figures say little
    python -m tests.benchmarks --slow               also what takes minutes
    python -m tests.benchmarks --only lighthouse    the web's general audit, fetched from npm

Each engine has one process and databases of its own. A row gives what was measured, its bare
equivalent in the same run, their ratio, and the budget where there is one.
"""

from __future__ import annotations

import argparse
import os
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from api import suite  # noqa: E402
from tests.benchmarks.larders import empty_larder  # noqa: E402
from tests.benchmarks.rows import Row, as_line, from_line, table  # noqa: E402
from tests.benchmarks.setting import Group, Setting  # noqa: E402

# The name of a group is that of its file and of the function in it.
ON_A_DATABASE = ("growth", "fifty", "age", "outlook", "draw", "letters", "crowd", "mixed")
# These are the same on every engine, so they are done on the first alone.
ONCE = ("placing", "unlocks", "best", "horizon", "visit", "seen", "ordering", "demo")
# These fetch something or take many minutes, so only by their name.
ASKED = ("lighthouse",)
READY = "DYE_LARDER_BENCHMARK_READY"


def main() -> None:
    """Measure what was asked for and print the table."""
    asked = _asked()
    if os.environ.get(READY):
        _measure(asked)
        return
    # Stopped from outside, it still drops the databases that it made.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
    rows = [row for number, engine in enumerate(_engines(asked)) for row in _on(engine, number)]
    print(table(rows))
    missed = sum(row.met is False for row in rows)
    judged = sum(row.met is not None for row in rows)
    print(f"\n{judged - missed} of {judged} budgets met.")


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="python -m tests.benchmarks",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "--only", action="append", choices=(*ON_A_DATABASE, *ONCE, *ASKED), default=[]
    )
    parser.add_argument("--engine", choices=("sqlite", "postgresql"))
    parser.add_argument("--quick", action="store_true", help="a round or two of everything, small")
    parser.add_argument("--slow", action="store_true", help="also what takes minutes")
    parser.add_argument("--first", action="store_true", help=argparse.SUPPRESS)
    return parser.parse_args()


def _engines(asked: argparse.Namespace) -> list[str]:
    """The engine asked for; in a quick run that of DATABASE_URL; else all that answer."""
    if asked.engine:
        return [asked.engine]
    if asked.quick:
        grown = os.environ.get("DATABASE_URL", "").startswith("postgres")
        return ["postgresql" if grown else "sqlite"]
    if suite.postgres_answers(os.environ):
        return ["sqlite", "postgresql"]
    print("No PostgreSQL answers here; its rows are left out.", file=sys.stderr)
    return ["sqlite"]


def _on(engine: str, number: int) -> Iterator[Row]:
    """The rows of one engine, from a process of its own."""
    server = os.environ.get("DYE_LARDER_TEST_POSTGRES", suite.POSTGRES)
    with (
        tempfile.TemporaryDirectory(prefix="dye-larder-figures-") as folder,
        empty_larder(engine, server, Path(folder)) as environment,
    ):
        words = [*sys.argv[1:], "--engine", engine, *([] if number else ["--first"])]
        command = [sys.executable, "-W", "ignore", "-m", "tests.benchmarks", *words]
        environment[READY] = "1"
        with subprocess.Popen(
            command, cwd=ROOT, env=environment, stdout=subprocess.PIPE, text=True
        ) as running:
            assert running.stdout is not None
            try:
                for line in running.stdout:
                    if not line.startswith("{"):
                        continue  # a solver's own word, written past Python to the same place
                    row = from_line(line)
                    print(f"… {'  '.join(filter(None, row.cells))}", file=sys.stderr, flush=True)
                    yield row
            except BaseException:
                running.terminate()
                raise
        if running.returncode:
            raise SystemExit(running.returncode)


def _measure(asked: argparse.Namespace) -> None:
    import django

    django.setup()
    setting = Setting(asked.engine, quick=asked.quick, slow=asked.slow)
    names = ON_A_DATABASE + (ONCE + ASKED if asked.first else ())
    for name in names:
        if name in asked.only or not (asked.only or name in ASKED):
            _print_rows(_group(name), setting)


def _group(name: str) -> Group:
    found: Callable[[Setting], Iterator[Row]] = getattr(
        import_module(f"tests.benchmarks.{name}"), name
    )
    return found


def _print_rows(group: Group, setting: Setting) -> None:
    for row in group(setting):
        print(as_line(row), flush=True)


if __name__ == "__main__":
    main()
