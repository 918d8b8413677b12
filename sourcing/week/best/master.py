"""Days and nights from the solver, given to the placer as an order and as steps that wait.

The solver says how much fibre can be in time at the most, and in which days. The placer makes a
week of that; where it does not come so far, that set of runs is set aside and another is asked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sourcing.week.best.bound import Forms, with_on_time
from sourcing.week.best.found import Effort
from sourcing.week.best.moves import full_order
from sourcing.week.best.relaxed import Cast, Relaxed
from sourcing.week.best.seeking import Seeking
from sourcing.week.guidance import PLAIN, Floor, Guidance
from sourcing.week.moments import Calendar
from sourcing.week.solving import Goal, Solved, Work, in_order

SETS_AT_MOST = 6  # sets of runs that the solver is asked for
STEPS_IN_MINUTES = 400  # a model with more steps than that is left in days and nights
WORK_IN_MODEL = 0.5  # part of the solver's work for the first set; the others share the rest


def ask_solver(seeking: Seeking, forms: Forms) -> None:
    """Bring the bound down and the best week up, as far as the solver's work goes."""
    if seeking.bound is None or seeking.over():
        return
    measure = seeking.measure
    fixed = _fixed(seeking, forms)
    relaxed = _relaxed(seeking, forms)
    for number in range(SETS_AT_MOST):
        solved = in_order(
            relaxed.model,
            [Goal("on time", relaxed.fibre_on_time, most=True)],
            _work(seeking.effort, number),
        )
        if not number and solved.outcomes:
            assert seeking.bound is not None
            seeking.bound = with_on_time(seeking.bound, fixed + solved.outcomes[0].bound)
            seeking.tell()
        if solved.found is None or solved.outcomes[0].value is None:
            return
        if fixed + solved.outcomes[0].value < seeking.best.goals.on_time:
            return
        for guidance in guidances(relaxed, solved, full_order(PLAIN, measure)):
            if seeking.over():
                return
            seeking.tried(guidance)
        if seeking.best.goals.on_time >= fixed + solved.outcomes[0].value:
            return
        _set_aside(relaxed, solved)


def _fixed(seeking: Seeking, forms: Forms) -> int:
    """Fibre that the model does not decide about: begun runs, and groups at the most."""
    measure = seeking.measure
    return sum(
        run.weight_mg * measure.importance[run.code]
        for run in measure.desk.facts.runs
        if run.code not in forms
        and (run.group_block or measure.on_time(run, seeking.replay.begun[run.code]))
    )


def _relaxed(seeking: Seeking, forms: Forms) -> Relaxed:
    parts = sum(len(form.parts) for rows in forms.values() for form in rows)
    seeking.replay.begin()  # what is fixed is counted from the desk as it is at first
    return Relaxed(seeking.measure, forms, minutes=parts <= STEPS_IN_MINUTES)


def _work(effort: Effort, number: int) -> Work:
    part = WORK_IN_MODEL if not number else (1 - WORK_IN_MODEL) / (SETS_AT_MOST - 1)
    return Work(effort.solver * part, effort.seconds * part)


def _set_aside(relaxed: Relaxed, solved: Solved) -> None:
    """Ask for another set of runs: one of these has to be left out."""
    mine = [there for there in relaxed.there.values() if solved.value(there)]
    relaxed.model.cp.add(sum(mine) <= len(mine) - 1)


# -- from days to a guidance -------------------------------------------------------------------


def guidances(relaxed: Relaxed, solved: Solved, order: list[str]) -> Iterator[Guidance]:
    """What the placer may make of the solver's days: in their order, with their days, or both."""
    begins = {rows[0].form.run: _begins(rows, relaxed, solved)
              for rows in relaxed.cast if solved.value(rows[0].days.present)}  # fmt: skip
    ends = {rows[0].form.run: _begins(rows[-1:], relaxed, solved)
            for rows in relaxed.cast if solved.value(rows[0].days.present)}  # fmt: skip
    rest = [code for code in order if code not in begins]
    by_start = sorted(begins, key=lambda code: (begins[code], order.index(code)))
    by_end = sorted(ends, key=lambda code: (ends[code], order.index(code)))
    by_due = [code for code in order if code in begins]
    floors = tuple(_floors(relaxed, solved))
    for first in (by_start, by_end, by_due):
        yield Guidance((*first, *rest))
        yield replace(Guidance((*first, *rest)), floors=floors)


def _begins(rows: list[Cast], relaxed: Relaxed, solved: Solved) -> int:
    """The minute at which the first of some parts begins, or the first minute of its day."""
    row = rows[0]
    if row.timed is not None:
        return solved.value(row.timed.start)
    return _day(row, relaxed, solved) * 24 * 60


def _day(row: Cast, relaxed: Relaxed, solved: Solved) -> int:
    return next(day for day in range(relaxed.count) if solved.value(row.days.by(day)))


def _floors(relaxed: Relaxed, solved: Solved) -> Iterator[Floor]:
    """Each step no sooner than the opening of its day."""
    for rows in relaxed.cast:
        if not solved.value(rows[0].days.present):
            continue
        calendar = relaxed.measure.desk.placers[rows[0].form.site].calendar
        said: set[str] = set()
        for row in rows:
            if row.part.step not in said:
                said.add(row.part.step)
                minute = _opens(_day(row, relaxed, solved), calendar)
                if minute > relaxed.measure.desk.now:
                    yield Floor(row.form.run, row.part.step, minute)


def _opens(day: int, calendar: Calendar) -> int:
    found = next((row for row in calendar.open_days
                  if calendar.day_number_of(row.day) == day), None)  # fmt: skip
    return calendar.midnights[day] if found is None else found.opens
