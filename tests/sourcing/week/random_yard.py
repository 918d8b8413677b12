"""The dice behind a made-up studio, and its corner of the calendar."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from random import Random
from zoneinfo import ZoneInfo

# Zone and first day: ordinary weeks, weeks in which the clocks change (by an hour, by half an
# hour), zones that are not whole hours from UTC.
CALENDARS = (
    ("Europe/London", date(2026, 11, 23)),
    ("Europe/London", date(2026, 3, 24)),
    ("Europe/London", date(2026, 10, 20)),
    ("America/New_York", date(2026, 10, 28)),
    ("America/St_Johns", date(2026, 3, 4)),
    ("Australia/Lord_Howe", date(2026, 4, 1)),
    ("Asia/Kathmandu", date(2026, 6, 10)),
    ("Pacific/Auckland", date(2026, 9, 22)),
)


class Yard:
    """One studio under way: the dice and what has been made so far."""

    def __init__(self, number: int) -> None:
        self.dice = Random(number)
        name, self.first = self.dice.choice(CALENDARS)
        self.zone = ZoneInfo(name)
        minute = self.dice.choice((0, 0, 30, 17))
        self.at = self.moment(0, self.dice.choice((6, 7, 8, 10, 13)), minute)
        self.sites = ("",) if self.chance(0.85) else ("north", "south")

    def chance(self, part: float) -> bool:
        return self.dice.random() < part

    def moment(self, day: int, hour: int = 0, minute: int = 0) -> datetime:
        wall = datetime.combine(self.first + timedelta(day), time(hour, minute))
        return wall.replace(tzinfo=self.zone)

    def site(self) -> str:
        return self.dice.choice(self.sites)
