"""Runs that end on one day in the same few pots: they come in turn, not all at its first hour.

Of those that could go in at the same first minute as many begin then as there are pots, as many
more when the shortest of them is over, and so on: that is the least, whichever of them it is.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sourcing.week.best.forms import earliest, soonest_on
from sourcing.week.best.opening import Item, on_each_day, openings_of
from sourcing.week.solving import Sum

if TYPE_CHECKING:
    from sourcing.week.best.relaxed import Relaxed

TURNS_AT_MOST = 8  # of one pot on one day, counted so far


@dataclass(frozen=True, slots=True)
class Last:
    """What a run's cloth goes into on the day on which it is hung."""

    on: Sum
    minutes: int  # with the pause after it
    count: int  # pots at once


def minutes_in_turn(week: Relaxed, items: Sequence[Item], pots: int) -> Iterator[Sum]:
    """Day by day, minutes by which runs dry later than at its first hour, at the least.

    Parameters
    ----------
    items : that so many pots take and no others; none is in two calls
    """
    for (day, begins), rows in sorted(_by_beginning(week, items).items()):
        found = _in_turn(week, f"in turn on day {day} from {begins}", rows, pots)
        if found is not None:
            yield found


def _by_beginning(week: Relaxed, items: Sequence[Item]) -> Mapping[tuple[int, int], list[Last]]:
    """The last things that are held for runs, by day and by the minute at which they may begin."""
    last = {id(item.row.form): item for item in items}  # a form's last item, as they are in order
    openings = openings_of(week, {item.row.form.site for item in items})
    found: dict[tuple[int, int], list[Last]] = defaultdict(list)
    for item in last.values():
        if not all(part.same_day for part in item.row.form.parts[item.number : -1]):
            continue
        for day, use in on_each_day(week, item, openings):
            if _ends_later_by_as_much(week, item, day, openings[day][0] + use.begins):
                found[day, use.begins].append(Last(use.on, use.minutes, use.count))
    return found


def _ends_later_by_as_much(week: Relaxed, item: Item, day: int, begins: int) -> bool:
    """Whether nothing is waited for between an item and the end, so that what delays it delays it.

    Where something is, the end may be at the same hour for all that.
    """
    parts = item.row.form.parts
    calendar = week.measure.desk.placers[item.row.form.site].calendar
    soonest = earliest(parts, week.measure.desk.now, calendar)
    assert soonest is not None
    least = begins + sum(part.minutes + part.gap for part in parts[item.number : -1])
    return soonest_on(parts, len(parts) - 1, day, soonest, calendar) == least


def _in_turn(week: Relaxed, name: str, rows: Sequence[Last], pots: int) -> Sum | None:
    """The sum of the delays, bound from below for those that take longest, and for more and more.

    Cloth is hung on a grid, so of each delay only whole steps of that are sure.
    """
    hangs_on, cp = week.measure.desk.house.hangs_on, week.model.cp
    found: Sum | None = None
    for minutes in sorted({row.minutes for row in rows}, reverse=True):
        long = [row for row in rows if row.minutes >= minutes]
        at_once = max(1, pots // min(row.count for row in long))
        if len(long) <= at_once:
            continue
        if found is None:
            turns = min(TURNS_AT_MOST, len(rows))
            most = len(rows) * turns * max(row.minutes for row in rows)
            found = week.model.number(name, most=most)
        there, delay, before = sum(row.on for row in long), 0, 0
        for turn in range(1, min(TURNS_AT_MOST, -(-len(long) // at_once))):
            # One more than fit into the turns before is later by a whole turn.
            delay = turn * minutes // hangs_on * hangs_on
            cp.add(found >= before + delay * (there - turn * at_once))
            before += delay * at_once
    return found
