"""A whole plan gone through: every run's sheet, then what all runs share."""

from __future__ import annotations

from collections.abc import Iterator

from sourcing.week.checking.answering import (
    faults_in_answers,
    faults_in_metal,
    faults_in_moments,
)
from sourcing.week.checking.begun import (
    faults_in_begun,
    from_today,
    is_begun,
    only_moved,
    still_held,
)
from sourcing.week.checking.carrying import faults_in_carrying, faults_in_ways
from sourcing.week.checking.choosing import faults_in_choices
from sourcing.week.checking.cold import faults_in_cold_places
from sourcing.week.checking.drying import (
    faults_in_drying,
    faults_in_line_rows,
    faults_on_lines,
)
from sourcing.week.checking.fault import Fault
from sourcing.week.checking.felting import faults_in_warnings
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.holding import faults_in_holds
from sourcing.week.checking.loads import faults_in_loads
from sourcing.week.checking.making import faults_in_making, made_in
from sourcing.week.checking.people import (
    faults_in_hands,
    faults_in_hands_of_steps,
    faults_in_hours,
    hands_used,
)
from sourcing.week.checking.second_baths import faults_in_second_baths
from sourcing.week.checking.sharing import faults_in_sharing, with_shared_pots
from sourcing.week.checking.sheet import Sheet, sheet_of
from sourcing.week.checking.snippets import faults_in_snippets
from sourcing.week.checking.staying import faults_in_stays
from sourcing.week.checking.straining import faults_in_topping_up
from sourcing.week.checking.taking import faults_in_claims, faults_in_takes
from sourcing.week.checking.working import faults_in_steps
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Week


def check(facts: WeekFacts, week: Week) -> list[Fault]:
    """Every rule that a plan breaks, none if it is right.

    Parameters
    ----------
    facts : what the plan was worked out from
    week : the plan; runs answered yes or not yet are gone through with their steps and takes

    Returns
    -------
    list of Fault
        In the order of runs, then what runs share.
    """
    ground = Ground(facts, week.order)
    faults = list(faults_in_answers(week, ground))
    placed = [
        answer
        for answer in week.answers
        if answer.answer != "no" and answer.run in ground.runs
        and ground.runs[answer.run].recipe in ground.recipes
    ]  # fmt: skip
    sheets = with_shared_pots([sheet_of(answer, ground) for answer in placed])
    faults.extend(faults_in_sharing(sheets, ground))
    faults.extend(faults_in_second_baths(sheets, ground))
    faults.extend(faults_in_stays(placed, ground))
    for sheet in sheets:
        found = faults_in_begun if is_begun(sheet.run) else _of_one
        faults.extend(found(sheet, ground))
    jobs = tuple(row for row in made_in(week) if row.end > ground.facts.at)
    faults.extend(faults_in_making(jobs, ground))
    faults.extend(faults_in_holds([still_held(sheet, ground) for sheet in sheets], jobs, ground))
    working = [from_today(sheet, ground) for sheet in sheets]
    made = tuple(
        row for row in made_in(week) if ground.day_of(minute_of(row.start)) >= ground.today
    )
    used = hands_used(working, made, week, ground)
    # A day that is over full only by what was planned is so by a chore that came after.
    faults.extend(faults_in_hands(list(map(only_moved, working)), week, used, ground))
    faults.extend(faults_in_ways(working, made, ground))
    faults.extend(faults_on_lines(sheets, ground))
    faults.extend(faults_in_line_rows(sheets, week, ground))
    faults.extend(faults_in_claims(week, ground))
    faults.extend(faults_in_cold_places(week, ground))
    faults.extend(faults_in_choices(sheets, jobs, ground))
    return faults


def _of_one(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    if not sheet.run.group_block:
        yield from faults_in_steps(sheet, ground)
        yield from faults_in_loads(sheet, ground)
        yield from faults_in_hours(sheet, ground)
        yield from faults_in_hands_of_steps(sheet, ground)
        yield from faults_in_drying(sheet, ground)
        yield from faults_in_moments(sheet, ground)
        yield from faults_in_metal(sheet, ground)
        yield from faults_in_warnings(sheet, ground)
        yield from faults_in_topping_up(sheet, ground)
        yield from faults_in_snippets(sheet, ground)
    yield from faults_in_takes(sheet, ground)
    yield from faults_in_carrying(sheet, ground)
