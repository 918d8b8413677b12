"""A studio later in its week: runs begun, their steps done at their hours or otherwise."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from sourcing.week.facts import Promised, RunFacts, WeekFacts
from sourcing.week.kept import Done, Kept, over_at
from sourcing.week.plan import Answer
from sourcing.week.project import DAYS_AT_MOST, worked_out


def begun(facts: WeekFacts, *runs: str, at: datetime | None = None) -> WeekFacts:
    """The facts at a moment at which runs are begun: their plans kept, what they take promised."""
    facts = facts if at is None else later(facts, at)
    _, answers, _ = worked_out(facts, DAYS_AT_MOST, turns=False)
    by_code = {answer.run: answer for answer in answers}
    for code in runs:
        facts = keep(facts, by_code[code])
    return facts


def keep(facts: WeekFacts, answer: Answer) -> WeekFacts:
    """The facts with a run begun by an answer."""
    assert answer.steps, answer
    here = {lot.code for lot in facts.shelf.lots if (lot.arrives_at or facts.at) <= facts.at}
    here |= {row.code for row in (*facts.shelf.jars, *facts.shelf.baths, *facts.shelf.supplies)}
    here |= {row.code for row in facts.shelf.fibre if (row.arrives_at or facts.at) <= facts.at}
    to_come = frozenset(take.source for take in answer.takes) - here
    kept = Kept(facts.at, answer.steps, answer.takes, answer.hangs, answer.jobs, to_come=to_come)
    amounts: dict[str, int] = {}
    for take in answer.takes:
        if take.source in here:
            amounts[take.source] = amounts.get(take.source, 0) + take.amount
    promised = [row for row in facts.promised if row.run != answer.run]
    promised += [Promised(answer.run, code, amount) for code, amount in amounts.items()]
    return replace(with_run(facts, answer.run, begun=True, kept=kept), promised=tuple(promised))


def with_run(facts: WeekFacts, code: str, **new: object) -> WeekFacts:
    return replace(facts, runs=tuple(
        replace(run, **new) if run.code == code else run for run in facts.runs))  # type: ignore[arg-type]  # fmt: skip


def later(facts: WeekFacts, at: datetime) -> WeekFacts:
    """The same studio at a later moment; what is over by then is no longer listed."""
    at = at.astimezone(facts.zone)
    today, zone = at.date(), facts.zone
    return replace(
        facts,
        at=at,
        hours=tuple(row for row in facts.hours if row.day >= today),
        chores=tuple(row for row in facts.chores if row.day >= today),
        blocks=tuple(row for row in facts.blocks if row.until > at),
        hanging=tuple(row for row in facts.hanging if row.until > at),
        weather=tuple(row for row in facts.weather if row.day >= today),
        pick_ups=tuple(row for row in facts.pick_ups if row.at.astimezone(zone).date() >= today),
    )  # fmt: skip


def kept_of(facts: WeekFacts, code: str) -> Kept:
    kept = run_of(facts, code).kept
    assert kept is not None
    return kept


def run_of(facts: WeekFacts, code: str) -> RunFacts:
    return next(run for run in facts.runs if run.code == code)


def done(facts: WeekFacts, run: str, *rows: Done) -> WeekFacts:
    """The facts with something more said about a run's steps."""
    kept = kept_of(facts, run)
    return with_run(facts, run, kept=replace(kept, done=(*kept.done, *rows)))


def said(step: str, at: datetime, **otherwise: object) -> Done:
    """A whole step of a run that goes in one round, said to be done."""
    return Done(step, 1, 0, at, **otherwise)  # type: ignore[arg-type]


def done_by(facts: WeekFacts, at: datetime, *, but: Iterable[str] = ()) -> WeekFacts:
    """The facts at a moment, all that should be over by then done at its hour."""
    facts = later(facts, at)
    for run in facts.runs:
        if run.kept is None:
            continue
        kept = run.kept
        rows = [row for row in kept.steps if over_at(row) <= at and kept.done_of(row) is None]
        rows = [row for row in rows if row.step not in but]
        told = [Done(row.step, row.round, row.load, over_at(row)) for row in rows]
        facts = done(facts, run.code, *told)
    return facts
