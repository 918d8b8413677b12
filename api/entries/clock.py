"""When an entry happened: as the device says, unless its clock is plainly wrong."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

# A phone's clock is set by its network to seconds; a request takes seconds to come.
FAR_OFF = timedelta(minutes=2)  # assumed, not measured


@dataclass(frozen=True, slots=True)
class Clock:
    """Our clock as an entry came, and that of the device as it was sent, where it said so."""

    now: datetime
    sent_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Happened:
    """When an entry happened as we take it, and how far the device's clock is off, if far."""

    at: datetime
    off_s: int | None = None  # above nothing: ahead of ours


def happened(said_at: datetime, clock: Clock) -> Happened:
    """When that was which a device says happened at `said_at`.

    A device that says when it sent the entry shows how far its clock is off: what it said is moved
    by as much. Of one that does not, only what lies ahead of now is known to be wrong, and is taken
    to be now. Both are flagged with the seconds that they are off.

    Examples
    --------
    >>> from datetime import UTC
    >>> now = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
    >>> ahead = Clock(now, sent_at=now + timedelta(days=3))
    >>> happened(now + timedelta(days=3, minutes=-10), ahead).at == now - timedelta(minutes=10)
    True
    """
    if clock.sent_at is not None and abs(clock.sent_at - clock.now) > FAR_OFF:
        off = clock.sent_at - clock.now
        return Happened(min(_moved(said_at, off, clock), clock.now), round(off.total_seconds()))
    if said_at - clock.now > FAR_OFF:
        return Happened(clock.now, round((said_at - clock.now).total_seconds()))
    return Happened(said_at)


def _moved(said_at: datetime, off: timedelta, clock: Clock) -> datetime:
    try:
        return said_at - off
    except OverflowError:
        return clock.now
