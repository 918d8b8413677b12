"""Runs under way: what is done stays as it was said, the rest at its hours unless it is late."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime
from itertools import pairwise

from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.people import faults_in_hours
from sourcing.week.checking.second_baths import ENDING
from sourcing.week.checking.sheet import Load, Round, Sheet, Stage, dye_loads
from sourcing.week.checking.working import released
from sourcing.week.facts import RunFacts
from sourcing.week.plan import Placed

Key = tuple[str, int, int]


def is_begun(run: RunFacts) -> bool:
    """Whether a run has kept its plan; a group's day is fixed anyway."""
    return run.kept is not None and not run.group_block


def faults_in_begun(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """A begun run whose steps are not those that it kept, or that moved without need."""
    kept = sheet.run.kept
    assert kept is not None
    if sheet.answer.answer != "yes":
        yield Fault("begun", sheet.code, None, f"begun, and answered {sheet.answer.answer}")
    there = {_key(row): row for row in sheet.answer.steps}
    for row in kept.steps:
        found = there.get(_key(row))
        if found is None:
            if not _moved_beside(row, sheet):
                yield Fault("begun", sheet.code, row.start, f"{row.step} {row.load} is gone")
        elif (said := _said(row, sheet)) is not None:
            yield from _as_said(found, said, sheet)
        elif found.start == row.start and not _moves_before(found, sheet):
            yield from _as_kept(found, row, sheet)
    yield from faults_in_hours(only_moved(sheet), ground)
    yield from _moves(sheet, ground)


def _key(row: Placed) -> Key:
    return row.step, row.round, row.load


def _said(row: Placed, sheet: Sheet) -> datetime | None:
    return _said_in(row, sheet.run)


def _said_in(row: Placed, run: RunFacts) -> datetime | None:
    assert run.kept is not None
    for done in run.kept.done:
        if (done.step, done.round) == (row.step, row.round) and done.load in (0, row.load):
            return done.at
    return None


def _moved_beside(row: Placed, sheet: Sheet) -> bool:
    """Whether a step went into other pots, so that it has fewer loads now."""
    mine = [found for found in sheet.answer.steps if (found.step, found.round) == _key(row)[:2]]
    return bool(mine) and all(found.start > row.start for found in mine)


def _as_said(found: Placed, said: datetime, sheet: Sheet) -> Iterator[Fault]:
    if found.done_at != said:
        yield Fault("begun", sheet.code, said, f"{found.step} is done, and the plan has it to do")
    if found.start > said:
        yield Fault("begun", sheet.code, found.start, f"{found.step} begins after it was done")


def _as_kept(found: Placed, row: Placed, sheet: Sheet) -> Iterator[Fault]:
    same = ("vessel", "ring", "weight_mg", "litres", "hands_min")
    for name in same:
        if getattr(found, name) != getattr(row, name):
            yield Fault("begun", sheet.code, row.start, f"{row.step}: {name} is another than kept")
    if found.end < row.end or found.held_until < min(row.held_until, found.end):
        yield Fault("begun", sheet.code, row.start, f"{row.step} is over sooner than kept")


def _is_moved(row: Placed, sheet: Sheet) -> bool:
    kept = sheet.run.kept
    assert kept is not None
    starts = {_key(was): was.start for was in kept.steps}
    return row.done_at is None and starts.get(_key(row)) != row.start


def _moves_before(found: Placed, sheet: Sheet) -> bool:
    """Whether something that a step waits for has moved, so that it was placed anew too."""
    return any(_is_moved(row, sheet) and row.start <= found.start for row in sheet.answer.steps)


def only_moved(sheet: Sheet) -> Sheet:
    """A begun run's sheet with the loads that were placed anew; another's as it is."""
    if not is_begun(sheet.run):
        return sheet
    return trimmed(sheet, lambda load: _is_moved(load.placed, sheet))


def _moves(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """What moved: never sooner, never into the past, and only behind something that went wrong."""
    kept = sheet.run.kept
    assert kept is not None
    now = ground.facts.at
    moved = [row for row in sheet.answer.steps if _is_moved(row, sheet)]
    starts = {(was.step, was.round): was.start for was in kept.steps}
    wrong = [row for row in kept.steps if _went_wrong(row, sheet, now)]
    for row in moved:
        was = starts.get((row.step, row.round), row.start)
        if row.start < max(was, now):
            yield Fault("begun", sheet.code, row.start, f"{row.step} moved to before its hour")
    if moved and not wrong and not _follows_late(sheet.run, ground):
        first = min(moved, key=lambda row: row.start)
        yield Fault("begun", sheet.code, first.start, f"{first.step} moved, and nothing is late")
    for chain in sheet.chains():
        loads = dye_loads(chain) if sheet.parting is not None else sheet.dye_loads
        for before, after in pairwise(chain):
            dyes = sheet.dye_loads if before in sheet.stages else loads
            soonest = released(sheet, before, ground, dyes=dyes)
            if soonest and after.start < soonest and _is_moved(after.loads[0].placed, sheet):
                text = f"{after.step.name} begins before {before.step.name} lets it"
                yield Fault("begun", sheet.code, ground.moment(after.start), text)


def _follows_late(run: RunFacts, ground: Ground, seen: tuple[str, ...] = ()) -> bool:
    """Whether it follows in the bath of a begun run of which something went wrong."""
    for take in run.kept.takes if run.kept is not None else ():
        code = take.source.removesuffix(ENDING)
        before = ground.runs.get(code)
        if take.what != "dyebath" or before is None or before.kept is None or code in seen:
            continue
        now = ground.facts.at
        if any(_is_wrong(row, _said_in(row, before), now) for row in before.kept.steps):
            return True
        if _follows_late(before, ground, (*seen, code)):
            return True
    return False


def _went_wrong(row: Placed, sheet: Sheet, now: datetime) -> bool:
    return _is_wrong(row, _said(row, sheet), now)


def _is_wrong(row: Placed, said: datetime | None, now: datetime) -> bool:
    """A pot-load that is not done though its time has passed, or was done later than planned."""
    attended = row.attended_until or row.end
    return min(attended, row.end) < now if said is None else said > min(attended, row.end)


# -- what of it still takes hands and pots ------------------------------------------------------


def still_held(sheet: Sheet, ground: Ground) -> Sheet:
    """A begun run's sheet with the loads that still hold their pots; another's as it is."""
    now = minute_of(ground.facts.at)
    return trimmed(sheet, lambda load: load.held_until > now) if is_begun(sheet.run) else sheet


def from_today(sheet: Sheet, ground: Ground) -> Sheet:
    """A begun run's sheet with the loads whose hands are this day's or a later one's."""

    def today(load: Load) -> bool:
        return ground.day_of(load.start) >= ground.today

    if not is_begun(sheet.run):
        return sheet
    snippets, carries = (
        [row for row in rows if ground.day_of(minute_of(row.start)) >= ground.today]
        for rows in (sheet.snippets, sheet.carries)
    )
    return replace(trimmed(sheet, today), snippets=snippets, carries=carries)


def trimmed(sheet: Sheet, keep: Callable[[Load], bool]) -> Sheet:
    """A sheet with some of its loads."""
    stages = []
    for stage in sheet.stages:
        rounds = [Round([load for load in part.loads if keep(load)]) for part in stage.rounds]
        rounds = [part for part in rounds if part.loads]
        if rounds:
            stages.append(Stage(stage.step, rounds))
    return replace(sheet, stages=stages)
