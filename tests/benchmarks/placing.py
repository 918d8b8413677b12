"""How long the placer takes for 500 lots and 200 runs, and for ten times that.

Prints milliseconds of arithmetic (facts in, week out; no database) and their ratio to sorting and
summing the same facts once, as a bare pass over them. Run: `python tests/benchmarks/placing.py`.
"""

from __future__ import annotations

import sys
import time
import tracemalloc
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from inventory.science.facts import FibreFacts, LineFacts, RingFacts, VesselFacts
from sourcing.week.facts import WeekFacts
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS, MONDAY, SHELF, hours_from, local, lot

RECIPES = ("blush", "hedge-olive", "slate", "oak-grey")
FIBRES = {"blush": "wool", "hedge-olive": "wool", "slate": "silk", "oak-grey": "lyocell"}
DYESTUFFS = (("avocado stones", "frozen", "freezer"), ("privet", "dried", "dry store"),
             ("onion skins", "dried", "dry store"))  # fmt: skip


def busy_studio(*, lots: int, runs: int) -> WeekFacts:
    """The demo studio grown: eight pots, four rings, so many lots and so many runs."""
    shelf_lots = []
    for number in range(lots):
        dyestuff, state, place = DYESTUFFS[number % 3]
        day = MONDAY - timedelta(days=number % 150)
        shelf_lots.append(
            lot(f"L{number:05}", dyestuff, 400 + number % 7 * 100, state, place, local(day, 9))
        )
    wanted, fibre = [], []
    for number in range(runs):
        recipe = RECIPES[number % 4]
        code = f"R{number:05}"
        shade = next(row.shade for row in FACTS.recipes if row.code == recipe)
        weight = 200_000 + number % 5 * 100_000
        scoured = recipe != "blush"
        mordant = "alum" if recipe == "hedge-olive" else ""
        fibre.append(FibreFacts(f"W{number:05}", FIBRES[recipe], "yarn", 2 * weight, scoured,
                                mordant, FACTS.recipes[0].mordant_percent))  # fmt: skip
        due = local(MONDAY + timedelta(days=3 + number * 39 // max(runs, 1)), 18)
        wanted.append(replace(FACTS.runs[0], code=code, shade=shade, recipe=recipe,
                              fibre=FIBRES[recipe], weight_mg=weight, fibre_lot=f"W{number:05}",
                              due=due, jar=""))  # fmt: skip
    pots = tuple(VesselFacts(f"P{n}", "pot", "stainless", 40_000, 32_000, iron_pot=n > 5)
                 for n in range(1, 9))  # fmt: skip
    tubs = tuple(VesselFacts(f"B{n}", "bucket", "plastic", 50_000, 40_000) for n in range(1, 9))
    supplies = tuple(replace(row, left_mg=row.left_mg * runs) for row in SHELF.supplies)
    jars = tuple(replace(jar, left_ul=jar.left_ul * runs) for jar in SHELF.jars)
    shelf = replace(
        SHELF,
        lots=tuple(shelf_lots),
        fibre=tuple(fibre),
        vessels=(*pots, *tubs),
        rings=tuple(RingFacts(f"R{n}", 3000) for n in range(4)),
        lines=(LineFacts("line", 9_000_000),),
        supplies=supplies,
        jars=jars,
    )
    hours = tuple(replace(row, hands_min=row.hands_min * 4) for row in hours_from(MONDAY, 43))
    return replace(FACTS, shelf=shelf, runs=tuple(wanted), hours=hours)


def best_of(work: Callable[[], object], times: int = 5) -> float:
    """Milliseconds of the fastest of some runs."""
    fastest = float("inf")
    for _ in range(times):
        begun = time.perf_counter()
        work()
        fastest = min(fastest, time.perf_counter() - begun)
    return fastest * 1000


def bare(facts: WeekFacts) -> tuple[int, list[str]]:
    """One pass over the same facts: what is there in all, and the runs in order."""
    whole = sum(row.left_mg for row in facts.shelf.lots) + sum(r.weight_mg for r in facts.runs)
    return whole, [r.code for r in sorted(facts.runs, key=lambda r: (r.due is None, r.due, r.code))]


def main() -> None:
    for lots, runs in ((500, 200), (5_000, 2_000)):
        facts = busy_studio(lots=lots, runs=runs)
        week = project(facts, days=7)
        said = {
            word: sum(a.answer == word for a in week.answers) for word in ("yes", "not yet", "no")
        }
        whole = best_of(lambda facts=facts: project(facts, days=7), 3)
        floor = best_of(lambda facts=facts: bare(facts))
        tracemalloc.start()
        project(facts, days=7)
        peak = tracemalloc.get_traced_memory()[1] / 2**20
        tracemalloc.stop()
        print(f"{lots} lots, {runs} runs: {whole:.1f} ms, {whole / floor:.0f} times one bare pass, "
              f"peak {peak:.1f} MiB, {said}")  # fmt: skip


if __name__ == "__main__":
    main()
