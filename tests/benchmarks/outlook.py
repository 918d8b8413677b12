"""How many questions a week's answer asks the database, and how long, as the studio grows.

    python tests/benchmarks/outlook.py

Loads the demo notebook with 500 lots and 200 runs, then with ten times that, into a scratch SQLite
database, and prints queries, milliseconds of gathering and of working out, and their ratio to one
bare query of the lots table in the same process.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SIZES = ((9, 7), (500, 200), (5_000, 2_000))
RECIPES = (("blush", "wool", "no", ""), ("hedge-olive", "wool", "yes", "alum 12 %"),
           ("slate", "silk", "yes", ""), ("oak-grey", "lyocell", "yes", ""))  # fmt: skip
DYESTUFFS = (("avocado stones", "frozen", "freezer"), ("privet", "dried", "dry store"),
             ("onion skins", "dried", "dry store"))  # fmt: skip


def grown(lots: int, runs: int) -> dict[str, bytes]:
    """The demo notebook with so many lots and runs, each run with fibre of its own."""
    folder = ROOT / "fixtures" / "pellitory-yard"
    pages = {path.name: path.read_text(encoding="utf-8") for path in folder.glob("*.csv")}
    for number in range(lots - 9):
        dyestuff, state, place = DYESTUFFS[number % 3]
        permission = '"corner house, 1 Oct 2026"' if dyestuff == "privet" else ""
        pages["lots.csv"] += (
            f"L{number:05},{dyestuff},{400 + number % 7 * 100} g,{state},{place},"
            f"1 Oct 2026 09:00,1 Oct 2026,,{permission},,yes,,,\n"
        )
    for number in range(runs - 7):
        recipe, fibre, scoured, mordant = RECIPES[number % 4]
        grams = 200 + number % 5 * 100
        since = "3 Nov 2026" if mordant else ""
        state = f"{scoured},{mordant},no,{since}"
        pages["fibre.csv"] += f"W{number:05},{fibre},yarn,{2 * grams} g,{state},,no,yes,,yes,,\n"
        due = f"{1 + number * 27 // runs} Dec 2026 18:00"
        wanted = f"R{number:05},{recipe},{fibre},{grams} g,W{number:05},{due}"
        pages["runs.csv"] += f"{wanted},,,yes,,,no,\n"
        pages["gates.csv"] += f"R{number:05},shade card,,,,,yes\n"
    return {name: text.encode() for name, text in pages.items()}


def main() -> None:
    """One process and one database a size."""
    if os.environ.get("DYE_LARDER_BENCHMARK_READY"):
        _measure(int(sys.argv[1]), int(sys.argv[2]))
        return
    for lots, runs in SIZES:
        with tempfile.TemporaryDirectory() as folder:
            environment = {
                **os.environ,
                "DATABASE_URL": "",
                "DYE_LARDER_STATE": folder,
                "DYE_LARDER_BENCHMARK_READY": "1",
                "DJANGO_SETTINGS_MODULE": "api.settings",
                "PYTHONPATH": str(ROOT),
            }
            migrate = [sys.executable, "manage.py", "migrate", "--verbosity", "0"]
            subprocess.run(migrate, cwd=ROOT, env=environment, check=True)
            words = [sys.executable, __file__, str(lots), str(runs)]
            subprocess.run(words, cwd=ROOT, env=environment, check=True)


def _measure(lots: int, runs: int) -> None:
    import django

    django.setup()
    from datetime import UTC, datetime

    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    from inventory.models import Lot, Studio
    from sourcing.notebook.load import load_files
    from sourcing.outlook import facts_at
    from sourcing.week.project import project

    begun = time.perf_counter()
    load_files(grown(lots, runs))
    took = time.perf_counter() - begun
    (studio,) = Studio.objects.filter(name="Pellitory Yard")
    at = datetime(2026, 11, 23, 7, 30, tzinfo=UTC)
    with CaptureQueriesContext(connection) as queries:
        facts_at(studio, at=at, days=7)
    begun = time.perf_counter()
    facts = facts_at(studio, at=at, days=7)
    gathered = (time.perf_counter() - begun) * 1000
    begun = time.perf_counter()
    project(facts, days=7)
    worked = (time.perf_counter() - begun) * 1000
    begun = time.perf_counter()
    list(Lot.objects.of(studio).values_list())
    bare = (time.perf_counter() - begun) * 1000
    print(f"{lots} lots, {runs} runs: loaded in {took:.1f} s; {len(queries)} queries; gathering "
          f"{gathered:.1f} ms, working out {worked:.1f} ms; together "
          f"{(gathered + worked) / bare:.0f} times one query of all lots")  # fmt: skip


if __name__ == "__main__":
    main()
