"""The dice behind a made-up studio, and its corner of the calendar."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from decimal import Decimal
from random import Random
from zoneinfo import ZoneInfo

from inventory.science.catalogue import with_shipped
from inventory.science.figures import Figure, Figures

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


def figures_of(yard: Yard) -> Figures:
    """Shipped figures with rules of the studio's own in front."""
    dice = yard.dice
    rules = {
        "shed_c": (4, 8, 12, 18),
        "ring_efficiency_fraction": ("0.5", "0.7", "0.85"),
        "drying_h": (24, 36, 48, 72),
        "pause_between_steps_min": (15, 30),
        "pause_between_runs_min": (30, 60, 90),
        "starts_fall_on_min": (5, 5, 15),
        "night_ends_h": (7, 8, 9),
        "nights_in_bath_at_most": (1, 2, 3),
        "strain_min": (20, 30),
        "strain_per_load_min": (5, 10),
    }
    own = [
        Figure("studio", name, Decimal(str(dice.choice(values))), own=True)
        for name, values in rules.items()
    ]
    for name, days in (("usable_from_days", 7), ("by_clock_days", 14)):
        own.append(Figure("iron liquor", name, Decimal(days), own=True))
    own.append(Figure("copper liquor", "ready_after_h", Decimal(24), own=True))
    return with_shipped(own)
