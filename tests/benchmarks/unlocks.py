"""What would unlock each no, and how big a run can be: how many are found in a second."""

from __future__ import annotations

import time
from collections.abc import Iterator
from unittest.mock import patch

from sourcing.week.facts import WeekFacts
from sourcing.week.how_big import how_big_of
from sourcing.week.project import project
from sourcing.week.unlocking import seek, trials
from tests.benchmarks.placing import busy_studio
from tests.benchmarks.rounds import in_turn
from tests.benchmarks.rows import Row, number
from tests.benchmarks.setting import Setting
from tests.sourcing.week.pellitory import FACTS

COUNTED = (
    "unlocks: `project` with unlocks beside the same without (bare), frozen facts, no database; "
    "this process's own time; lower quartile of {rounds} rounds in turn, fewer where they take "
    "longer than 20 s. A placing is one run placed anew in a studio in which one thing differs, "
    "or after it to see what others lose. "
    "Told, not judged: no budget is set."
)

HOW_BIG = (
    "unlocks: how big is `how_big_of` for one run, searched and proved, with what binds and how "
    "far each thing goes, beside `project` once (bare); counted as the unlocks are."
)


def unlocks(setting: Setting) -> Iterator[Row]:
    """Three rows for each studio: the demo, and busier ones."""
    sizes = ((20, 8),) if setting.quick else ((90, 70), (500, 200))
    studios = [("the demo's week", FACTS)]
    studios += [
        (f"{lots} lots, {runs} runs", busy_studio(lots=lots, runs=runs)) for lots, runs in sizes
    ]
    for words, facts in studios:
        yield from _rows(facts, words, setting.rounds(5, 1))
        yield from _how_big(facts, words, setting.rounds(5, 1))


def _how_big(facts: WeekFacts, words: str, rounds: int) -> Iterator[Row]:
    """The largest weight of the first run that may be asked about, beside the week once."""
    run = next(run for run in facts.runs if run.kept is None and not run.group_block)
    asked, once = in_turn(
        lambda: how_big_of(facts, run.code, days=7), lambda: project(facts, days=7),
        rounds=rounds, warm=0, least=1, at_most_s=20, clock=time.process_time,
    )  # fmt: skip
    yield Row(
        f"how big in {words}", f"{number(1 / asked)} a second", f"{number(once * 1000)} ms a week",
        ratio=asked / once, counted=HOW_BIG,
    )  # fmt: skip


def _rows(facts: WeekFacts, words: str, rounds: int) -> Iterator[Row]:
    placings, found, sought = count(facts)
    with_, without = in_turn(
        lambda: project(facts, days=7, unlocks=True), lambda: project(facts, days=7),
        rounds=rounds, warm=0, least=1, at_most_s=20, clock=time.process_time,
    )  # fmt: skip
    seconds = max(with_ - without, 1e-9)
    counted = COUNTED.format(rounds=rounds)
    yield Row(
        f"unlocks of {words}",
        f"{number(found / seconds)} a second: {found} for {sought} runs in {number(seconds)} s",
        f"{number(without * 1000)} ms without", ratio=with_ / without, counted=counted,
    )  # fmt: skip
    yield Row(
        f"placings of {words}", f"{placings:,}, {number(placings / max(found, 1))} an unlock",
        f"{len(facts.runs)} runs placed once", ratio=placings / len(facts.runs), counted=counted,
    )  # fmt: skip


def count(facts: WeekFacts) -> tuple[int, int, int]:
    """Placings made, unlocks found, and runs for which they were looked for."""
    with (
        patch.object(trials, "answer_run", side_effect=trials.answer_run) as tried,
        patch.object(seek, "answer_run", side_effect=seek.answer_run) as after,
    ):
        week = project(facts, days=7, unlocks=True)
    placed = tried.call_count + after.call_count
    found = sum(len(answer.unlocks) for answer in week.answers)
    return placed, found, sum(answer.sought for answer in week.answers)
