"""Goals one after another: each is brought as far as it goes before the next is looked at.

One worker, one seed and work counted by the solver itself make the same answer on every machine;
the seconds stand beside as a limit that a slow machine may come to first.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sourcing.week.solving.model import Model, Sum
from sourcing.week.solving.outcome import Outcome, Solved

SEED = 1
# Every sum is in the linear model. At level 1 the bound of 30 runs was still 22 % off after 6 s of
# work, at 2 it was proved in 0.3 s; the published job shops take twice as long (measured here, 28
# November 2026).
LINEAR = 2


@dataclass(frozen=True, slots=True)
class Goal:
    """A sum that is to be as small, or as large, as can be."""

    name: str
    of: Sum
    most: bool = False


@dataclass(frozen=True, slots=True)
class Work:
    """How long the solver may look at each goal.

    Parameters
    ----------
    counted : seconds by the solver's own count of its work, above 0
    seconds : elapsed, above 0
    gap : part of a goal, 0 to 1, that is good enough
    """

    counted: float = 10.0
    seconds: float = 60.0
    gap: float = 0.0


def in_order(
    model: Model,
    goals: Sequence[Goal],
    work: Work = Work(),
    *,
    hint: Sequence[tuple[Sum, int]] = (),
) -> Solved:
    """Solve for the first goal, hold on to what it reached, then for the next.

    Parameters
    ----------
    hint : values of variables to begin with, of any plan that holds
    """
    outcomes: list[Outcome] = []
    found: Any = None
    for goal in goals:
        _hint(model, hint, found)
        (model.cp.maximize if goal.most else model.cp.minimize)(goal.of)
        tried, status = _tried(model, work)
        if status == "INFEASIBLE":
            return Solved((), None, possible=False)
        outcome = _outcome(goal, tried, status)
        outcomes.append(outcome)
        if outcome.value is None:
            break
        found = tried
        if goal is not goals[-1]:
            held = goal.of >= outcome.value if goal.most else goal.of <= outcome.value
            model.cp.add(held)
    return Solved(tuple(outcomes), found, possible=True)


def _tried(model: Model, work: Work) -> tuple[Any, str]:
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = SEED
    solver.parameters.max_deterministic_time = work.counted
    solver.parameters.max_time_in_seconds = work.seconds
    solver.parameters.relative_gap_limit = work.gap
    solver.parameters.linearization_level = LINEAR
    status = solver.solve(model.cp)
    return solver, str(solver.status_name(status))


def _outcome(goal: Goal, solver: Any, status: str) -> Outcome:
    """What a goal reached; a bound that is not whole is rounded to the side that is safe.

    Before anything is found the solver may say 0 where it knows no bound yet: that is none.
    """
    if status not in ("OPTIMAL", "FEASIBLE"):
        return Outcome(goal.name, None, None, proved=False)
    value, bound = round(solver.objective_value), solver.best_objective_bound
    whole = math.floor(bound + 1e-6) if goal.most else math.ceil(bound - 1e-6)
    return Outcome(goal.name, value, whole, proved=value == whole)


def _hint(model: Model, hint: Sequence[tuple[Sum, int]], found: Any) -> None:
    """Begin with what is known: the plan handed in, else what the goal before found."""
    model.cp.clear_hints()
    if found is not None:
        for number in range(len(model.cp.proto.variables)):
            row = model.cp.get_int_var_from_proto_index(number)
            model.cp.add_hint(row, found.value(row))
        return
    for row, value in hint:
        if not isinstance(row, int):
            model.cp.add_hint(row, value)
