"""The last weeks that this process worked out, each found again by the very facts it was made of.

A phone opens *This week* and *Today* one after the other, and carries both along; their answer is
the same sum. Nothing here can be stale: facts are gathered anew for each question, moment and all,
and an answer is taken again only where every one of them is equal.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Week
from sourcing.week.project import project

KEPT = 6  # a studio of twenty years with two hundred runs takes some megabytes


@dataclass(frozen=True, slots=True)
class _Kept:
    facts: WeekFacts
    days: int
    unlocks: bool
    week: Week


_last: deque[_Kept] = deque(maxlen=KEPT)


def week_of(facts: WeekFacts, *, days: int, unlocks: bool = False) -> Week:
    """What `project` answers; worked out once for the same facts and the same question.

    Parameters
    ----------
    facts, days, unlocks : as `project` takes them

    Raises
    ------
    ValueError
        As `project` does.
    """
    # A copy, as another thread may put one in meanwhile.
    for kept in tuple(_last):
        if (kept.days, kept.unlocks) == (days, unlocks) and kept.facts == facts:
            return kept.week
    week = project(facts, days=days, unlocks=unlocks)
    _last.append(_Kept(facts, days, unlocks, week))
    return week


def forget() -> None:
    """Work everything out anew, for whoever measures how long that takes."""
    _last.clear()
