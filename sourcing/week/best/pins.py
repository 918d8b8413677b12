"""Runs that stay where a plan had them: kept as a begun run is kept, and shown as not begun."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from sourcing.week.facts import Promised, RunFacts, WeekFacts
from sourcing.week.guidance import Floor
from sourcing.week.kept import Kept
from sourcing.week.moments import minute_of
from sourcing.week.plan import Answer, Week
from sourcing.week.second_bath import DYEBATH


def with_pins(facts: WeekFacts, pins: Mapping[str, Answer]) -> WeekFacts:
    """The same facts with some runs held to their steps and to what they take.

    Parameters
    ----------
    pins : by run, its answer in a plan; a run that is begun, or a group's, is left as it is

    Raises
    ------
    ValueError
        If a pinned run is not wanted, is not placed, or begins before the moment asked for.
    """
    runs = {run.code: run for run in facts.runs}
    for code, answer in pins.items():
        _refuse(code, answer, runs, facts)
    free = {code for code in pins if runs[code].kept is None and not runs[code].group_block}
    if not free:
        return facts
    kept = [row for row in facts.promised if row.run not in free]
    for code in sorted(free):
        kept.extend(_promised(pins[code], facts))
    return replace(
        facts,
        runs=tuple(_pinned(run, pins[run.code], facts) if run.code in free else run
                   for run in facts.runs),
        promised=tuple(kept),
    )  # fmt: skip


def with_stays(facts: WeekFacts, stays: Sequence[Floor]) -> WeekFacts:
    """The same facts with some steps that stay at their hour, beside those of the week as it is.

    Parameters
    ----------
    stays : each `Floor.stays`; of one step the last counts

    Raises
    ------
    ValueError
        If a run is not wanted, has no such step, or the hour is over.
    """
    runs = {run.code: run for run in facts.runs}
    recipes = {recipe.code: recipe for recipe in facts.recipes}
    for row in stays:
        what = f"{row.step} of run {row.run} is to stay at its hour, but"
        if row.run not in runs:
            raise ValueError(f"{what} nobody wants that run any more.")
        recipe = recipes.get(runs[row.run].recipe)
        if recipe is None or row.step not in {step.name for step in recipe.steps}:
            raise ValueError(f"{what} the run has no such step.")
        if row.not_before < minute_of(facts.at):
            raise ValueError(f"{what} that hour is over.")
    taken = facts.guidance.stays if facts.guidance is not None else ()
    kept = {(row.run, row.step): row for row in (*facts.stays, *taken, *stays)}
    return replace(facts, stays=tuple(kept.values())) if kept else facts


def _refuse(code: str, answer: Answer, runs: Mapping[str, RunFacts], facts: WeekFacts) -> None:
    if code not in runs:
        raise ValueError(f"Run {code} is to stay where it is, but nobody wants it any more.")
    if not answer.steps or answer.first_step_at is None:
        raise ValueError(f"Run {code} is to stay where it is, but the plan has no place for it.")
    if answer.first_step_at < facts.at and runs[code].kept is None:
        raise ValueError(f"Run {code} is to stay where it is, but its first hour is over.")


def _to_come(facts: WeekFacts) -> frozenset[str]:
    """Lots that are not here yet: nobody can promise them."""
    return frozenset(
        lot.code
        for lot in facts.shelf.lots
        if lot.arrives_at is not None and lot.arrives_at > facts.at
    )


def _not_yet_poured(answer: Answer, facts: WeekFacts) -> frozenset[str]:
    """Baths that another run of the week is yet to leave."""
    there = {bath.code for bath in facts.shelf.baths}
    taken = {take.source for take in answer.takes if take.what == DYEBATH}
    return frozenset(taken - there)


def _promised(answer: Answer, facts: WeekFacts) -> Iterator[Promised]:
    coming = _to_come(facts) | _not_yet_poured(answer, facts)
    for take in answer.takes:
        if take.source not in coming:
            yield Promised(answer.run, take.source, take.amount)


def _pinned(run: RunFacts, answer: Answer, facts: WeekFacts) -> RunFacts:
    coming = _to_come(facts) & {take.source for take in answer.takes}
    coming |= _not_yet_poured(answer, facts)
    kept = Kept(facts.at, answer.steps, answer.takes, answer.hangs, answer.jobs, to_come=coming)
    return replace(run, kept=kept)


def as_asked(week: Week, pins: Mapping[str, Answer]) -> Week:
    """The week with pinned runs in the words of the plan that they are pinned to."""
    answers = tuple(
        _worded(answer, pins[answer.run]) if answer.run in pins and answer.begun_at else answer
        for answer in week.answers
    )
    return replace(week, answers=answers)


def _worded(answer: Answer, pinned: Answer) -> Answer:
    if pinned.begun_at is not None:
        return answer
    return replace(
        answer,
        answer=pinned.answer,
        waits_for=pinned.waits_for,
        reasons=pinned.reasons,
        notes=pinned.notes,
        begun_at=None,
    )
