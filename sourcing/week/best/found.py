"""What is found when a better week is looked for: it, how good it is, and how good one could be."""

from __future__ import annotations

from dataclasses import dataclass

from sourcing.week.best.goals import NAMES, Goals
from sourcing.week.guidance import Guidance
from sourcing.week.plan import Week

PROVED = "proved"  # no week is better
NEAR = "near"  # within `Effort.gap` of what no week can be better than
TIME_OVER = "time over"  # the best so far; a better one may be there
STOPPED = "stopped"  # by hand, with the best so far
NO_SOLVER = "no solver"  # the plain week, as nothing else can be tried


@dataclass(frozen=True, slots=True)
class Effort:
    """How long to look; the first two make the same answer on every machine, the others need not.

    Parameters
    ----------
    placings : runs placed at the most, about a thousand in 1.5 s (measured here, 28 November 2026)
    solver : seconds by the solver's own count of its work, the same everywhere
    seconds : elapsed, where a clock is handed in, and for the solver
    gap : part of a goal, 0 to 1, within which a week is as good as the best
    """

    placings: int = 12_000
    solver: float = 6.0
    seconds: float = 60.0
    gap: float = 0.01


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the looking has come."""

    goals: Goals  # of the best week so far
    bound: Goals | None  # that no week is better than
    placings: int
    part: float  # of the effort that is spent, 0 to 1


@dataclass(frozen=True)
class Best:
    """A week at least as good as the plain one, and what is known of better ones."""

    week: Week
    goals: Goals
    plain: Goals
    status: str
    bound: Goals | None  # goal by goal what no week is better than; None: nobody looked
    gap: float | None  # of the first goal that is not proved; 0: all are
    open_goal: str  # its name; empty: none
    sought_s: float | None  # None: without a clock
    placings: int
    guidance: Guidance  # that makes the same plan again

    @property
    def differs(self) -> bool:
        """Whether it is another week than the plain one."""
        return self.goals.better_than(self.plain)


def open_goal(goals: Goals, bound: Goals) -> tuple[str, float]:
    """The first goal that falls short of its bound, and by what part; none: empty and 0."""
    for name in NAMES:
        mine, other = getattr(goals, name), getattr(bound, name)
        if mine != other:
            return name, abs(other - mine) / max(abs(mine), abs(other))
    return "", 0.0
