"""Hours of every week unrolled into days."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

from sourcing.opening import HoursOf, days_open
from sourcing.week.facts import DayHours

LONDON = ZoneInfo("Europe/London")
MONDAY = date(2026, 11, 23)
TUESDAY = date(2026, 11, 24)
DYER = HoursOf("dyer", 0, None, 360, time(9), time(18))
ASSISTANT = HoursOf("assistant", 0, None, 240, time(10), time(16))


def week(*hours: HoursOf, days: int = 7) -> tuple[DayHours, ...]:
    return days_open(hours, first=MONDAY, days=days, zone=LONDON)


def test_hands_are_pooled_over_those_in() -> None:
    (monday,) = week(DYER, ASSISTANT)

    assert (monday.day, monday.hands_min, monday.people) == (MONDAY, 600, 2)
    assert monday.opens == datetime(2026, 11, 23, 9, tzinfo=UTC)
    assert monday.closes == datetime(2026, 11, 23, 18, tzinfo=UTC)


def test_the_order_of_the_rows_does_not_matter() -> None:
    assert week(DYER, ASSISTANT, days=30) == week(ASSISTANT, DYER, days=30)


def test_the_weekly_pattern_goes_on() -> None:
    assert [row.day.day for row in week(DYER, days=15)] == [23, 30, 7]


def test_a_day_without_hands_is_not_open() -> None:
    assert week(replace(DYER, hands_min=0, opens=None, closes=None)) == ()


def test_one_day_stands_above_the_pattern_for_that_person_only() -> None:
    ill = HoursOf("dyer", None, MONDAY, 0, None, None)

    (monday,) = week(DYER, ASSISTANT, ill)

    assert (monday.hands_min, monday.people) == (240, 1)
    assert monday.opens == datetime(2026, 11, 23, 10, tzinfo=UTC)


def test_a_day_beyond_the_pattern_can_be_added() -> None:
    extra = HoursOf("dyer", None, TUESDAY, 60, time(9), time(10))

    assert [(row.day, row.hands_min) for row in week(DYER, extra)] == [
        (MONDAY, 360),
        (TUESDAY, 60),
    ]


def test_a_pattern_holds_from_its_first_to_its_last_day() -> None:
    assert week(replace(DYER, since=MONDAY, last_on=MONDAY)) == week(DYER)
    assert week(replace(DYER, since=TUESDAY)) == ()
    assert week(replace(DYER, last_on=date(2026, 11, 22))) == ()


def test_of_two_patterns_the_one_that_began_last_holds() -> None:
    winter = replace(DYER, hands_min=300, since=date(2026, 11, 1))

    (monday,) = week(DYER, winter)

    assert monday.hands_min == 300


def test_each_site_has_hours_of_its_own() -> None:
    garden = replace(ASSISTANT, site="garden")
    shed = replace(DYER, site="shed")

    assert [(row.site, row.hands_min) for row in week(shed, garden)] == [
        ("garden", 240),
        ("shed", 360),
    ]


def test_hours_are_on_the_wall_after_the_clocks_change() -> None:
    rows = days_open([DYER], first=date(2026, 10, 19), days=8, zone=LONDON)

    assert [row.opens.astimezone(UTC).hour for row in rows] == [8, 9]
