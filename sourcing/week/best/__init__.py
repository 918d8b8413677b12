"""The best week: the same placer under another order, looked for until nothing better is there.

Begun runs never move. Whatever is found is a plan of the plain placer's own making, so it keeps
every rule; the first of the goals that differs decides (`goals.py`).
"""

from __future__ import annotations

from sourcing.week.best.found import (
    NEAR,
    NO_SOLVER,
    PROVED,
    STOPPED,
    TIME_OVER,
    Best,
    Effort,
    Progress,
)
from sourcing.week.best.goals import Goals, importance
from sourcing.week.best.look import best

__all__ = ["NEAR", "NO_SOLVER", "PROVED", "STOPPED", "TIME_OVER", "Best", "Effort", "Goals",
           "Progress", "best", "importance"]  # fmt: skip
