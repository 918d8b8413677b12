"""What will come, asked of a studio: the facts gathered once, then pure sums."""

from __future__ import annotations

from datetime import datetime

from inventory.models import Studio
from sourcing.outlook import facts_at
from sourcing.remembered import week_of
from sourcing.week.coming import AllComing, all_coming
from sourcing.week.facts import WeekFacts


def coming_at(
    studio: Studio, *, at: datetime, days: int, gives: str = ""
) -> tuple[WeekFacts, AllComing]:
    """The facts of a moment, and what will come of each dyestuff from then on.

    Parameters
    ----------
    at : aware
    days : length of the week whose answers say what runs are short of
    gives : one dyestuff alone; empty: as many as fit
    """
    facts = facts_at(studio, at=at, days=days)
    week = week_of(facts, days=days)
    return facts, all_coming(facts, week.answers, gives=gives)
