"""The days of a period: hands used of those there, and what hangs on the line from when."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from sourcing.week.desk import Desk
from sourcing.week.place import Placer
from sourcing.week.plan import Day, LineLoad


def days_of(desk: Desk) -> tuple[Day, ...]:
    """One row a local day of the period.

    Hands count what the board has spent: steps on the day they start, chores, pick-ups, dips,
    jobs and blocks. The line is what hangs at the day's first moment and each change after it.
    """
    return tuple(_day(desk, desk.today + timedelta(number), number) for number in range(desk.days))


def _day(desk: Desk, day: date, number: int) -> Day:
    there = used = 0
    for placer, left in pools_of(desk):
        index = placer.calendar.index_of_day(day)
        if index is not None:
            here = placer.calendar.open_days[index].hands_min
            there += here
            used += here - left[index]
    since, until = desk.calendar.midnights[number], desk.calendar.midnights[number + 1]
    return Day(day, used, there, _line(desk, since, until))


def pools_of(desk: Desk) -> Iterator[tuple[Placer, list[int]]]:
    """Each pool of hands once, however many sites share it."""
    seen: set[int] = set()
    for site, placer in desk.placers.items():
        left = desk.board.hands[site]
        if id(left) not in seen:
            seen.add(id(left))
            yield placer, left


def _line(desk: Desk, since: int, until: int) -> tuple[LineLoad, ...]:
    """What hangs at midnight, and after each change of the day."""
    rails = desk.board.rails.values()
    hangs = [row for rail in rails for row in rail.hung]
    changes = {minute for row in hangs for minute in row[:2] if since < minute < until}
    loads = [LineLoad(desk.calendar.moment(since), _load(hangs, since))]
    for minute in sorted(changes):
        mg = _load(hangs, minute)
        if mg != loads[-1].mg:
            loads.append(LineLoad(desk.calendar.moment(minute), mg))
    return tuple(loads)


def _load(hangs: list[tuple[int, int, int]], minute: int) -> int:
    return sum(mg for since, until, mg in hangs if since <= minute < until)
