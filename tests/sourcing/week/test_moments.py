"""Minutes, local days, openings and nights, also when the clocks change."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from sourcing.week.facts import DayHours
from sourcing.week.moments import NEVER, Calendar, minute_of, moment_of, rounded_up

LONDON = ZoneInfo("Europe/London")
MONDAY = date(2027, 2, 1)


def at(day: date, hour: int, minute: int = 0) -> datetime:
    return datetime.combine(day, time(hour, minute), tzinfo=LONDON)


def shift(day: date, opens: int, closes: int, hands: int = 60, site: str = "") -> DayHours:
    return DayHours(day, at(day, opens), at(day, closes), hands, 1, site)


def calendar(*rows: DayHours, since: date = MONDAY, site: str = "") -> Calendar:
    return Calendar(LONDON, since=since, days=7, hours=rows, night_ends_min=540, site=site)


def clock(minute: int) -> str:
    return f"{moment_of(minute, LONDON):%a %d %H:%M}"


def test_a_part_of_a_minute_counts_as_passed() -> None:
    nine = datetime(2027, 2, 1, 9, tzinfo=UTC)

    assert minute_of(nine + timedelta(seconds=1)) == minute_of(nine) + 1
    assert minute_of(nine + timedelta(seconds=60)) == minute_of(nine) + 1


def test_a_minute_on_the_grid_stays_and_the_next_moves_on() -> None:
    assert (rounded_up(600, 5), rounded_up(601, 5), rounded_up(605, 5)) == (600, 605, 605)


def test_shifts_that_meet_are_one_opening_with_their_hands_pooled() -> None:
    days = calendar(shift(MONDAY, 9, 13, 120), shift(MONDAY, 13, 17, 90))

    assert [(clock(o.opens), clock(o.closes)) for o in days.openings] == [
        ("Mon 01 09:00", "Mon 01 17:00")
    ]
    assert [day.hands_min for day in days.open_days] == [210]


def test_shifts_apart_are_two_openings_of_one_pool() -> None:
    days = calendar(shift(MONDAY, 14, 17, 90), shift(MONDAY, 9, 13, 120))

    assert [(clock(o.opens), clock(o.closes), o.pool) for o in days.openings] == [
        ("Mon 01 09:00", "Mon 01 13:00", 0),
        ("Mon 01 14:00", "Mon 01 17:00", 0),
    ]
    assert [(day.hands_min, clock(day.closes)) for day in days.open_days] == [(210, "Mon 01 17:00")]


def test_a_shift_within_another_does_not_close_the_room_early() -> None:
    days = calendar(shift(MONDAY, 9, 17), shift(MONDAY, 10, 12))

    assert [clock(o.closes) for o in days.openings] == ["Mon 01 17:00"]


def test_a_day_without_hands_is_no_open_day() -> None:
    assert calendar(shift(MONDAY, 9, 17, 0)).open_days == []


def test_hours_of_another_site_do_not_open_this_one() -> None:
    rows = (shift(MONDAY, 9, 17, 60, "yard"), shift(MONDAY, 9, 17, 30))

    assert [day.hands_min for day in calendar(*rows, site="barn").open_days] == [30]
    assert [day.hands_min for day in calendar(*rows, site="yard").open_days] == [90]


def test_an_opening_is_over_in_its_last_minute() -> None:
    days = calendar(shift(MONDAY, 9, 17), shift(MONDAY + timedelta(1), 9, 17))
    closes = days.openings[0].closes

    assert (days.open_index(closes - 1), days.open_index(closes)) == (0, 1)


def test_night_is_over_at_nine_of_the_next_open_day_over_closed_ones() -> None:
    days = calendar(shift(MONDAY, 9, 17), shift(MONDAY + timedelta(3), 9, 17))

    assert clock(days.night_over(minute_of(at(MONDAY, 13)))) == "Thu 04 09:00"
    assert days.night_over(minute_of(at(MONDAY + timedelta(3), 9))) == NEVER


def test_night_that_began_after_midnight_ends_the_morning_after() -> None:
    tuesday, wednesday = MONDAY + timedelta(1), MONDAY + timedelta(2)
    days = calendar(shift(tuesday, 9, 17), shift(wednesday, 9, 17))

    assert clock(days.night_over(minute_of(at(MONDAY, 23, 59)))) == "Tue 02 09:00"
    assert clock(days.night_over(minute_of(at(tuesday, 0)))) == "Wed 03 09:00"


def test_what_stood_overnight_is_lifted_when_somebody_comes_later_than_nine() -> None:
    days = calendar(shift(MONDAY + timedelta(1), 11, 17))

    assert clock(days.night_over(minute_of(at(MONDAY, 13)))) == "Tue 02 11:00"


def test_night_over_the_clock_change_is_an_hour_shorter_but_ends_at_nine() -> None:
    # Clocks go forward on Sun 28 March 2027 at 01:00 UTC (last Sunday of March, EU and UK rule).
    saturday = date(2027, 3, 27)
    days = calendar(shift(saturday + timedelta(1), 9, 17), since=saturday)
    evening = minute_of(at(saturday, 17))

    assert clock(days.night_over(evening)) == "Sun 28 09:00"
    assert days.night_over(evening) - evening == 15 * 60


def test_days_are_local_dates_when_one_has_only_23_hours() -> None:
    saturday = date(2027, 3, 27)
    days = calendar(since=saturday)
    monday = days.midnights[2]

    assert days.midnights[2] - days.midnights[1] == 23 * 60
    assert (days.day_of(monday - 1), days.day_of(monday)) == (date(2027, 3, 28), date(2027, 3, 29))
    assert (days.day_number(monday - 1), days.day_number(monday)) == (1, 2)


def test_a_day_with_nobody_in_has_no_hands() -> None:
    days = calendar(shift(MONDAY, 9, 17))

    assert days.index_of_day(MONDAY) == 0
    assert days.index_of_day(MONDAY + timedelta(1)) is None
