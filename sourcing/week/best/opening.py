"""What pots and rings take within the opening of one day, bound by minutes and by number."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import TYPE_CHECKING

from sourcing.week.board import Holds
from sourcing.week.solving import Sum, in_one_opening

if TYPE_CHECKING:
    from sourcing.week.best.relaxed import Cast, Relaxed

Item = tuple["Cast", int, int]  # what begins on a day, minutes with the pause after them, how many
Stretch = tuple[int, int]  # first and last minute


def add_openings(
    week: Relaxed, items: Sequence[Item], holds: Sequence[Holds], sites: set[str], *, pause: int
) -> None:
    """Bind what is held within one day's opening.

    Parameters
    ----------
    items : each held for no fewer minutes of the opening of the day on which it begins
    holds : what may hold them, each one at a time
    sites : where they are worked
    pause : minutes that the last of a day needs no more
    """
    by_day: dict[int, list[tuple[Sum, int, int]]] = defaultdict(list)
    for row, minutes, count in items:
        for day in range(week.count):
            if minutes > 0 and row.days.may_be_on(day):
                by_day[day].append((row.days.on(day), minutes, count))
    openings = _openings(week, sites)
    for day, uses in by_day.items():
        since, until = openings[day]
        whole = until - since + pause
        there = [whole - _taken(row, since, until) for row in holds]
        in_one_opening(week.model, uses, there, whole=whole)


def _openings(week: Relaxed, sites: set[str]) -> dict[int, Stretch]:
    """By day, from the first opening of any of some sites to the last closing."""
    found: dict[int, Stretch] = {}
    for site in sorted(sites):
        calendar = week.measure.desk.placers[site].calendar
        for row in calendar.openings:
            day = calendar.day_number_of(row.day)
            opens, closes = found.get(day, (row.opens, row.closes))
            found[day] = min(opens, row.opens), max(closes, row.closes)
    return found


def _taken(holds: Holds, since: int, until: int) -> int:
    """Minutes of a stretch that somebody has already."""
    return sum(
        max(0, min(ends, until) - max(starts, since))
        for starts, ends in zip(holds.starts, holds.ends, strict=True)
    )
