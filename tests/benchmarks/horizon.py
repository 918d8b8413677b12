"""The long horizon: 28 days and 120 runs, eight pots at three sites, what lacks fetched between.

Seconds are those that pass, the solver loaded before. The bare equivalent is the same studio with
all its things at one site.
"""

from __future__ import annotations

import resource
import time
import tracemalloc
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from inventory.science.facts import LineFacts
from sourcing.week import best as looking
from sourcing.week.best import Effort, Progress
from sourcing.week.checking import check
from sourcing.week.facts import WeekFacts
from sourcing.week.project import project
from tests.benchmarks.placing import busy_studio
from tests.benchmarks.rounds import in_turn
from tests.benchmarks.rows import Row, number
from tests.benchmarks.setting import Setting

SITES = ("yard", "barn", "loft")
RUNS, DAYS = 120, 28
COUNTED = (
    "horizon: 120 runs and 28 days in the demo studio grown to eight pots, four rings and three "
    "lines, its things dealt out to three sites 45 min apart with the people of each; faults are "
    "those that the checker finds. First: the first week better than the plain one; 1 %: fibre on "
    "time within one part in a hundred of what no week is better than."
)


def horizon(setting: Setting) -> Iterator[Row]:
    """Place, best and memory of the long horizon; smaller where it only shows that it runs."""
    from ortools.sat.python import cp_model

    cp_model.CpModel()
    runs, days = (8, 7) if setting.quick else (RUNS, DAYS)
    effort = Effort(placings=60) if setting.quick else Effort()
    facts = three_sites(runs)
    yield _placed(facts, busy_studio(lots=2 * runs, runs=runs), days)
    yield _memory(facts, days)
    yield from _best(facts, days, effort)


def three_sites(runs: int) -> WeekFacts:
    """The grown studio with its things in turn at one of three sites, people and a line at each."""
    facts = busy_studio(lots=2 * runs, runs=runs)
    shelf = facts.shelf

    def dealt(things: tuple[Any, ...], *, by: int = 1) -> tuple[Any, ...]:
        return tuple(replace(row, site=SITES[n // by % 3]) for n, row in enumerate(things))

    pots = [row for row in shelf.vessels if row.kind == "pot"]
    tubs = [row for row in shelf.vessels if row.kind != "pot"]
    hours = tuple(
        replace(row, site=site, hands_min=row.hands_min // 3) for row in facts.hours
        for site in SITES
    )  # fmt: skip
    return replace(
        facts,
        sites=SITES,
        hours=hours,
        blocks=(),
        hanging=(),
        waters=tuple(replace(row, site="") for row in facts.waters),
        shelf=replace(
            shelf,
            lots=dealt(shelf.lots, by=4),
            supplies=dealt(shelf.supplies),
            jars=dealt(shelf.jars),
            baths=dealt(shelf.baths),
            fibre=dealt(shelf.fibre, by=4),
            vessels=(*dealt(tuple(pots)), *dealt(tuple(tubs))),
            rings=dealt(shelf.rings),
            lines=tuple(LineFacts(f"line {site}", 3_000_000, site=site) for site in SITES),
        ),
    )


def _placed(facts: WeekFacts, at_one: WeekFacts, days: int) -> Row:
    weeks = []
    ours, bare = in_turn(
        lambda: weeks.append(project(facts, days=days)), lambda: project(at_one, days=days),
        rounds=3, warm=0, clock=time.process_time,
    )  # fmt: skip
    week = weeks[-1]
    ways = sum(step.kind == "carry" for row in week.answers for step in row.steps)
    yes = sum(row.answer == "yes" for row in week.answers)
    return Row(
        f"{len(facts.runs)} runs, {days} days, 3 sites placed",
        f"{number(ours * 1000)} ms, {yes} yes, {ways} ways, {len(check(facts, week))} faults",
        f"{number(bare * 1000)} ms at one site", ratio=ours / bare, counted=COUNTED,
    )  # fmt: skip


def _memory(facts: WeekFacts, days: int) -> Row:
    tracemalloc.start()
    project(facts, days=days)
    peak = tracemalloc.get_traced_memory()[1] / 2**20
    tracemalloc.stop()
    return Row("memory to place it", f"{number(peak)} MiB", "-", ratio=1.0, counted=COUNTED)


def _best(facts: WeekFacts, days: int, effort: Effort) -> Iterator[Row]:
    heard: list[tuple[float, Progress]] = []
    since = time.perf_counter()
    found = looking.best(
        facts, days=days, effort=effort, clock=time.perf_counter,
        told=lambda progress: heard.append((time.perf_counter() - since, progress)),
    )  # fmt: skip
    took = time.perf_counter() - since
    first = next((at for at, row in heard if row.goals.better_than(found.plain)), None)
    near = next(
        (at for at, row in heard
         if row.bound is not None and row.goals.on_time >= row.bound.on_time * 0.99), None
    )  # fmt: skip
    faults = len(check(facts, found.week))
    yield Row(
        "best of it", f"first {_seconds(first)}, 1 % {_seconds(near)}, left off {_seconds(took)}, "
        f"{faults} faults", "-", ratio=1.0, counted=COUNTED,
    )  # fmt: skip
    bound = found.goals.on_time if found.bound is None else found.bound.on_time
    yield Row(
        "fibre on time of it",
        f"{number(found.goals.on_time / 1e6)} kg, no week more than {number(bound / 1e6)} kg",
        f"{number(found.plain.on_time / 1e6)} kg",
        ratio=found.goals.on_time / max(1, found.plain.on_time), counted=COUNTED,
    )  # fmt: skip
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    yield Row("memory of best", f"{number(peak)} MiB", "-", ratio=1.0, counted=COUNTED)


def _seconds(value: float | None) -> str:
    return "never" if value is None else f"{number(value)} s"
