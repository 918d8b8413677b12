"""What would the week be if …? Asked of a studio: gathered, changed, worked out, kept nowhere.

A figure that is otherwise is gathered with, as amounts of pick-ups and hours hang on figures too.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from inventory.models import Studio
from inventory.science.figures import Figures
from sourcing.outlook import facts_at
from sourcing.remembered import week_of
from sourcing.week.plan import Week
from sourcing.week.what_if import Change, RunMoved, check, moved_runs, week_if
from sourcing.week.what_if.figure import AnotherFigure, with_figures


@dataclass(frozen=True)
class WhatIf:
    """The week as it would be, and each run before and after where that was asked for."""

    week: Week
    runs: tuple[RunMoved, ...] | None = None


def what_if_at(
    studio: Studio, *, at: datetime, days: int, changes: Sequence[Change], compare: bool = True
) -> WhatIf:
    """The week of a studio with something otherwise, for this question only.

    Parameters
    ----------
    at : aware; the moment from which the week is seen
    days : length of the period
    changes : 20 at most, any order
    compare : also work the week out as it is, and say what moves

    Raises
    ------
    CannotBe
        With everything that does not fit the studio.
    """
    facts = facts_at(studio, at=at, days=days)
    check(facts, changes)
    figures = [change for change in changes if isinstance(change, AnotherFigure)]
    today = at.astimezone(ZoneInfo(studio.zone)).date()

    def otherwise(held: Figures) -> Figures:
        return with_figures(held, figures, on=today)

    then = facts_at(studio, at=at, days=days, otherwise=otherwise) if figures else facts
    week = week_if(then, changes, days=days, unlocks=True)
    if not compare:
        return WhatIf(week)
    return WhatIf(week, moved_runs(week_of(facts, days=days), week, facts))
