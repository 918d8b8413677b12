"""On which day a step begins: days and nights before hours and minutes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sourcing.week.solving.model import Model, Sum, Timed


@dataclass(frozen=True, slots=True)
class Days:
    """The day of a step: whether it has begun by the end of each day."""

    begun_by: tuple[Sum, ...]  # one a day, 0 or 1 where that is certain; never falls
    present: Sum

    def by(self, day: int) -> Sum:
        """1 if the step has begun by the end of a day."""
        if day < 0:
            return 0
        return self.begun_by[min(day, len(self.begun_by) - 1)]

    def on(self, day: int) -> Sum:
        """1 if the step begins on a day."""
        return self.by(day) - self.by(day - 1)

    def may_be_on(self, day: int) -> bool:
        """Whether it could begin on a day."""
        return not _same(self.by(day), self.by(day - 1))


def _same(one: Sum, other: Sum) -> bool:
    if isinstance(one, int) and isinstance(other, int):
        return one == other
    return one is other


def days_of(
    model: Model,
    name: str,
    hours: Mapping[int, Sequence[tuple[int, int]]],
    *,
    count: int,
    present: Sum = 1,
) -> Days:
    """The day of a step that is there or left out.

    Parameters
    ----------
    hours : by day, first and last minute at which the step may begin; a day without is none
    count : days in all
    """
    begun: list[Sum] = []
    last: Sum = 0
    able = [day for day in range(count) if hours.get(day)]
    for day in range(count):
        if day not in hours or not hours[day]:
            begun.append(last)
            continue
        if day == able[-1]:
            begun.append(present)
        else:
            begun.append(model.yes_or_no(f"{name} begun by day {day}"))
            model.cp.add(begun[-1] <= present)
        if not isinstance(last, int):
            model.cp.add(last <= begun[-1])
        last = begun[-1]
    if not able and not isinstance(present, int):
        model.cp.add(present == 0)
    return Days(tuple(begun), present)


def at_its_day(
    model: Model, row: Timed, days: Days, hours: Mapping[int, Sequence[tuple[int, int]]]
) -> None:
    """Bind a step's minute to its day."""
    for day, rows in hours.items():
        if not rows:
            continue
        first, last = min(since for since, _ in rows), max(until for _, until in rows)
        begun, before = days.by(day), days.by(day - 1)
        if not isinstance(before, int):
            # Not begun by the day before: not sooner than this day's first minute.
            model.cp.add(row.start >= first).only_enforce_if([~before, *_there(row)])
        if not isinstance(begun, int):
            model.cp.add(row.start <= last).only_enforce_if([begun, *_there(row)])


def _there(row: Timed) -> list[Sum]:
    return [] if isinstance(row.present, int) else [row.present]


def not_before_day(model: Model, before: Days, after: Days, soonest: Mapping[int, int]) -> None:
    """A step begins on no day before the soonest that the day of another leaves it.

    Parameters
    ----------
    soonest : by day of the step before, the first day of the step after; rises with the day
    """
    count = len(after.begun_by)
    for day in range(count):
        # What begins by this day was preceded by something that leaves it this day or a sooner one.
        latest = max((first for first, then in soonest.items() if then <= day), default=-1)
        _no_more(model, after.by(day), before.by(latest))


def same_day(model: Model, one: Days, other: Days) -> None:
    """Two steps begin on one day."""
    for day in range(len(one.begun_by)):
        if not _same(one.by(day), other.by(day)):
            model.cp.add(one.by(day) == other.by(day))


def not_after_day(model: Model, before: Days, after: Days, latest: Mapping[int, int]) -> None:
    """A step begins no later than the last day that the day of another leaves it.

    Parameters
    ----------
    latest : by day of the step before, the last day of the step after; rises with the day
    """
    for day, last in sorted(latest.items()):
        if day < len(before.begun_by):
            _no_more(model, before.by(day), after.by(last))


def _no_more(model: Model, one: Sum, other: Sum) -> None:
    if _same(one, other) or (isinstance(one, int) and one == 0):
        return
    model.cp.add(one <= other)
