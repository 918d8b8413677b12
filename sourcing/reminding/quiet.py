"""Hours on the studio's wall as moments, and when a letter may go that would fall into quiet hours.

All moments here are in UTC: two moments of one zone are compared by their wall clocks, which is
wrong across a change of the clocks.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from sourcing.reminding.facts import Quiet

LEAD = timedelta(hours=1)  # of a letter that has to go before quiet hours begin
DAY = timedelta(days=1)


def wall(day: date, clock: time, zone: ZoneInfo) -> datetime:
    """The moment at which the studio's clock first shows an hour on a day, in UTC.

    An hour over which the clocks go forward comes as much later as they are moved.

    >>> london = ZoneInfo("Europe/London")
    >>> [wall(date(2026, 3, day), time(1, 30), london).isoformat()[8:16] for day in (28, 29, 30)]
    ['28T01:30', '29T01:30', '30T00:30']
    >>> wall(date(2026, 10, 25), time(1, 30), london).isoformat()[8:16]
    '25T00:30'
    """
    return datetime.combine(day, clock, tzinfo=zone).astimezone(UTC)


def outside(
    at: datetime, until: datetime, quiet: Quiet | None, *, zone: ZoneInfo
) -> tuple[datetime, datetime]:
    """When a letter goes that is of use from a moment until another, and until when it may.

    Parameters
    ----------
    at, until : aware, `at` before `until`
    quiet : hours in which the reader is not written to; None: none

    Returns
    -------
    The first stretch of its use that lies outside quiet hours; where there is none, the hour
    before those begin, as it would be of no use after them.

    Examples
    --------
    >>> night = Quiet(time(21), time(7))
    >>> at = [datetime(2026, 11, 23, hour, tzinfo=UTC) for hour in (6, 20)]
    >>> [f"{moment:%a %H:%M}" for moment in outside(*at, night, zone=ZoneInfo("Europe/London"))]
    ['Mon 07:00', 'Mon 20:00']
    >>> [f"{moment:%a %H:%M}" for moment in
    ...  outside(at[0], at[0].replace(minute=30), night, zone=ZoneInfo("Europe/London"))]
    ['Sun 20:00', 'Sun 21:00']
    """
    at, until = at.astimezone(UTC), until.astimezone(UTC)
    if quiet is None:
        return at, until
    stretches = list(_stretches(at, until, quiet, zone))
    since = at
    for begins, ends in stretches:
        if begins <= since < ends:
            since = ends
    if since < until:
        later = [begins for begins, _ in stretches if begins > since]
        return since, min([until, *later])
    begins = next(begins for begins, ends in stretches if begins <= at < ends)
    before = [ends for _, ends in stretches if ends <= begins]
    return max([begins - LEAD, *before]), begins


def _stretches(
    at: datetime, until: datetime, quiet: Quiet, zone: ZoneInfo
) -> Iterator[tuple[datetime, datetime]]:
    """Quiet hours round a letter's use, in order."""
    day, last = at.astimezone(zone).date() - 2 * DAY, until.astimezone(zone).date() + DAY
    while day <= last:
        ends = day if quiet.since < quiet.until else day + DAY
        begins, over = wall(day, quiet.since, zone), wall(ends, quiet.until, zone)
        if begins < over:  # an hour of the night that the clocks skip is no stretch
            yield begins, over
        day += DAY
