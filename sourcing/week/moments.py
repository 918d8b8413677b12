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
class Opening:
    """A stretch of a day during which somebody is there; a day may have several."""

    day: date
    opens: int
    closes: int
    pool: int  # index of the day's hands, shared by its openings
    people: int = 1  # who are there at once, at the least


@dataclass(frozen=True, slots=True)
class OpenDay:
    """A day on which somebody is in, with its hands."""

    day: date
    hands_min: int
    opens: int  # of its first opening
    closes: int  # of its last
    night_ends: int  # when what stood overnight is lifted


class Calendar:
    """Local days, the open ones among them and their openings, over a horizon."""

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
        self.midnights = [self.wall(since + timedelta(n), time()) for n in range(days + 2)]
        self.end = self.midnights[-2]
        self.open_days: list[OpenDay] = []
        self.openings: list[Opening] = []
        self._pool(hours, time(night_ends_min // 60, night_ends_min % 60), site)
        self._closes = [opening.closes for opening in self.openings]
        self._by_day = {day.day: index for index, day in enumerate(self.open_days)}
        self._night_ends = [day.night_ends for day in self.open_days]

    def _pool(self, hours: Iterable[DayHours], night_ends: time, site: str) -> None:
        """Shifts that meet are one opening; a day's hands are pooled over its shifts."""
        by_day: dict[date, list[DayHours]] = {}
        for row in hours:
            if row.hands_min > 0 and (not site or row.site in ("", site)):
                by_day.setdefault(row.day, []).append(row)
        for pool, day in enumerate(sorted(by_day)):
            shifts = sorted((minute_of(r.opens), minute_of(r.closes)) for r in by_day[day])
            joined = [shifts[0]]
            for opens, closes in shifts[1:]:
                if opens <= joined[-1][1]:
                    joined[-1] = (joined[-1][0], max(joined[-1][1], closes))
                else:
                    joined.append((opens, closes))
            self.openings += [
                Opening(day, opens, closes, pool, _people(by_day[day], opens, closes))
                for opens, closes in joined
            ]
            lifted = max(self.wall(day, night_ends), joined[0][0])
            hands = sum(row.hands_min for row in by_day[day])
            self.open_days.append(OpenDay(day, hands, joined[0][0], joined[-1][1], lifted))

    def wall(self, day: date, clock: time) -> int:
        """The minute at which the studio's wall clock shows a time on a day.

        In the hour that a clock change skips, the moment that the hour would have had.
        """
        return minute_of(datetime.combine(day, clock, tzinfo=self.zone))

    def day_number(self, minute: int) -> int:
        """Number of the local day of a minute, 0 for the first day of the horizon."""
        return bisect_right(self.midnights, minute) - 1

    def day_number_of(self, day: date) -> int:
        """Number of a local date, 0 for the first day of the horizon."""
        return (day - self.since).days

    def day_of(self, minute: int) -> date:
        """The local date of a minute."""
        return self.since + timedelta(self.day_number(minute))

    def next_midnight(self, minute: int) -> int:
        """The first minute of the local day after a minute's."""
        return self.midnights[min(self.day_number(minute) + 1, len(self.midnights) - 1)]

    def open_index(self, minute: int) -> int:
        """Index of the first opening that is not over by then."""
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


def _people(rows: list[DayHours], opens: int, closes: int) -> int:
    """How many are there at once in an opening, at the least."""
    shifts = [(minute_of(row.opens), minute_of(row.closes), row.people) for row in rows]
    if len(shifts) == 1:
        return shifts[0][2]
    begins = [since for since, _, _ in shifts if opens <= since < closes]
    ends = [until for _, until, _ in shifts if opens <= until < closes]
    return min(
        sum(people for since, until, people in shifts if since <= minute < until)
        for minute in (*begins, *ends)
    )
