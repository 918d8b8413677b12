"""What pots and rings take within the opening of one day, bound by minutes and by number."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sourcing.week.best.forms import earliest, soonest_on
from sourcing.week.board import Holds
from sourcing.week.solving import Sum, in_one_opening

if TYPE_CHECKING:
    from sourcing.week.best.relaxed import Cast, Relaxed

EDGES_AT_MOST = 6  # of the earliest beginnings, and of the latest ends, that are looked at

Stretch = tuple[int, int]  # first and last minute


@dataclass(frozen=True, slots=True)
class Item:
    """What is held within the opening of the day on which a part begins."""

    row: Cast
    number: int  # of the part in its form
    lasts: int  # minutes held, at the least
    pause: int  # minutes after it before the next
    count: int  # how many are held at once


@dataclass(frozen=True, slots=True)
class Use:
    """An item on one day."""

    on: Sum
    begins: int  # no sooner, in minutes from the opening
    ends: int  # no later, without its pause
    minutes: int  # with its pause
    count: int


@dataclass(frozen=True, slots=True)
class Before:
    """What is still held when a day opens, and the minutes until it can be taken anew."""

    by_day: Mapping[int, Sequence[tuple[Sum, int]]] = field(default_factory=dict)  # and how many
    minutes: int = 0


def add_openings(
    week: Relaxed,
    items: Sequence[Item],
    holds: Sequence[Holds],
    sites: set[str],
    *,
    before: Before = Before(),
) -> None:
    """Bind what is held within one day's opening.

    Parameters
    ----------
    holds : what may hold the items, each one at a time
    sites : where they are worked
    """
    openings = openings_of(week, sites)
    pause = max((item.pause for item in items), default=0)
    by_day: dict[int, list[Use]] = {}
    for item in items:
        for day, use in on_each_day(week, item, openings):
            by_day.setdefault(day, []).append(use)
    for day, uses in by_day.items():
        _bind(week, uses, holds, openings[day], pause, before.by_day.get(day, ()), before.minutes)


def _bind(
    week: Relaxed,
    uses: Sequence[Use],
    holds: Sequence[Holds],
    opening: Stretch,
    pause: int,
    carried: Sequence[tuple[Sum, int]],
    anew: int,
) -> None:
    """Bind what has to begin and end within each narrower stretch of an opening as well."""
    since, until = opening
    for first in _edges(use.begins for use in uses):
        for last in _edges(-use.ends for use in uses):
            inside = [(use.on, use.minutes, use.count) for use in uses
                      if use.begins >= first and use.ends <= -last]  # fmt: skip
            if not inside:
                continue
            whole = max(0, -last - first + pause)
            there = [
                max(0, whole - _taken(row, since + first, min(until, since - last)))
                for row in holds
            ]
            lost = [(on, anew - first, count) for on, count in carried if anew > first]
            in_one_opening(week.model, inside, there, whole=whole, lost=lost)


def _edges(minutes: Iterable[int]) -> list[int]:
    """Some of the minutes from which only those later are looked at, the first among them."""
    rows = sorted(set(minutes))
    if len(rows) <= EDGES_AT_MOST:
        return rows
    return [rows[number * (len(rows) - 1) // (EDGES_AT_MOST - 1)]
            for number in range(EDGES_AT_MOST)]  # fmt: skip


def on_each_day(
    week: Relaxed, item: Item, openings: Mapping[int, Stretch]
) -> Iterable[tuple[int, Use]]:
    row, parts = item.row, item.row.form.parts
    calendar = week.measure.desk.placers[row.form.site].calendar
    soonest = earliest(parts, week.measure.desk.now, calendar)
    assert soonest is not None
    closes = {calendar.day_number_of(day.day): day.closes for day in calendar.open_days}
    more = _until_over(row, item.number)
    if item.lasts + item.pause <= 0:
        return
    for day in range(week.count):
        if row.days.may_be_on(day):
            since, _ = openings[day]
            begins = soonest_on(parts, item.number, day, soonest, calendar)
            ends = closes[day] - more + item.lasts
            yield day, Use(row.days.on(day), begins - since, ends - since,
                           item.lasts + item.pause, item.count)  # fmt: skip


def _until_over(row: Cast, number: int) -> int:
    """Minutes from the start of a part until nobody has to be there for it and its like.

    Those that follow it on the same day are counted in.
    """
    minute, over = 0, 0
    for part in row.form.parts[number:]:
        over = max(over, minute + part.attended)
        minute += part.minutes + part.gap
        if not part.same_day:
            break
    return over


def openings_of(week: Relaxed, sites: set[str]) -> dict[int, Stretch]:
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
