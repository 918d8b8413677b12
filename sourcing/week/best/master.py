"""Days and nights from the solver, given to the placer as an order and as steps that wait.

The solver says how much fibre can be in time at the most, and in which days. The placer makes a
week of that; where it does not come so far, that set of runs is set aside and another is asked for.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace

from sourcing.week.best.bound import Forms, with_dry, with_fullest_day, with_on_time
from sourcing.week.best.moves import full_order
from sourcing.week.best.relaxed import Cast, Relaxed
from sourcing.week.best.seeking import Seeking
from sourcing.week.best.wander import settle
from sourcing.week.guidance import PLAIN, Floor, Guidance
from sourcing.week.moments import Calendar, minute_of
from sourcing.week.solving import Goal, Solved, Split, Sum, Work, in_order, in_parts

SETS_AT_MOST = 6  # sets of runs that the solver is asked for
STEPS_IN_MINUTES = 400  # a model with more steps than that is left in days and nights
STEPS_AT_MOST = (
    3_000  # with more the solver is not asked: putting the model together takes too long
)
STEPS_DRY_IN_MINUTES = 100  # the same where all runs are to be dry early
FOR_FIRST_SET = 0.4  # parts of the solver's work: the first set of runs, the others, earliest dry
FOR_OTHER_SETS = 0.2
FOR_PARTS = 0.5  # more, for a bound where steps may be split; it is seldom used up
FOR_DRY = 0.13  # each for the bound, for a week to begin from, and for the bound in minutes
LEAST_S = 0.1  # that the solver looks, however late it is
DAY_MIN = 24 * 60


def ask_solver(seeking: Seeking, forms: Forms) -> None:
    """Bring the bound down and the best week up, as far as the solver's work goes."""
    if 0 < _parts(forms) <= STEPS_AT_MOST:
        _ask_on_time(seeking, forms)
        _ask_dry(seeking, forms)
        _dry_in_minutes(seeking, forms)


# -- fibre on time -----------------------------------------------------------------------------


def _ask_on_time(seeking: Seeking, forms: Forms) -> None:
    if seeking.over() or _all_in_time(seeking):
        return
    measure, fixed = seeking.measure, _fixed(seeking, forms)
    relaxed = _in_time(seeking, forms)
    order = full_order(PLAIN, measure)
    for number in range(SETS_AT_MOST):
        part = FOR_OTHER_SETS / (SETS_AT_MOST - 1) if number else FOR_FIRST_SET
        goal = Goal("on time", relaxed.fibre, most=True)
        solved = in_order(relaxed.model, [goal], _work(seeking, part))
        outcome = solved.first
        if not number and outcome.bound is not None:
            seeking.bound_to(with_on_time(seeking.bound, fixed + outcome.bound))
        if outcome.value is None:
            return
        reached = fixed + outcome.value
        if reached < seeking.best.goals.on_time or _try_all(
            seeking, guidances(relaxed, solved, order)
        ):
            return
        if seeking.best.goals.on_time >= reached:
            return
        _set_aside(relaxed, solved)


def _all_in_time(seeking: Seeking) -> bool:
    return seeking.best.goals.on_time >= seeking.bound.on_time


def _try_all(seeking: Seeking, some: Iterable[Guidance]) -> bool:
    """Try guidances one by one; whether it is time to leave off."""
    for guidance in some:
        if seeking.over():
            return True
        settle(seeking.tried(guidance), seeking)
    return seeking.over()


def _fixed(seeking: Seeking, forms: Forms) -> int:
    """Fibre that the model does not decide about: begun runs, and groups at the most."""
    measure = seeking.measure
    return sum(
        run.weight_mg * measure.importance[run.code]
        for run in measure.desk.facts.runs
        if run.code not in forms
        and (run.group_block or measure.on_time(run, seeking.replay.begun[run.code]))
    )


def _in_time(seeking: Seeking, forms: Forms) -> Relaxed:
    seeking.replay.begin()  # what is fixed is counted from the desk as it is at first
    by = _moments(seeking, forms)
    return Relaxed(seeking.measure, forms, by, minutes=_parts(forms) <= STEPS_IN_MINUTES)


def _parts(forms: Forms) -> int:
    return sum(len(form.parts) for rows in forms.values() for form in rows)


def _moments(seeking: Seeking, forms: Forms) -> dict[str, int]:
    """By run, the minute by which it is to be dry."""
    runs = {run.code: run for run in seeking.measure.desk.facts.runs}
    return {code: seeking.measure.wanted_by(runs[code]) for code in forms}


def _work(seeking: Seeking, part: float) -> Work:
    """A part of the solver's work, and no more seconds than are left."""
    effort = seeking.effort
    left = max(LEAST_S, effort.seconds - seeking.elapsed)
    return Work(effort.solver * part, min(effort.seconds * part, left))


# -- earliest dry ------------------------------------------------------------------------------


def _ask_dry(seeking: Seeking, forms: Forms) -> None:
    """How soon all could be dry, in days and nights; then the same with as much in time as now."""
    if seeking.over():
        return
    relaxed, cut = _all_runs(seeking, forms, minutes=False)
    of = relaxed.minutes_to_dry(cut)
    if _ask_in_parts(seeking, relaxed, of, forms):
        return
    solved = in_order(relaxed.model, [Goal("dry", of)], _work(seeking, FOR_DRY))
    _bound_dry(seeking, solved.first.bound, forms)
    order = full_order(PLAIN, seeking.measure)
    if solved.found is None or _try_all(seeking, guidances(relaxed, solved, order)):
        return
    in_time = relaxed.dry_by(_moments(seeking, forms))
    relaxed.model.cp.add(in_time >= seeking.best.goals.on_time - _fixed(seeking, forms))
    solved = in_order(relaxed.model, [Goal("dry", of)], _work(seeking, FOR_DRY))
    if solved.found is not None:
        _try_all(seeking, guidances(relaxed, solved, order))


def _ask_in_parts(seeking: Seeking, relaxed: Relaxed, of: Sum, forms: Forms) -> bool:
    """The same where a step may be split over days, which is known in moments also of many runs.

    Returns
    -------
    whether it is time to leave off
    """
    split = in_parts(relaxed.model, of, _work(seeking, FOR_PARTS))
    if split is None:
        return seeking.over()
    _bound_dry(seeking, split.bound, forms)
    return _try_all(seeking, orders(relaxed, split, full_order(PLAIN, seeking.measure)))


def _bound_dry(seeking: Seeking, bound: int | None, forms: Forms) -> None:
    if bound is not None:
        seeking.bound_to(with_dry(seeking.bound, _never(seeking, forms) + bound))


def _dry_in_minutes(seeking: Seeking, forms: Forms) -> None:
    """The bound once more in minutes, where the week is small."""
    if seeking.over() or _parts(forms) > STEPS_DRY_IN_MINUTES:
        return
    relaxed, cut = _all_runs(seeking, forms, minutes=True)
    goal = Goal("dry", relaxed.minutes_to_dry(cut))
    solved = in_order(relaxed.model, [goal], _work(seeking, FOR_DRY))
    _bound_dry(seeking, solved.first.bound, forms)
    if solved.found is not None:
        _try_all(seeking, guidances(relaxed, solved, full_order(PLAIN, seeking.measure)))


def _all_runs(seeking: Seeking, forms: Forms, *, minutes: bool) -> tuple[Relaxed, int]:
    """All runs dry a day after the best week's last at the latest, or later, or never.

    Returns
    -------
    the model, and the minutes that a run counts for that is dry later
    """
    measure = seeking.measure
    last = max((minute_of(answer.dry_at) for answer in seeking.best.answers.values()
                if answer.dry_at is not None), default=measure.desk.now)  # fmt: skip
    cut = min(last + DAY_MIN, measure.latest)
    seeking.replay.begin()
    by = dict.fromkeys(forms, cut)
    return Relaxed(measure, forms, by, minutes=minutes, or_later=True), cut - measure.desk.now


# -- fullest day -------------------------------------------------------------------------------


def ask_fullest_day(seeking: Seeking, forms: Forms) -> None:
    """Where all goals before are proved: how few hands the fullest day can do with."""
    best, bound = seeking.best.goals, seeking.bound
    if best.rank[:-1] != bound.rank[:-1] or best == bound or seeking.stopped:
        return
    if not 0 < _parts(forms) <= STEPS_AT_MOST:
        return
    relaxed, cut = _all_runs(seeking, forms, minutes=False)
    model = relaxed.model
    never = _never(seeking, forms)
    model.cp.add(relaxed.minutes_to_dry(cut) <= best.dry_min - never)
    model.cp.add(relaxed.dry_by(_moments(seeking, forms)) >= best.on_time - _fixed(seeking, forms))
    solved = in_order(model, [Goal("day", relaxed.fullest_day())], _work(seeking, FOR_DRY))
    if solved.first.bound is not None:
        seeking.bound_to(with_fullest_day(bound, solved.first.bound))
        _try_all(seeking, guidances(relaxed, solved, full_order(PLAIN, seeking.measure)))


def _never(seeking: Seeking, forms: Forms) -> int:
    """Minutes that the model does not decide about: begun runs, and those that cannot be placed."""
    measure = seeking.measure
    begun = sum(measure.minutes_to_dry(answer) for answer in seeking.replay.begun.values())
    never = sum(not rows for rows in forms.values())
    return begun + never * (measure.latest - measure.desk.now)


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


def orders(relaxed: Relaxed, split: Split, order: list[str]) -> Iterator[Guidance]:
    """Orders of the days on which the parts of runs are on the whole, and on which they end."""
    mean: dict[str, float] = defaultdict(float)
    end: dict[str, float] = defaultdict(float)
    for rows in relaxed.cast:
        days = [_mean_day(row, relaxed, split) for row in rows]
        mean[rows[0].form.run] += sum(days) / len(days)
        end[rows[0].form.run] += days[-1]
    for by in (mean, end):
        # What differs by rounding alone must not decide.
        yield Guidance(tuple(sorted(order, key=lambda code: (round(by[code], 3),
                                                             order.index(code)))))  # fmt: skip


def _mean_day(row: Cast, relaxed: Relaxed, split: Split) -> float:
    return sum(1 - split.part(row.days.by(day)) for day in range(relaxed.count))


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
