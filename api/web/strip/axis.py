"""Where a moment lies on a strip: days drawn wide, nights narrow, by the studio's clock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time

DAY_MIN = 24 * 60


@dataclass(frozen=True, slots=True)
class Axis:
    """Days in a row, each from midnight to midnight, lengths in the drawing's own units.

    Parameters
    ----------
    first : day at offset 0
    days : 1 or more
    opens, closes : the hours drawn wide, `opens` before `closes`
    day_length, night_length : of the wide hours, and of the rest of a day
    """

    first: date
    days: int
    opens: time
    closes: time
    day_length: float
    night_length: float

    @property
    def length(self) -> float:
        return self.days * self.each

    @property
    def each(self) -> float:
        """One whole day."""
        return self.day_length + self.night_length

    @property
    def morning(self) -> float:
        """From midnight to the opening."""
        return self._clock(_minutes(self.opens))

    @property
    def evening(self) -> float:
        """From midnight to the closing."""
        return self._clock(_minutes(self.closes))

    def of(self, moment: datetime) -> float:
        """Offset of a moment given on the studio's clock, kept inside the strip."""
        number = (moment.date() - self.first).days
        offset = number * self.each + self._clock(moment.hour * 60 + moment.minute)
        return min(max(offset, 0.0), self.length)

    def _clock(self, minute: int) -> float:
        """Offset within a day; nights run slower than days."""
        opens, closes = _minutes(self.opens), _minutes(self.closes)
        wide = closes - opens
        per_night = self.night_length / max(DAY_MIN - wide, 1)
        inside = min(max(minute - opens, 0), wide)
        return inside * self.day_length / wide + (minute - inside) * per_night


def _minutes(clock: time) -> int:
    return clock.hour * 60 + clock.minute
