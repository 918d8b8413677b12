"""Minutes, days and opening hours: the calendar that the placer counts in.

A moment is a whole minute since 1970-01-01 UTC, so hours are elapsed hours also when the clocks
change; days are the studio's local dates.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from sourcing.week.facts import DayHours

NEVER = 1 << 40  # later than any moment that a plan reaches


def minute_of(moment: datetime) -> int:
    """Whole minutes since the epoch; a part of a minute counts as passed."""
    return -int(-moment.timestamp() // 60)


def moment_of(minute: int, zone: ZoneInfo) -> datetime:
    """The local moment of a minute."""
    return datetime.fromtimestamp(minute * 60, UTC).astimezone(zone)


def rounded_up(minute: int, step: int) -> int:
    """The next minute that falls on the grid of `step` minutes, itself included."""
    return -(-minute // step) * step


@dataclass(frozen=True, slots=True)
class OpenDay:
    """A day on which somebody is there."""

    day: date
    opens: int
    closes: int
    hands_min: int
    people: int
    night_ends: int  # the moment at which what stood overnight is lifted


class Calendar:
    """Local days and the open ones among them, over a horizon."""

    def __init__(
        self,
        zone: ZoneInfo,
        *,
        since: date,
        days: int,
        hours: Iterable[DayHours],
        night_ends_min: int,
        site: str = "",
    ) -> None:
        self.zone = zone
        self.since = since
        self.midnights = [
            minute_of(datetime.combine(since + timedelta(n), time(), tzinfo=zone))
            for n in range(days + 2)
        ]
        self.end = self.midnights[-2]
        self.open_days = self._pooled(hours, night_ends_min, site)
        self._closes = [day.closes for day in self.open_days]
        self._by_day = {day.day: index for index, day in enumerate(self.open_days)}
        self._night_ends = [day.night_ends for day in self.open_days]

    def _pooled(self, hours: Iterable[DayHours], night_ends_min: int, site: str) -> list[OpenDay]:
        by_day: dict[date, list[DayHours]] = {}
        for row in hours:
            if row.hands_min > 0 and (not site or row.site in ("", site)):
                by_day.setdefault(row.day, []).append(row)
        pooled = []
        for day in sorted(by_day):
            rows = by_day[day]
            opens = min(minute_of(row.opens) for row in rows)
            nine = datetime.combine(day, time(), tzinfo=self.zone).replace(
                hour=night_ends_min // 60, minute=night_ends_min % 60
            )
            pooled.append(
                OpenDay(
                    day,
                    opens,
                    max(minute_of(row.closes) for row in rows),
                    sum(row.hands_min for row in rows),
                    sum(row.people for row in rows),
                    max(minute_of(nine), opens),
                )
            )
        return pooled

    def day_number(self, minute: int) -> int:
        """Number of the local day of a minute, 0 for the first day of the horizon."""
        return bisect_right(self.midnights, minute) - 1

    def day_of(self, minute: int) -> date:
        """The local date of a minute."""
        return self.since + timedelta(self.day_number(minute))

    def open_index(self, minute: int) -> int:
        """Index of the first open day that has not closed by then."""
        return bisect_right(self._closes, minute)

    def index_of_day(self, day: date) -> int | None:
        """Index of a local date among the open days; None when nobody is in."""
        return self._by_day.get(day)

    def night_over(self, minute: int) -> int:
        """When what is left standing overnight is lifted: morning of the next open day."""
        day = self.day_number(minute)
        if day + 1 >= len(self.midnights):
            return NEVER
        index = bisect_left(self._night_ends, self.midnights[day + 1])
        return self._night_ends[index] if index < len(self._night_ends) else NEVER

    def moment(self, minute: int) -> datetime:
        """The local moment of a minute."""
        return moment_of(minute, self.zone)
