"""Who is in on each day, and for how long: hours of every week unrolled into days."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from sourcing.week.facts import DayHours


@dataclass(frozen=True, slots=True)
class HoursOf:
    """One row of hours: who, on which weekday or day, how long, from when to when."""

    who: str
    weekday: int | None  # 0 Monday to 6 Sunday; None: of one day
    day: date | None
    hands_min: int
    opens: time | None
    closes: time | None
    since: date | None = None
    last_on: date | None = None
    site: str = ""

    def holds_on(self, day: date) -> bool:
        """Whether the row says something about a day."""
        if self.day is not None:
            return self.day == day
        return (
            self.weekday == day.weekday()
            and (self.since is None or self.since <= day)
            and (self.last_on is None or day <= self.last_on)
        )


def days_open(
    hours: Sequence[HoursOf], *, first: date, days: int, zone: ZoneInfo
) -> tuple[DayHours, ...]:
    """Days on which somebody is there, in order, by site; hands pooled over those in.

    Of one person's rows that speak of a day, the one for that very day stands above those of
    every week, and of these the one that began last.
    """
    found = []
    for day in (first + timedelta(days=n) for n in range(days)):
        there = [row for row in _rows_of(hours, day) if row.hands_min]
        for site in sorted({row.site for row in there}):
            found.append(_pooled(day, [row for row in there if row.site == site], zone))
    return tuple(found)


def _rows_of(hours: Iterable[HoursOf], day: date) -> list[HoursOf]:
    """The row of each person and site that holds on a day."""
    best: dict[tuple[str, str], HoursOf] = {}
    for row in hours:
        if not row.holds_on(day):
            continue
        key = (row.who, "" if row.day is not None else row.site)
        rival = best.get(key)
        if rival is None or _rank(row) > _rank(rival):
            best[key] = row
    dated = {who for (who, _), row in best.items() if row.day is not None}
    return [row for row in best.values() if row.day is not None or row.who not in dated]


def _rank(row: HoursOf) -> tuple[bool, date]:
    return row.day is not None, row.since or date.min


def _pooled(day: date, rows: Sequence[HoursOf], zone: ZoneInfo) -> DayHours:
    opens = min(row.opens for row in rows if row.opens is not None)
    closes = max(row.closes for row in rows if row.closes is not None)
    return DayHours(
        day=day,
        opens=datetime.combine(day, opens, tzinfo=zone),
        closes=datetime.combine(day, closes, tzinfo=zone),
        hands_min=sum(row.hands_min for row in rows),
        people=len({row.who for row in rows}),
        site=rows[0].site,
    )
