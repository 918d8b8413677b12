"""Steps, chains, pots, things of limited number and goals, as a solver understands them.

Whatever is said here is said of minutes and counts alone; what a week has of them stands in
`sourcing/week/best/`. The solver is loaded when a model is begun, not before: it takes 1.5 s.
"""

from __future__ import annotations

from sourcing.week.solving.days import (
    Days,
    at_its_day,
    days_of,
    not_after_day,
    not_before_day,
    same_day,
)
from sourcing.week.solving.goals import Goal, Work, in_order
from sourcing.week.solving.limits import (
    at_most,
    at_most_by_size,
    each_day,
    in_one_opening,
    one_at_a_time,
)
from sourcing.week.solving.linear import Split, in_parts
from sourcing.week.solving.model import Model, Sum, Timed
from sourcing.week.solving.outcome import Outcome, Solved
from sourcing.week.solving.steps import (
    chain,
    follows,
    held,
    is_late,
    last_of,
    late_by,
    one_of,
    step,
)

__all__ = ["Days", "Goal", "Model", "Outcome", "Solved", "Split", "Sum", "Timed", "Work",
           "at_its_day", "at_most", "at_most_by_size", "chain", "days_of", "each_day", "follows",
           "held", "in_one_opening", "in_order", "in_parts", "is_late", "last_of", "late_by",
           "not_after_day", "not_before_day", "one_at_a_time", "one_of", "same_day",
           "step"]  # fmt: skip
