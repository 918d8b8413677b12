"""The best week: how soon it is there, how soon it is proved, and what it gains on the plain one.

Seconds are those that pass, as the solver works in one thread of this process; the solver is
loaded before. The bare equivalent is one plain week of the same studio.
"""

from __future__ import annotations

import resource
import statistics
import time
from collections.abc import Iterator
from dataclasses import replace

from sourcing.week import best as looking
from sourcing.week.best import Best, Effort, Progress
from sourcing.week.best.replaying import Replay
from sourcing.week.facts import WeekFacts
from sourcing.week.guidance import PLAIN, Guidance
from sourcing.week.project import project
from tests.benchmarks.placing import busy_studio
from tests.benchmarks.rounds import in_turn
from tests.benchmarks.rows import Row, number
from tests.benchmarks.setting import Setting
from tests.sourcing.week.random_studios import studio

BUDGET_S, BUDGET_GAP = 2.0, 0.01
SIZES = ((10, 7), (30, 7), (60, 14), (120, 28))  # runs and days
COUNTED = (
    "best: the demo studio grown to eight pots and four rings, so many runs and days. First: the "
    "first week better than the plain one; 1 %: fibre on time within one part in a hundred of "
    "what no week is better than; proved: equal to it. Dry: by how much the minutes until dry may "
    "still fall. Memory: the most that this process has had by then."
)
GAINED = "best: random studios, a week each; what they gain on the plain week, over all of them."


def best(setting: Setting) -> Iterator[Row]:
    """Each size by itself, then many random studios, then how long a week takes to place anew."""
    _warm()
    for runs, days in SIZES[:1] if setting.quick else SIZES:
        yield from _of_size(runs, days, Effort(placings=200) if setting.quick else Effort())
    yield from _over_studios(range(3 if setting.quick else 200))
    yield _placed_anew(10 if setting.quick else 30, setting)


def _warm() -> None:
    """Load the solver, which takes longer than a small week."""
    from ortools.sat.python import cp_model

    cp_model.CpModel()


def _of_size(runs: int, days: int, effort: Effort) -> Iterator[Row]:
    facts = busy_studio(lots=2 * runs, runs=runs)
    heard: list[tuple[float, Progress]] = []
    since = time.perf_counter()
    found = looking.best(
        facts, days=days, effort=effort, clock=time.perf_counter,
        told=lambda progress: heard.append((time.perf_counter() - since, progress)),
    )  # fmt: skip
    took = time.perf_counter() - since
    (plain_s,) = in_turn(lambda: project(facts, days=days), rounds=3, warm=0)
    near = _when(heard, BUDGET_GAP)
    words = f"{runs} runs, {days} days"
    judged = (runs, days) == (30, 7)
    yield Row(
        f"best {words}",
        f"first {_first(heard, found)}, 1 % {_seconds(near)}, proved {_seconds(_when(heard, 0))}, "
        f"left off {_seconds(took)}", f"{number(plain_s)} s", ratio=took / plain_s,
        budget=f"1 % in {BUDGET_S:g} s" if judged else "",
        met=near is not None and near <= BUDGET_S if judged else None, counted=COUNTED,
    )  # fmt: skip
    yield Row(
        f"fibre and hours {words}",
        f"{_kg(found.goals.on_time)}, dry {number(found.goals.dry_min / 60 / 24 / runs)} days a "
        f"run, gap {_percent(_dry_gap(found))}",
        f"{_kg(found.plain.on_time)}, {number(found.plain.dry_min / 60 / 24 / runs)} days",
        ratio=found.goals.dry_min / found.plain.dry_min, counted=COUNTED,
    )  # fmt: skip
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    yield Row(f"memory {words}", f"{number(peak)} MiB", "-", ratio=1.0, counted=COUNTED)


def _when(heard: list[tuple[float, Progress]], gap: float) -> float | None:
    """When fibre on time was first so near to what no week is better than; None: never."""
    for at, progress in heard:
        bound = progress.bound
        if bound is not None and progress.goals.on_time >= bound.on_time * (1 - gap):
            return at
    return None


def _first(heard: list[tuple[float, Progress]], found: Best) -> str:
    better = [at for at, progress in heard if progress.goals.better_than(found.plain)]
    return _seconds(better[0] if better else None)


def _dry_gap(found: Best) -> float:
    assert found.bound is not None
    return 1 - found.bound.dry_min / found.goals.dry_min if found.goals.dry_min else 0.0


def _over_studios(numbers: range) -> Iterator[Row]:
    effort = Effort(placings=600, solver=0.5)
    found = [looking.best(studio(number), days=7, effort=effort) for number in numbers]
    better = sum(row.differs for row in found)
    yield Row(
        f"best of {len(found)} studios", f"{better} better", f"{len(found)} plain",
        ratio=better / len(found), counted=GAINED,
    )  # fmt: skip
    for what, name in (("fibre on time", "on_time"), ("lots saved", "saved_mg")):
        pairs = [(getattr(row.goals, name), getattr(row.plain, name)) for row in found]
        yield _gained(what, pairs)
    proved = sum(row.bound is not None and row.goals.on_time == row.bound.on_time for row in found)
    yield Row(
        "fibre on time proved", f"{proved} studios", f"{len(found)} studios",
        ratio=proved / len(found), counted=GAINED,
    )  # fmt: skip


def _gained(what: str, pairs: list[tuple[int, int]]) -> Row:
    """Sum, median and quartiles of what is gained, of those that gain anything."""
    gains = sorted((mine - plain) / 1e6 for mine, plain in pairs if mine != plain)
    low, middle, high = statistics.quantiles(gains * 2 or [0.0, 0.0], n=4, method="inclusive")
    all_plain = sum(plain for _, plain in pairs)
    spread = f"median {middle:+.2f} kg, quartiles {low:+.2f} to {high:+.2f} kg"
    return Row(
        f"{what} gained", f"{len(gains)} studios differ: {spread}", _kg(all_plain),
        ratio=sum(mine for mine, _ in pairs) / all_plain if all_plain else 1.0, counted=GAINED,
    )  # fmt: skip


def _placed_anew(runs: int, setting: Setting) -> Row:
    """A run moved in the middle of the order, beside the whole week placed."""
    facts: WeekFacts = busy_studio(lots=2 * runs, runs=runs)
    replay = Replay(facts, 7)
    order = tuple(sorted(run.code for run in facts.runs))
    half = runs // 2
    swapped = (*order[:half], order[half + 1], order[half], *order[half + 2 :])
    guidances = [replace(PLAIN, order=order), Guidance(swapped)]

    def moved() -> None:
        for guidance in guidances:
            replay.place(guidance)

    def whole() -> None:
        replay.begin()
        replay.place(guidances[0])

    anew, all_of_it = in_turn(moved, whole, rounds=setting.rounds(9), clock=time.process_time)
    return Row(
        f"placed anew, {runs} runs", f"{number(anew * 500)} ms", f"{number(all_of_it * 1000)} ms",
        ratio=anew / 2 / all_of_it,
        counted="best: two runs in the middle of the order change places; the rest follows.",
    )  # fmt: skip


def _seconds(value: float | None) -> str:
    return "never" if value is None else f"{number(value)} s"


def _kg(mg: int) -> str:
    return f"{number(mg / 1e6)} kg"


def _percent(part: float) -> str:
    return f"{part * 100:.1f} %"
