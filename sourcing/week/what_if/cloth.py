"""What hangs on the line day by day, without what only stands for a line that is not up."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from inventory.science.days import day_begins
from sourcing.week.facts import Hanging, WeekFacts
from sourcing.week.plan import Day, LineLoad, Week
from sourcing.week.what_if.room import NOT_UP


def with_cloth_only(week: Week, facts: WeekFacts) -> Week:
    """The week with only cloth counted on its lines; the very same where all of it is."""
    rows = [row for row in facts.hanging if row.what == NOT_UP]
    if not rows:
        return week
    return replace(week, days=tuple(_day(day, rows, facts) for day in week.days))


def _day(day: Day, rows: list[Hanging], facts: WeekFacts) -> Day:
    first = day_begins(day.day, zone=facts.zone)
    last = day_begins(day.day + timedelta(1), zone=facts.zone)
    bounds = {at for row in rows for at in (row.since, row.until) if first < at < last}
    loads: list[LineLoad] = []
    for at in sorted({load.since for load in day.line} | bounds):
        mg = _load(day, at) - sum(row.mg for row in rows if row.since <= at < row.until)
        if not loads or loads[-1].mg != mg:
            loads.append(LineLoad(at, mg))
    return replace(day, line=tuple(loads))


def _load(day: Day, at: datetime) -> int:
    """What the board has at a moment of the day."""
    return [load.mg for load in day.line if load.since <= at][-1]
