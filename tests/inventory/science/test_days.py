"""The studio's calendar days."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from inventory.science.days import NaiveMoment, add_months, day_begins, local_day

LONDON = ZoneInfo("Europe/London")
AUCKLAND = ZoneInfo("Pacific/Auckland")


def test_a_moment_has_the_date_of_the_studios_wall_calendar() -> None:
    moment = datetime(2026, 11, 23, 12, tzinfo=UTC)

    assert local_day(moment, zone=LONDON) == date(2026, 11, 23)
    assert local_day(moment, zone=AUCKLAND) == date(2026, 11, 24)


def test_a_moment_without_offset_is_refused() -> None:
    with pytest.raises(NaiveMoment) as caught:
        local_day(datetime(2026, 11, 23, 7, 30), zone=LONDON)  # noqa: DTZ001

    assert str(caught.value) == (
        "2026-11-23T07:30:00 has no offset. Give the moment with its time zone."
    )


def test_a_day_begins_at_local_midnight_also_in_summer() -> None:
    assert day_begins(date(2026, 7, 1), zone=LONDON).astimezone(UTC).hour == 23


@pytest.mark.parametrize(
    ("day", "months", "later"),
    [
        (date(2026, 9, 11), 12, date(2027, 9, 11)),
        (date(2026, 11, 23), 12, date(2027, 11, 23)),
        (date(2027, 8, 31), 6, date(2028, 2, 29)),
        (date(2026, 12, 31), 2, date(2027, 2, 28)),
        (date(2026, 1, 31), 0, date(2026, 1, 31)),
        (date(2026, 12, 1), 1, date(2027, 1, 1)),
    ],
)
def test_months_are_calendar_months(day: date, months: int, later: date) -> None:
    assert add_months(day, months) == later
