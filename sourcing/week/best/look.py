"""Look for the best week: the plain one first, then what is near the best so far."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from importlib.util import find_spec

from sourcing.week.best.bound import all_forms, could_be_on_time, easy_bound
from sourcing.week.best.found import (
    NEAR,
    NO_SOLVER,
    PROVED,
    STOPPED,
    TIME_OVER,
    Best,
    Effort,
    open_goal,
)
from sourcing.week.best.goals import Goals, Measure
from sourcing.week.best.master import ask_fullest_day, ask_solver
from sourcing.week.best.pins import as_asked, with_pins, with_stays
from sourcing.week.best.replaying import Replay
from sourcing.week.best.seeking import Clock, Seeking, Told
from sourcing.week.best.wander import share, wander
from sourcing.week.facts import WeekFacts
from sourcing.week.guidance import Floor, Guidance
from sourcing.week.plan import Answer, Week
from sourcing.week.project import as_week, refuse_too_much, worked_out

EFFORT = Effort()


def best(
    facts: WeekFacts,
    *,
    days: int,
    effort: Effort = EFFORT,
    told: Told | None = None,
    stop: Callable[[], bool] | None = None,
    clock: Clock | None = None,
    pins: Mapping[str, Answer] | None = None,
    stays: Sequence[Floor] = (),
    near: Week | None = None,
) -> Best:
    """The best week that can be found, never worse than the plain one.

    Parameters
    ----------
    facts : everything at one moment; its `at` is the moment asked for
    days : length of the period in local days, today the first, 1 to 28
    effort : how long to look
    told : is called with each better week and each better bound
    stop : is asked between tries; once it says yes, the best so far is the answer
    clock : seconds elapsed since any moment; None: only the work done counts
    pins : runs that stay where a plan had them, by code
    stays : steps that stay at their hour (`Floor.stays`), beside those of the week as it is; what
        cannot, for facts that no order of runs changes, is said in the notes of its answer
    near : the last plan: after fibre on time and lots saved, as little as can be differs from it

    Raises
    ------
    ValueError
        If `days` lies outside its range, there are more than 2,000 runs, or what is to stay is not
        there.
    """
    refuse_too_much(facts, days)
    fixed = with_stays(with_pins(facts, pins or {}), stays)
    replay = Replay(fixed, days)
    measure = Measure(replay.desk, near)
    solver = find_spec("ortools") is not None
    forms = all_forms(measure) if solver else {}
    seeking = Seeking(replay, measure, effort, told, stop, clock)
    plain = seeking.best.goals
    if solver:
        seeking.bound_to(easy_bound(measure, forms, replay.begun))
        ask_solver(seeking, forms)
        if facts.guidance is not None:
            seeking.tried(facts.guidance)  # never worse than the week that was taken
        ask_fullest_day(seeking, forms)
        share(seeking)
        if near is not None and near.order:
            seeking.tried(Guidance(near.order))
        wander(seeking, could_be_on_time(forms, replay.begun, measure))
        ask_fullest_day(seeking, forms)
    return _as_best(seeking, fixed, days, plain, pins or {}, solver=solver)


def _as_best(
    seeking: Seeking,
    facts: WeekFacts,
    days: int,
    plain: Goals,
    pins: Mapping[str, Answer],
    *,
    solver: bool,
) -> Best:
    found = seeking.best
    desk, answers, _ = worked_out(facts, days, turns=False, guidance=found.guidance)
    bound = seeking.known
    name, gap = open_goal(found.goals, bound) if bound else ("", None)
    return Best(
        as_asked(as_week(desk, answers), pins),
        found.goals,
        plain,
        _status(seeking, gap, solver=solver),
        bound,
        gap,
        name,
        seeking.elapsed if seeking.clock else None,
        seeking.replay.placings,
        found.guidance.held_to(facts.stays),
    )


def _status(seeking: Seeking, gap: float | None, *, solver: bool) -> str:
    if not solver or gap is None:
        return NO_SOLVER
    if gap == 0:
        return PROVED
    if seeking.stopped:
        return STOPPED
    return NEAR if gap <= seeking.effort.gap else TIME_OVER
