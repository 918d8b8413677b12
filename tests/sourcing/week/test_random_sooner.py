"""A placed run cannot simply begin sooner: moved forward as it is, or from any step on, it breaks
a rule beside the runs that were placed before it. `DYE_LARDER_LONG=1` goes through 1,000 studios.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from sourcing.week.checking import check
from sourcing.week.facts import WeekFacts
from sourcing.week.guidance import in_order
from sourcing.week.plan import Answer, Placed, Week
from sourcing.week.project import project
from tests.sourcing.week.random_studios import studio

STUDIOS = 1_000 if os.environ.get("DYE_LARDER_LONG") == "1" else 25
MINUTES = (5, 10, 15, 30, 60, 180, 1440, 2880)
# What a moved run would say anew, and a jar's dose, which follows the moment.
SAID_ANEW = {
    "hanging", "dry", "first step", "answer", "take moment", "dose", "day row", "line row",
}  # fmt: skip


def test_no_run_could_begin_or_be_dry_sooner_as_it_stands() -> None:
    found = {number: moves for number in range(STUDIOS) if (moves := list(sooner(number)))}

    # A serial placer may pass a moment by when a pot changes on the way (seeds 77, 312).
    assert len(found) <= STUDIOS // 100, found


def sooner(number: int) -> Iterator[tuple[str, str, int]]:
    """Run, step from which on it could move, and by how many minutes."""
    facts = studio(number)
    week = project(facts, days=7)
    by_code = {answer.run: answer for answer in week.answers}
    kept: tuple[Answer, ...] = ()
    for run in sorted(facts.runs, key=in_order):
        answer = by_code[run.code]
        kept = (*kept, answer)
        if answer.steps and not any(step.step.startswith("make ") for step in answer.steps):
            for step, minutes in _moves(facts, replace(week, answers=kept, days=()), answer):
                yield run.code, step, minutes


def _moves(facts: WeekFacts, week: Week, answer: Answer) -> Iterator[tuple[str, int]]:
    mine = tuple(run for run in facts.runs if any(run.code == row.run for row in week.answers))
    facts = replace(facts, runs=mine)
    for start, name in sorted({(_utc(step.start), step.step) for step in answer.steps}):
        for minutes in MINUTES:
            moved = _moved(answer, start, timedelta(minutes=minutes))
            if not _better(moved, answer):
                continue
            others = tuple(moved if row is answer else row for row in week.answers)
            faults = check(facts, replace(week, answers=others))
            if not {fault.kind for fault in faults} - SAID_ANEW:
                yield name, minutes


def _better(moved: Answer, answer: Answer) -> bool:
    """Dry sooner, or dry as soon from an earlier first step."""

    def hung(steps: tuple[Placed, ...]) -> int:
        return -(-max(int(_utc(step.end).timestamp()) for step in steps) // (15 * 60))

    first = min(_utc(step.start) for step in moved.steps)
    begun = min(_utc(step.start) for step in answer.steps)
    return (hung(moved.steps), first) < (hung(answer.steps), begun)


def _utc(moment: datetime) -> datetime:
    return moment.astimezone(UTC)


def _moved(answer: Answer, start: datetime, by: timedelta) -> Answer:
    """The run with everything from a moment on begun sooner."""

    def sooner_by(moment: datetime) -> datetime:
        return (_utc(moment) - by).astimezone(moment.tzinfo)

    def moved(step: Placed) -> Placed:
        if _utc(step.start) >= start:
            return replace(
                step,
                start=sooner_by(step.start),
                end=sooner_by(step.end),
                held_until=sooner_by(step.held_until),
            )
        # A pot that was held until the moved step took over is given up sooner too.
        held = _utc(step.held_until) == start
        return replace(step, held_until=sooner_by(step.held_until)) if held else step

    takes = tuple(
        replace(take, at=sooner_by(take.at)) if _utc(take.at) >= start else take
        for take in answer.takes
    )
    first = answer.first_step_at
    if first is not None and _utc(first) >= start:
        first = sooner_by(first)
    return replace(
        answer,
        steps=tuple(map(moved, answer.steps)),
        takes=takes,
        first_step_at=first,
        hangs=tuple(replace(row, since=sooner_by(row.since)) for row in answer.hangs),
    )
