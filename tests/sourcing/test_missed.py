"""A visit struck in the sums is one that was written down as missed; what is none is refused."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from inventory.models import Studio
from sourcing.errors import NoSuchPickUp, NoSuchSource
from sourcing.missed import hardest_missed_at, missed_at
from sourcing.notebook.load import load_files
from sourcing.outlook import facts_at
from sourcing.pickups import miss_pickup
from sourcing.week.project import project
from sourcing.week.ripple import pick_ups_of, struck
from tests.once import once
from tests.sourcing.notebook.desk import yard_files
from tests.sourcing.week.pellitory import MONDAY_0730, nov

pytestmark = pytest.mark.django_db
CAFE, STONES = "Lantern Steps café", "avocado stones"


made = once(lambda: load_files(yard_files()))


@pytest.fixture
def studio(made: None, db: None) -> Studio:
    return Studio.objects.get()


@pytest.mark.parametrize("day", [23, 26])
def test_a_struck_visit_is_one_written_down_as_missed(studio: Studio, day: int) -> None:
    facts = facts_at(studio, at=MONDAY_0730, days=7)
    in_sums = struck(facts, pick_ups_of(facts, source=CAFE, on=date(2026, 11, day)))

    miss_pickup(studio, at=nov(day, 17), source=CAFE, gives=STONES)
    in_tables = facts_at(studio, at=MONDAY_0730, days=7)

    assert in_sums.pick_ups == in_tables.pick_ups
    assert in_sums.shelf.lots == in_tables.shelf.lots
    assert in_sums.streams == in_tables.streams
    week = replace(in_sums, figures=in_tables.figures)
    assert project(week, days=7).answers == project(in_tables, days=7).answers


def test_the_chance_of_old_rose_falls_with_thursday(studio: Studio) -> None:
    found = missed_at(studio, at=MONDAY_0730, days=7, source=CAFE, on=date(2026, 11, 26))
    (rose,) = [row for row in found.moved if row.run == "B"]
    (chance,) = [shift for shift in rose.shifts if shift.kind == "chance"]

    # Nothing else is agreed before Mon 30, so within the week nothing can come.
    assert rose.before.enough[0].by == date(2026, 11, 26)
    assert rose.before.enough[0].chance > 0.5
    assert rose.after.enough[0].chance == 0
    assert chance.after == "under 1 % by Sun 29 Nov"
    assert rose.after.enough[0].days > rose.before.enough[0].days


def test_the_visit_that_takes_the_chance_hurts_most(studio: Studio) -> None:
    # No yes hangs on any. Without Thursday nothing can come within the week; without today's more
    # is short, and Thursday may still bring some of it.
    found = hardest_missed_at(studio, at=MONDAY_0730, days=7)

    assert [(row.missed[0].source, row.missed[0].at.day) for row in found.ripples] == [
        (CAFE, 26),
        (CAFE, 23),
        ("Hedge at the corner house", 27),
        ("Three Crates greengrocer", 28),
    ]


def refused(studio: Studio, source: str, day: date, gives: str = "") -> str:
    with pytest.raises((NoSuchPickUp, NoSuchSource)) as refusal:
        missed_at(studio, at=MONDAY_0730, days=7, source=source, on=day, gives=gives)
    return str(refusal.value)


def test_a_day_that_nobody_comes_on_is_told_with_the_days_that_there_are(studio: Studio) -> None:
    assert refused(studio, CAFE, date(2026, 11, 27)) == (
        "No pick-up from Lantern Steps café is expected on Fri 27 Nov 2026. Expected are "
        "Mon 23 Nov, Thu 26 Nov, Mon 30 Nov, Thu 3 Dec, Mon 7 Dec, Thu 10 Dec and 7 more. "
        "Choose one of these."
    )


def test_a_thing_that_a_source_does_not_give_is_told(studio: Studio) -> None:
    assert refused(studio, CAFE, date(2026, 11, 26), "privet") == (
        "No pick-up of privet from Lantern Steps café is expected on Thu 26 Nov 2026. "
        "None is expected of it at all. Look at its agreement."
    )


def test_a_visit_missed_already_is_told(studio: Studio) -> None:
    miss_pickup(studio, at=nov(26, 17), source=CAFE, gives=STONES)

    assert refused(studio, CAFE, date(2026, 11, 26)).startswith(
        "No pick-up from Lantern Steps café is expected on Thu 26 Nov 2026: "
        "it is written down as missed already. Expected are Mon 23 Nov, Mon 30 Nov, "
    )


def test_a_source_that_nobody_knows_is_named(studio: Studio) -> None:
    assert refused(studio, "Café", date(2026, 11, 26)) == (
        "No source is called Café. Look at its name, or add it first."
    )
