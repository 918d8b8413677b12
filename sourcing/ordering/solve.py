"""Find the cheapest order within a time, and say how sure that is; HiGHS does the searching."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from math import inf
from typing import Any

from inventory.science.saying import joined, say
from inventory.science.unclear import OutOfRange
from sourcing.ordering.costs import Picks, faults_of
from sourcing.ordering.model import OrderModel, model_of
from sourcing.ordering.problem import Problem

SECONDS_AT_MOST = 3600.0


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the search has come, in minor units; what is not known yet is None."""

    seconds: float  # of the search, 0 before it begins
    best_minor: float | None  # the cheapest order found
    bound_minor: float | None  # no order costs less

    @property
    def gap(self) -> float | None:
        """By what part of its cost a cheaper order is not ruled out yet: 0 to 1."""
        if self.best_minor is None or self.bound_minor is None or self.best_minor <= 0:
            return None
        return min(max(1 - self.bound_minor / self.best_minor, 0.0), 1.0)


@dataclass(frozen=True, slots=True)
class Effort:
    """How long to search, how close to come, and whom to tell meanwhile."""

    seconds: float = 10.0  # above 0; a round that has begun is finished, so it may take longer
    gap: float = 0.001  # 0 to 1; 0: until nothing cheaper can exist
    tell: Callable[[Progress], None] | None = None  # what it raises ends the search

    def __post_init__(self) -> None:
        if not 0 < self.seconds <= SECONDS_AT_MOST:
            raise OutOfRange(
                "seconds to search",
                self.seconds,
                say("above 0, {seconds_at_most:g} at most", seconds_at_most=SECONDS_AT_MOST),
            )
        if not 0 <= self.gap < 1:
            raise OutOfRange("gap", self.gap, "0 or more and below 1")


@dataclass(frozen=True, slots=True)
class Found:
    """What the search came to; no picks where it found none in time."""

    picks: Picks | None
    bound_minor: float  # 0 or more


class CannotBeMet(ValueError):
    """No order meets the needs: a least value stands against what the suppliers have."""

    def __init__(self, suppliers: Sequence[str]) -> None:
        self.suppliers = tuple(suppliers)
        names = joined(", ", self.suppliers)
        super().__init__(
            say(
                "No order meets every need: the packs that {names} can send do not come to the "
                "least value of an order. Ask another supplier, or for another fibre with it.",
                names=names,
            )
        )


def search(problem: Problem, effort: Effort, *, known: Picks | None = None) -> Found:
    """The cheapest picks that the search finds in time.

    Parameters
    ----------
    known : picks that break no promise, to begin from; what is found is never dearer

    Raises
    ------
    CannotBeMet
        If there are none at all.

    References
    ----------
    Solver: HiGHS inside OR-Tools. Tried side by side on sixty fibres and eight suppliers it came
    within a thousandth after 2 s of work; SCIP took up to three times as long, and CP-SAT was
    still at a gap of 90 % after 6 s of work (measured here, 27 November 2026).
    """
    from ortools.math_opt.python import mathopt

    made = model_of(problem)
    hints = [mathopt.SolutionHint(variable_values=made.values(known))] if known else []
    result = mathopt.solve(
        made.model,
        mathopt.SolverType.HIGHS,
        params=mathopt.SolveParameters(
            time_limit=timedelta(seconds=effort.seconds),
            relative_gap_tolerance=effort.gap,
            absolute_gap_tolerance=0.0,
        ),
        model_params=mathopt.ModelSolveParameters(solution_hints=hints),
        msg_cb=_listener(effort.tell),
    )
    reason = result.termination.reason
    if reason in (mathopt.TerminationReason.INFEASIBLE,
                  mathopt.TerminationReason.INFEASIBLE_OR_UNBOUNDED):  # fmt: skip
        raise CannotBeMet(sorted({slot.supplier for slot in problem.slots}))
    return Found(
        _picks(made, result, problem),
        max(0.0, result.termination.objective_bounds.dual_bound),
    )


def _picks(made: OrderModel, result: Any, problem: Problem) -> Picks | None:
    """The picks of the best solution, proved by exact sums; the search itself counts in floats."""
    if not result.has_primal_feasible_solution():
        return None
    picks = made.picks(result.variable_values())
    faults = list(faults_of(picks, problem))
    assert not faults, faults
    return picks


def _listener(
    tell: Callable[[Progress], None] | None,
) -> Callable[[Sequence[str]], None] | None:
    if tell is None:
        return None

    def listen(lines: Sequence[str]) -> None:
        for line in lines:
            if (progress := progress_in(line)) is not None:
                tell(progress)

    return listen


def progress_in(line: str) -> Progress | None:
    """What a line of the solver's log says of its progress; None where it is another line.

    The columns are those of HiGHS as pinned: nodes, leaves, explored %, bound, best, gap, cuts,
    time. A line that has other ones is passed over.

    Examples
    --------
    >>> progress_in(" L   0   0   0   0.00%   1364092.3   1364175   0.01%   20  2  9   10   3.8s")
    Progress(seconds=3.8, best_minor=1364175.0, bound_minor=1364092.3)
    >>> progress_in("Presolving model")
    """
    words = line.split()
    part = next((n for n, word in enumerate(words) if word.endswith("%")), len(words))
    if not 3 <= part < len(words) - 3 or not words[-1].endswith("s"):
        return None
    try:
        bound, best = float(words[part + 1]), float(words[part + 2])
        seconds = float(words[-1].removesuffix("s"))
    except ValueError:
        return None
    return Progress(seconds, _known(best), _known(bound))


def _known(value: float) -> float | None:
    return None if value in (inf, -inf) else value
