"""What reminders are worked out from: who wants which, and what comes, ends or is due when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Literal
from uuid import UUID

Kind = Literal["morning sheet", "day before", "dip", "last good day", "order-by day", "light test"]
KINDS: tuple[Kind, ...] = (
    "morning sheet",
    "day before",
    "dip",
    "last good day",
    "order-by day",
    "light test",
)
OF_A_SOURCE: Kind = "day before"  # a source hears of this alone, and nobody else does
ALL = "all"  # every kind
STOPPED, BEGUN = "stopped", "begun again"
MOST_READERS = 200  # of one studio


@dataclass(frozen=True, slots=True)
class Quiet:
    """Hours of the day in which nobody is written to; over midnight where `until` is earlier."""

    since: time
    until: time


@dataclass(frozen=True, slots=True)
class Wish:
    """One reader with what is wanted and not stopped."""

    reader: str
    mark: UUID  # the same for ever; keys and stop addresses go by it
    address: str
    kinds: tuple[Kind, ...]  # wanted, stopped ones too
    since: date  # first day
    sheet_at: time | None = None  # of the morning sheet, by the studio's clock
    quiet: Quiet | None = None
    source: str = ""  # empty: a person of the studio
    stopped: frozenset[Kind] = frozenset()

    def wants(self, kind: Kind) -> bool:
        """Whether a kind is wanted and was not stopped."""
        return kind in self.kinds and kind not in self.stopped


@dataclass(frozen=True, slots=True)
class Meeting:
    """A pick-up that an agreement lets expect, and of which its source has said nothing yet."""

    source: str
    at: datetime
    gives: tuple[str, ...]  # by name


@dataclass(frozen=True, slots=True)
class OrderBy:
    """The last day on which fibre for a run can be ordered."""

    run: str
    fibre: str
    day: date
    short_mg: int
    supplier: str = ""
