"""The placer alone: frozen facts in, a week out, no database; its arithmetic and its memory.

The bare equivalent is one pass of a plain loop over as many moments as the placer tries, each
asking once whether a vessel is free and once whether there are hands: what no placer that looks at
that many moments could do without.
"""

from __future__ import annotations

import time
import tracemalloc
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from unittest.mock import patch

from inventory.science.facts import FibreFacts, LineFacts, LotFacts, RingFacts, Shelf, VesselFacts
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.project import project
from sourcing.week.ways import Ways
from tests.benchmarks.rounds import in_turn
from tests.benchmarks.rows import Row, number
from tests.benchmarks.setting import Setting
from tests.sourcing.week.pellitory import FACTS, MONDAY, SHELF, hours_from, local, lot

BUDGET_MS, BUDGET_MIB = 25, 64
RECIPES = ("blush", "hedge-olive", "slate", "oak-grey")
FIBRES = {"blush": "wool", "hedge-olive": "wool", "slate": "silk", "oak-grey": "lyocell"}
DYESTUFFS = (("avocado stones", "frozen", "freezer"), ("privet", "dried", "dry store"),
             ("onion skins", "dried", "dry store"))  # fmt: skip
COUNTED = (
    "placing: `project` without unlocks, frozen facts of eight pots, four rings and {words}; "
    "milliseconds of this process's own time, so that others on the machine do not count; lower "
    "quartile of {rounds} rounds in turn. Bare: a plain loop over as many trial moments. Memory: "
    "the peak that tracemalloc sees, facts left out."
)


def placing(setting: Setting) -> Iterator[Row]:
    """Arithmetic and memory, at the size of the budget and at ten times that."""
    sizes = ((40, 16), (80, 32)) if setting.quick else ((500, 200), (5_000, 2_000))
    for lots, runs in sizes:
        facts = busy_studio(lots=lots, runs=runs)
        rounds = 5 if (lots, runs) == (500, 200) else 1
        words = f"{lots:,} lots, {runs:,} runs"
        counted = COUNTED.format(words="as many lots and runs as said", rounds="up to 5")
        judged = runs == sizes[0][1]
        yield _arithmetic(facts, words, rounds, counted, judged=judged)
        yield _memory(facts, words, counted, judged=judged)


def _arithmetic(facts: WeekFacts, words: str, rounds: int, counted: str, *, judged: bool) -> Row:
    moments = trial_moments(facts)
    ours, bare = in_turn(
        lambda: project(facts, days=7), lambda: bare_moments(moments),
        rounds=rounds, warm=0, least=1, clock=time.process_time,
    )  # fmt: skip
    took = ours * 1000
    return Row(
        f"placing {words}", f"{number(took)} ms",
        f"{number(bare * 1000)} ms, {moments:,} trial moments", ratio=ours / bare,
        budget=f"≤ {BUDGET_MS} ms" if judged else "", met=took <= BUDGET_MS if judged else None,
        counted=counted,
    )  # fmt: skip


def _memory(facts: WeekFacts, words: str, counted: str, *, judged: bool) -> Row:
    tracemalloc.start()
    project(facts, days=7)
    peak = tracemalloc.get_traced_memory()[1] / 2**20
    tracemalloc.stop()
    return Row(
        f"memory {words}", f"{number(peak)} MiB", f"{BUDGET_MIB} MiB", ratio=peak / BUDGET_MIB,
        budget=f"≤ {BUDGET_MIB} MiB" if judged else "", met=peak <= BUDGET_MIB if judged else None,
        counted=counted,
    )  # fmt: skip


def trial_moments(facts: WeekFacts) -> int:
    """How many moments the placer tries: for each it asks once for a way through pots and rings."""
    with patch.object(Ways, "of", autospec=True, side_effect=Ways.of) as asked:
        project(facts, days=7)
    return int(asked.call_count)


def bare_moments(moments: int) -> int:
    """A plain loop over as many moments, looking up what a vessel and a day have."""
    starts, hands = list(range(0, 40_000, 60)), [360] * 43
    free = 0
    for moment in range(moments):
        minute = moment * 7 % 40_000
        if bisect_right(starts, minute) and hands[minute // 1_000] >= 30:
            free += 1
    return free


def busy_studio(*, lots: int, runs: int) -> WeekFacts:
    """The demo studio grown: eight pots, four rings, so many lots and so many runs."""
    wanted, fibre = [], []
    for number_ in range(runs):
        run, cloth = _run(number_, runs)
        wanted.append(run)
        fibre.append(cloth)
    hours = tuple(replace(row, hands_min=row.hands_min * 4) for row in hours_from(MONDAY, 43))
    return replace(FACTS, shelf=_shelf(lots, runs, tuple(fibre)), runs=tuple(wanted), hours=hours)


def _run(number_: int, runs: int) -> tuple[RunFacts, FibreFacts]:
    recipe = RECIPES[number_ % 4]
    shade = next(row.shade for row in FACTS.recipes if row.code == recipe)
    weight = 200_000 + number_ % 5 * 100_000
    cloth = FibreFacts(f"W{number_:05}", FIBRES[recipe], "yarn", 2 * weight, recipe != "blush",
                       "alum" if recipe == "hedge-olive" else "",
                       FACTS.recipes[0].mordant_percent)  # fmt: skip
    due = local(MONDAY + timedelta(days=3 + number_ * 39 // max(runs, 1)), 18)
    run = replace(FACTS.runs[0], code=f"R{number_:05}", shade=shade, recipe=recipe,
                  fibre=FIBRES[recipe], weight_mg=weight, fibre_lot=cloth.code, due=due,
                  jar="")  # fmt: skip
    return run, cloth


def _shelf(lots: int, runs: int, fibre: tuple[FibreFacts, ...]) -> Shelf:
    pots = tuple(VesselFacts(f"P{n}", "pot", "stainless", 40_000, 32_000, iron_pot=n > 5)
                 for n in range(1, 9))  # fmt: skip
    tubs = tuple(VesselFacts(f"B{n}", "bucket", "plastic", 50_000, 40_000) for n in range(1, 9))
    return replace(
        SHELF,
        lots=tuple(_lot(number_) for number_ in range(lots)),
        fibre=fibre,
        vessels=(*pots, *tubs),
        rings=tuple(RingFacts(f"R{n}", 3000) for n in range(4)),
        lines=(LineFacts("line", 9_000_000),),
        supplies=tuple(replace(row, left_mg=row.left_mg * runs) for row in SHELF.supplies),
        jars=tuple(replace(jar, left_ul=jar.left_ul * runs) for jar in SHELF.jars),
    )


def _lot(number_: int) -> LotFacts:
    dyestuff, state, place = DYESTUFFS[number_ % 3]
    since = local(MONDAY - timedelta(days=number_ % 150), 9)
    return lot(f"L{number_:05}", dyestuff, 400 + number_ % 7 * 100, state, place, since)
