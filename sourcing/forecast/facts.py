"""What a forecast is made of: agreements with their pick-ups so far, and counts that were weighed.

Frozen facts as `sourcing.outlook` can hand them over; nothing here needs numpy.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from inventory.science.saying import say
from inventory.science.unclear import OutOfRange

Unit = Literal["mg", "pieces"]
How = Literal["made", "missed", "reported"]
MONTHS = 12
DAYS_AT_MOST = 1100  # of a period that is unrolled; three years hold any season


@dataclass(frozen=True, slots=True)
class Visit:
    """One pick-up on record, by its local day; a made one that brought nothing counts as missed."""

    on: date
    how: How
    pieces: int | None = None  # 0 or more
    weight_mg: int | None = None  # 0 or more

    def __post_init__(self) -> None:
        for name in ("pieces", "weight_mg"):
            value = getattr(self, name)
            if value is not None and value < 0:
                raise OutOfRange(name, value, "0 or more")

    @property
    def brought(self) -> bool:
        """Whether anything came, or is reported to come."""
        return self.how != "missed" and bool(self.pieces or self.weight_mg)


@dataclass(frozen=True, slots=True)
class Stream:
    """One thing that one source gives: what was agreed, and what came of it so far."""

    source: str
    gives: str
    days: tuple[int | date, ...]  # weekdays, 0 Monday, or single days
    since: date | None = None  # the window, both ends in it
    last_on: date | None = None
    closed: tuple[tuple[date, date], ...] = ()  # first and last day
    promised_pieces: int | None = None  # what one pick-up was said to bring
    promised_mg: int | None = None
    season: tuple[float, ...] = (1.0,) * MONTHS  # factor of each month, January first, 0 or more
    visits: tuple[Visit, ...] = ()  # in any order, one a day

    def __post_init__(self) -> None:
        if len(self.season) != MONTHS or min(self.season) < 0:
            raise OutOfRange("season", self.season, "twelve factors, each 0 or more")

    @property
    def by_piece(self) -> bool:
        """Whether it is counted rather than weighed."""
        seen = any(visit.pieces is not None for visit in self.visits)
        return seen or self.promised_pieces is not None

    def falls_on(self, day: date) -> bool:
        """Whether a day is an agreed one, open or not."""
        return day in self.days or day.weekday() in self.days

    def is_open(self, day: date) -> bool:
        """Whether anything may be fetched on a day, as far as the agreement goes."""
        begun = self.since is None or self.since <= day
        ended = self.last_on is not None and self.last_on < day
        return begun and not ended and not any(a <= day <= b for a, b in self.closed)

    def agreed(self, since: date, until: date) -> Iterator[date]:
        """Agreed days of a period, open or not; `until` is not in it.

        Raises
        ------
        OutOfRange
            If the period is longer than three years.
        """
        days = (until - since).days
        if days > DAYS_AT_MOST:
            raise OutOfRange(
                "days ahead", days, say("{days_at_most} at most", days_at_most=DAYS_AT_MOST)
            )
        return (day for n in range(days) if self.falls_on(day := since + timedelta(n)))


@dataclass(frozen=True, slots=True)
class Weighing:
    """A count that was weighed."""

    pieces: int  # above 0
    weight_mg: int  # above 0

    def __post_init__(self) -> None:
        for name in ("pieces", "weight_mg"):
            if getattr(self, name) <= 0:
                raise OutOfRange(name, getattr(self, name), "above 0")


@dataclass(frozen=True, slots=True)
class PieceMass:
    """What is known of the mass of one piece: a figure with its range, then counts weighed here."""

    typical_mg: float
    low_mg: float
    high_mg: float
    weighings: tuple[Weighing, ...] = ()

    def __post_init__(self) -> None:
        if not 0 < self.low_mg <= self.typical_mg <= self.high_mg:
            found = say(
                "{low_mg} to {high_mg} mg, typically {typical_mg} mg",
                low_mg=self.low_mg,
                high_mg=self.high_mg,
                typical_mg=self.typical_mg,
            )
            raise OutOfRange(say("mass of a piece"), found, "above 0 and in order")


class NoPieceMass(LookupError):
    """Pieces are counted, a weight is asked for, and nobody knows what a piece weighs."""

    def __init__(self, gives: str) -> None:
        self.gives = gives
        super().__init__(
            say(
                "{gives}: a weight is asked for and what comes is counted. Weigh a count once, "
                "or write a mass of one piece in the studio's rules.",
                gives=gives,
            )
        )


class NotByPiece(ValueError):
    """Pieces are asked for, and what comes is weighed."""

    def __init__(self, source: str, gives: str) -> None:
        self.source, self.gives = source, gives
        super().__init__(
            say(
                "{gives} from {source}: pieces are asked for and what comes is weighed. Ask "
                "for a weight.",
                gives=gives,
                source=source,
            )
        )
