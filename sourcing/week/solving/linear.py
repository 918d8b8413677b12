"""How small a sum can be when steps may be split in parts: known in moments, also of large weeks.

The solver counts in floating point; what is handed out is worked out anew from its prices in whole
numbers, so it is never more than what can be.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sourcing.week.solving.goals import Work
from sourcing.week.solving.model import Model, Sum

PARTS = 1 << 20  # of one, in which prices are counted
OPEN = 1 << 60  # a row that has no such side


@dataclass(frozen=True, slots=True)
class Split:
    """What is known where all that is to be decided may be decided in part."""

    bound: int  # the sum is never less
    parts: tuple[float, ...]  # of each variable, by its number

    def part(self, row: Sum) -> float:
        """The value of a variable, or of a whole number."""
        return float(row) if isinstance(row, int) else self.parts[row.index]


@dataclass(frozen=True, slots=True)
class _Row:
    """So much at the least and at the most of a sum."""

    least: int
    most: int
    of: tuple[tuple[int, int], ...]  # variable and how often


def in_parts(model: Model, of: Sum, work: Work) -> Split | None:
    """The least of a sum, as if a yes-or-no could be answered in part.

    Returns
    -------
    what is known; None where nothing is, as the work was too much or nothing can hold all at once

    References
    ----------
    Safe bounds from any prices of the rows: Neumaier and Shcherbina 2004, Math. Program. 99,
    283-296 (from memory), here in whole numbers.
    """
    from ortools.linear_solver import pywraplp

    model.cp.minimize(of)
    proto = model.cp.proto
    ends = [(row.domain[0], row.domain[len(row.domain) - 1]) for row in proto.variables]
    costs, more = _costs(proto, len(ends))
    rows = list(_rows(proto))
    solver = pywraplp.Solver.CreateSolver("GLOP")
    solver.SetSolverSpecificParametersAsString(f"max_deterministic_time: {work.counted}")
    solver.SetTimeLimit(math.ceil(work.seconds * 1000))
    names = [solver.NumVar(least, most, "") for least, most in ends]
    made = [_added(solver, names, row) for row in rows]
    goal = solver.Objective()
    for number, cost in enumerate(costs):
        if cost:
            goal.SetCoefficient(names[number], cost)
    if solver.Solve() != pywraplp.Solver.OPTIMAL:
        return None
    prices = [round(row.dual_value() * PARTS) for row in made]
    whole = _at_least(costs, ends, rows, prices)
    return Split(more - (-whole // PARTS), tuple(row.solution_value() for row in names))


def _costs(proto: Any, count: int) -> tuple[list[int], int]:
    """What each variable counts for in the goal, and what is there beside them."""
    costs = [0] * count
    for number, cost in zip(proto.objective.vars, proto.objective.coeffs, strict=True):
        _add(costs, number, cost)
    return costs, round(proto.objective.offset)


def _add(costs: list[int], number: int, cost: int) -> None:
    """A number below 0 stands for the variable taken away."""
    costs[number if number >= 0 else -number - 1] += cost if number >= 0 else -cost


def _rows(proto: Any) -> Iterator[_Row]:
    """Every row that holds whatever is decided, and is one stretch of numbers."""
    for row in proto.constraints:
        if not row.has_linear() or len(row.enforcement_literal) or len(row.linear.domain) != 2:
            continue
        of: dict[int, int] = {}
        for number, count in zip(row.linear.vars, row.linear.coeffs, strict=True):
            name, count = (number, count) if number >= 0 else (-number - 1, -count)
            of[name] = of.get(name, 0) + count
        yield _Row(row.linear.domain[0], row.linear.domain[1], tuple(of.items()))


def _added(solver: Any, names: list[Any], row: _Row) -> Any:
    made = solver.Constraint(
        row.least if row.least > -OPEN else -solver.infinity(),
        row.most if row.most < OPEN else solver.infinity(),
    )
    for number, count in row.of:
        made.SetCoefficient(names[number], count)
    return made


def _at_least(
    costs: list[int], ends: list[tuple[int, int]], rows: list[_Row], prices: list[int]
) -> int:
    """What the goal is at the least by these prices, whichever they are, in parts of one."""
    left = [cost * PARTS for cost in costs]
    found = 0
    for row, price in zip(rows, prices, strict=True):
        side = row.least if price > 0 else row.most
        if not price or abs(side) >= OPEN:
            continue
        found += price * side
        for number, count in row.of:
            left[number] -= price * count
    return found + sum(min(each * least, each * most)
                       for each, (least, most) in zip(left, ends, strict=True))  # fmt: skip
