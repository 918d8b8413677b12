"""A group day whose preparing has begun: what is laid out for it and when, and a bath made late.

What it takes stays claimed and its jobs stay at their hours, as with any run under way.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime

from inventory.science.saying import say
from sourcing.week.desk import Desk
from sourcing.week.facts import DayHours, Recipe, RunFacts, WeekFacts
from sourcing.week.jobs import keeps_from, make_bath
from sourcing.week.kept import LAID_OUT, over_at
from sourcing.week.loads import placed_round
from sourcing.week.moments import minute_of
from sourcing.week.plan import Answer, Placed, Take
from sourcing.week.under_way import MAKES, UnderWay
from sourcing.week.wants import MakingWanted

UL_PER_L = 1_000_000


def with_laid_out(answer: Answer, run: RunFacts, facts: WeekFacts) -> Answer:
    """A group day's answer with what is laid out for it: one step for each thing it takes.

    They fall on the last day before it on which somebody is in, without hours of their own.
    """
    if not run.group_block or answer.first_step_at is None or answer.begun_at is not None:
        return answer
    since, until = _stretch(answer.first_step_at, facts)
    rows = tuple(_laid_out(what, takes, since, until)
                 for what, takes in laid_out_of(answer, facts).items())  # fmt: skip
    return replace(answer, steps=(*answer.steps, *rows))


def laid_out_of(answer: Answer, facts: WeekFacts) -> dict[str, tuple[Take, ...]]:
    """What a group is given, by its name; what a bath is made of goes into the pot instead."""
    steps = {row.step for row in answer.steps}
    boiled = {row.dyestuff for row in facts.makings if _makes(row.bath) in steps}
    found: dict[str, tuple[Take, ...]] = {}
    for take in answer.takes:
        if take.what not in boiled:
            found[take.what] = (*found.get(take.what, ()), take)
    return found


def lays_out(what: str) -> str:
    """The step by which something is laid out, as its word on the sheet."""
    return say("lay out {what}", what=what)


def _makes(bath: str) -> str:
    return say("make {bath}", bath=bath)


def _laid_out(what: str, takes: Iterable[Take], since: datetime, until: datetime) -> Placed:
    takes = tuple(takes)
    weight = sum(take.amount for take in takes if take.unit == "mg")
    return Placed(takes[0].run, lays_out(what), LAID_OUT, 1, 1, "", "", since, until, until, 0,
                  weight_mg=weight)  # fmt: skip


def _stretch(start: datetime, facts: WeekFacts) -> tuple[datetime, datetime]:
    """From opening to closing on the last day before a group day; else up to its beginning."""
    day = start.astimezone(facts.zone).date()
    open_days = [row for row in facts.hours if row.hands_min and row.closes > facts.at]
    before = max((row.day for row in open_days if row.day < day), default=None)
    if before is None:
        return min(_opens(open_days, day) or start, start), start
    own = [row for row in open_days if row.day == before]
    return min(row.opens for row in own), max(row.closes for row in own)


def _opens(open_days: Iterable[DayHours], day: date) -> datetime | None:
    return min((row.opens for row in open_days if row.day == day), default=None)


# -- once it is begun --------------------------------------------------------------------------


def group_begins(row: UnderWay, desk: Desk) -> datetime:
    """When a group day is: as its block has it, else as it was kept."""
    block = next((b for b in desk.facts.blocks if b.code == row.run.group_block), None)
    if block is not None:
        return block.since
    return max((take.at for take in row.kept.takes), default=row.kept.begun_at)


def take_late(row: UnderWay, desk: Desk) -> list[Placed]:
    """What should be over by now and is not done, taken off a group day's rows."""
    late = [load for load in row.apart if load.done_at is None and over_at(load) < desk.facts.at]
    row.apart = [load for load in row.apart if load not in late]
    return late


def do_late(late: list[Placed], row: UnderWay, desk: Desk) -> None:
    """What is late is to be done all the same; a bath at the latest hour at which it still does."""
    start = group_begins(row, desk)
    for load in late:
        rows = [load]
        if load.step.startswith(MAKES):
            rows = _made_again(load, row, minute_of(start), desk)
            if not rows:
                row.warnings.append(
                    say("{step} fits nowhere any more before the group comes", step=load.step)
                )
        since = over_at(load)
        row.apart += [replace(again, late_since=since) for again in rows or [load]]


def _made_again(load: Placed, row: UnderWay, start: int, desk: Desk) -> list[Placed]:
    """The pots of a bath at another hour, booked; nothing where there is none any more."""
    making = next((m for m in desk.facts.makings if _makes(m.bath) == load.step), None)
    if making is None:
        return []
    wanted = MakingWanted(making, round(load.litres * UL_PER_L), load.step,
                          bright=row.recipe.bright)  # fmt: skip
    made = make_bath(wanted, row.run.code, desk, before=start,
                     not_before=keeps_from(making.bath, start, desk), site="")  # fmt: skip
    if isinstance(made, str):
        return []
    job, done = made
    jobs = (job if was.what == job.what else was for was in row.kept.jobs)
    row.kept = replace(row.kept, jobs=tuple(jobs))
    return placed_round(done, row.run.code, making, desk)


def fading_notes(recipe: Recipe, desk: Desk) -> tuple[str, ...]:
    """What the take-home slip has to say."""
    fading = sorted({dose.what for dose in recipe.doses if dose.what in desk.facts.fugitive})
    return tuple(
        say("slip must say that {what} is fugitive: it fades in days to weeks", what=what)
        for what in fading
    )
