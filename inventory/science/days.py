"""The studio's calendar days: a moment's local date, and calendar months added to a day."""

from __future__ import annotations

from calendar import monthrange
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from inventory.science.saying import say


class NaiveMoment(ValueError):
    """A moment came without its offset, so its day in the studio is not known."""

    def __init__(self, moment: datetime) -> None:
        self.moment = moment
        super().__init__(
            say(
                "{moment} has no offset. Give the moment with its time zone.",
                moment=moment.isoformat(),
            )
        )


def local_day(moment: datetime, *, zone: ZoneInfo) -> date:
    """The date that the studio's wall calendar shows at a moment.

    Examples
    --------
    >>> from datetime import timezone
    >>> late = datetime(2026, 7, 1, 23, 30, tzinfo=timezone.utc)
    >>> local_day(late, zone=ZoneInfo("Europe/London"))
    datetime.date(2026, 7, 2)
    """
    if moment.tzinfo is None:
        raise NaiveMoment(moment)
    return moment.astimezone(zone).date()


def day_begins(day: date, *, zone: ZoneInfo) -> datetime:
    """The first moment of a day in the studio."""
    return datetime.combine(day, time(0), tzinfo=zone)


def hours_after(moment: datetime, hours: float, *, zone: ZoneInfo) -> datetime:
    """The moment that many elapsed hours on, in the studio's zone.

    Adding to an aware moment directly would add wall hours, wrong where the clocks change.

    Examples
    --------
    >>> london = ZoneInfo("Europe/London")
    >>> hours_after(datetime(2026, 10, 24, 16, tzinfo=london), 24, zone=london).hour
    15
    """
    return (moment.astimezone(UTC) + timedelta(hours=hours)).astimezone(zone)


def add_months(day: date, months: int) -> date:
    """The same day of the month some months on; the month's last day where it is shorter.

    Examples
    --------
    >>> add_months(date(2026, 9, 11), 12)
    datetime.date(2027, 9, 11)
    >>> add_months(date(2027, 1, 31), 1)
    datetime.date(2027, 2, 28)
    """
    year, month0 = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month0 + 1, min(day.day, monthrange(year, month0 + 1)[1]))
