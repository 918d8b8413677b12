"""Days and moments in a notebook, the hours when clocks change among them."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sourcing.notebook.moments import (
    read_clock,
    read_day,
    read_moment,
    read_weekday,
    write_day,
    write_moment,
)
from sourcing.notebook.problem import Unclear

LONDON = ZoneInfo("Europe/London")
EPOCH = datetime(1990, 1, 1, tzinfo=UTC)


@pytest.mark.parametrize(
    "text",
    [
        "Mon 23 Nov 2026",
        "Monday 23 November 2026",
        "mon 23 nov 2026",
        "Mon, 23 Nov 2026",
        "23 Nov 2026",
        "23. Nov. 2026",
        "2026-11-23",
        "23-Nov-26",
        "23-Nov-2026",
    ],
)
def test_a_day_is_read_as_people_write_it(text: str) -> None:
    assert read_day(text) == date(2026, 11, 23)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "Tue 23 Nov 2026",
            "23 Nov 2026 is a Monday. Write Mon 23 Nov 2026, or the day that is meant.",
        ),
        ("31 Feb 2026", "There is no such day. Write a day such as Mon 23 Nov 2026 or 2026-11-23."),
        ("2026-02-30", "There is no such day. Write a day such as Mon 23 Nov 2026 or 2026-11-23."),
        ("23/11/2026", "Write a day such as Mon 23 Nov 2026 or 2026-11-23."),
        ("tomorrow", "Write a day such as Mon 23 Nov 2026 or 2026-11-23."),
        (
            "23 Nowember 2026",
            "“Nowember” is no month. Write a day such as Mon 23 Nov 2026 or 2026-11-23.",
        ),
        (
            "Fun 23 Nov 2026",
            "“Fun” is no day of the week. Write a day such as Mon 23 Nov 2026 or 2026-11-23.",
        ),
        ("23 Nov 1899", "Write a year from 1900 to 2199."),
        ("23 Nov 2200", "Write a year from 1900 to 2199."),
        ("٢٣ Nov 2026", "Write a day such as Mon 23 Nov 2026 or 2026-11-23."),
    ],
)
def test_a_day_that_is_none_is_refused_with_what_to_write(text: str, sentence: str) -> None:
    with pytest.raises(Unclear) as refusal:
        read_day(text)

    assert str(refusal.value) == sentence


def test_years_are_read_up_to_both_ends() -> None:
    assert read_day("1 Jan 1900") == date(1900, 1, 1)
    assert read_day("31 Dec 2199") == date(2199, 12, 31)


@pytest.mark.parametrize(
    ("text", "utc"),
    [
        ("Mon 23 Nov 2026 17:00", datetime(2026, 11, 23, 17, tzinfo=UTC)),
        ("2026-11-23T17:00", datetime(2026, 11, 23, 17, tzinfo=UTC)),
        ("2026-11-23 17:00:30.25", datetime(2026, 11, 23, 17, 0, 30, 250_000, tzinfo=UTC)),
        ("1 Jul 2026 9:05", datetime(2026, 7, 1, 8, 5, tzinfo=UTC)),
        ("2026-07-01T09:05Z", datetime(2026, 7, 1, 9, 5, tzinfo=UTC)),
        ("1 Jul 2026 09:05 +02:00", datetime(2026, 7, 1, 7, 5, tzinfo=UTC)),
        # Clocks go back on 25 October 2026 at 02:00 to 01:00: 01:30 comes twice.
        ("Sun 25 Oct 2026 01:30", datetime(2026, 10, 25, 0, 30, tzinfo=UTC)),
        ("Sun 25 Oct 2026 01:30 +01:00", datetime(2026, 10, 25, 0, 30, tzinfo=UTC)),
        ("Sun 25 Oct 2026 01:30 +00:00", datetime(2026, 10, 25, 1, 30, tzinfo=UTC)),
        # Clocks go forward on 28 March 2027 at 01:00 to 02:00.
        ("Sun 28 Mar 2027 00:59", datetime(2027, 3, 28, 0, 59, tzinfo=UTC)),
        ("Sun 28 Mar 2027 02:00", datetime(2027, 3, 28, 1, 0, tzinfo=UTC)),
    ],
)
def test_a_moment_is_in_the_studios_own_time(text: str, utc: datetime) -> None:
    assert read_moment(text, LONDON).astimezone(UTC) == utc


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "Sun 28 Mar 2027 01:30",
            "The clocks go forward on Sun 28 Mar 2027: 01:30 does not exist in Europe/London. "
            "Write 02:30.",
        ),
        ("Mon 23 Nov 2026", "Write day and time, such as Mon 23 Nov 2026 17:00."),
        (
            "Mon 23 Nov 2026 24:00",
            "There is no such time of day. Write a time of day such as 09:00.",
        ),
        (
            "Mon 23 Nov 2026 10:00:60",
            "There is no such time of day. Write day and time, such as Mon 23 Nov 2026 17:00.",
        ),
        ("23 Nov 2026 17:00 +25:00", "The offset is too far. Write one such as +00:00 or +01:00."),
        ("1 Jan 1900 00:00 +05:00", "Write a year from 1900 to 2199."),
    ],
)
def test_a_moment_that_is_none_is_refused(text: str, sentence: str) -> None:
    with pytest.raises(Unclear) as refusal:
        read_moment(text, LONDON)

    assert str(refusal.value) == sentence


def test_the_second_of_a_doubled_hour_is_written_with_its_offset() -> None:
    first = datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
    second = datetime(2026, 10, 25, 1, 30, tzinfo=UTC)

    assert write_moment(first, LONDON) == "Sun 25 Oct 2026 01:30"
    assert write_moment(second, LONDON) == "Sun 25 Oct 2026 01:30 +00:00"


@given(
    st.integers(0, 6_000_000_000_000_000).map(lambda us: EPOCH + timedelta(microseconds=us)),
    st.sampled_from(["Europe/London", "America/St_Johns", "Australia/Lord_Howe", "Asia/Kathmandu"]),
)
def test_every_moment_is_read_back_as_it_was_written(moment: datetime, name: str) -> None:
    zone = ZoneInfo(name)

    assert read_moment(write_moment(moment, zone), zone).astimezone(UTC) == moment


@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_every_day_is_read_back_as_it_was_written(day: date) -> None:
    assert read_day(write_day(day)) == day


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("Mon", 0),
        ("monday", 0),
        ("Mondays", 0),
        ("Tu", 1),
        ("Sun.", 6),
        ("M", None),
        ("Moon", None),
    ],
)
def test_a_day_of_the_week_is_read_in_short_and_in_full(text: str, number: int | None) -> None:
    assert read_weekday(text) == number


def test_a_time_of_day_has_an_hour_and_a_minute() -> None:
    assert read_clock("9:00") == read_clock("09:00:00") == time(9)
    with pytest.raises(Unclear, match=r"^There is no such time of day. Write a time of day"):
        read_clock("09:60")
    with pytest.raises(Unclear, match=r"^Write a time of day such as 09:00.$"):
        read_clock("nine")
