"""Where a moment lies on a strip: days wide, nights narrow."""

from __future__ import annotations

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

import pytest

from api.web.strip.axis import Axis

LONDON = ZoneInfo("Europe/London")
# Nine hours of 10 units each, fifteen of 2.
WEEK = Axis(date(2026, 11, 23), 7, time(9), time(18), day_length=90, night_length=30)


def at(day: int, hour: int, minute: int = 0) -> datetime:
    return datetime(2026, 11, day, hour, minute, tzinfo=LONDON)


@pytest.mark.parametrize(
    ("moment", "offset"),
    [
        (at(23, 0), 0),
        (at(23, 8, 59), 17.967),
        (at(23, 9), 18),
        (at(23, 9, 30), 23),
        (at(23, 18), 108),
        (at(23, 18, 1), 108.033),
        (at(24, 0), 120),
        (at(29, 18), 828),
    ],
)
def test_an_hour_of_the_day_is_longer_than_one_of_the_night(
    moment: datetime, offset: float
) -> None:
    assert WEEK.of(moment) == pytest.approx(offset, abs=0.001)


def test_what_lies_outside_is_kept_at_the_edge() -> None:
    assert WEEK.of(at(22, 12)) == 0
    assert WEEK.of(datetime(2026, 12, 3, 15, tzinfo=LONDON)) == WEEK.length == 840


def test_a_later_moment_never_lies_before_an_earlier_one() -> None:
    minutes = [WEEK.of(at(day, hour, minute)) for day in (23, 24) for hour in range(24)
               for minute in range(0, 60, 7)]  # fmt: skip

    assert minutes == sorted(minutes)


def test_a_house_that_never_shuts_has_no_night() -> None:
    always = Axis(date(2026, 11, 23), 1, time(0), time(23, 59), 90, 0)

    assert always.of(at(23, 12)) == pytest.approx(45, abs=0.1)
    assert always.of(at(23, 23, 59)) == pytest.approx(90)


def test_the_clock_on_the_wall_counts_on_the_day_that_clocks_change() -> None:
    """Sun 29 Mar 2026 has 23 hours; nine in the morning still lies where nine lies."""
    spring = Axis(date(2026, 3, 29), 1, time(9), time(18), 90, 30)

    assert spring.of(datetime(2026, 3, 29, 9, tzinfo=LONDON)) == 18
