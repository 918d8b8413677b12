"""How long a recorded draw takes, in durable commits of one row on the same database.

    python tests/benchmarks/draw.py

Makes a database of its own on the engine that DATABASE_URL names (SQLite when unset), draws from
one lot and commits single rows in turn, and prints the ratio of the lower quartiles, which a busy
machine disturbs least. Budget: at most 3.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
import uuid
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
ROUNDS = 400
BUDGET = 3.0


def main() -> None:
    """Measure and print."""
    sys.path.insert(0, str(ROOT))
    os.environ["DJANGO_SETTINGS_MODULE"] = "api.settings"
    if os.environ.get("DYE_LARDER_BENCHMARK_READY"):
        _measure()
        return
    import django

    django.setup()
    from tests.inventory.scratch import scratch_database

    with tempfile.TemporaryDirectory() as folder, scratch_database(Path(folder)) as environment:
        environment["DYE_LARDER_BENCHMARK_READY"] = "1"
        subprocess.run([sys.executable, __file__], env=environment, check=True)


def _measure() -> None:
    import django

    django.setup()
    from django.db import connection, transaction

    from inventory import ledger
    from inventory.entries import NewLot, Place
    from inventory.models import Studio

    at = datetime(2026, 11, 23, 9, tzinfo=UTC)
    studio = Studio.objects.create(name="Pellitory Yard", zone="Europe/London")
    lot = NewLot("AV-1116", "avocado stones", state="fresh", place=Place("fridge"))
    ledger.receive(studio, entry=uuid.uuid4(), at=at, lot=lot, amount=10**9)
    with connection.cursor() as cursor:
        cursor.execute("CREATE TABLE one_row (n bigint NOT NULL)")

    def draw() -> None:
        ledger.draw(studio, entry=uuid.uuid4(), at=at, takes=[("AV-1116", 1000)])

    def commit() -> None:
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("INSERT INTO one_row VALUES (1)")

    draws, commits = _in_turn(draw, commit)
    ratio = draws / commits
    print(
        f"{connection.vendor}: a draw {draws * 1000:.2f} ms, a durable commit of one row "
        f"{commits * 1000:.2f} ms, ratio {ratio:.2f} (budget {BUDGET})"
    )


def _in_turn(first: Callable[[], None], second: Callable[[], None]) -> tuple[float, float]:
    """Lower quartile of the seconds of two actions done in turn: both meet the same machine."""
    taken: tuple[list[float], list[float]] = ([], [])
    for turn in range(ROUNDS + 20):
        for action, times in zip((first, second), taken, strict=True):
            begun = time.perf_counter()
            action()
            if turn >= 20:
                times.append(time.perf_counter() - begun)
    first_s, second_s = (statistics.quantiles(times, n=4)[0] for times in taken)
    return first_s, second_s


if __name__ == "__main__":
    main()
