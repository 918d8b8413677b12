"""What reminders are worked out from: who wants which, and what comes, ends or is due when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Literal
from uuid import UUID

from inventory.science.days import local_day
from inventory.science.facts import BathFacts, LotFacts
from inventory.science.keeping import LastGood
from sourcing.week.facts import FastnessWish, Meeting, RunFacts, WeekFacts

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
class OrderBy:
    """The last day on which fibre that a run is short of can be ordered, and from whom."""

    run: str
    fibre: str
    day: date
    short_mg: int  # as it is sold
    supplier: str
    needed_by: date
    unscoured: bool = False  # as it is sold; scouring takes some off


@dataclass(frozen=True, slots=True)
class DipDue:
    """A jar that waits for a dip."""

    jar: str  # name and code
    age_days: int | None
    by_clock_on: date | None  # usable from then without a strip
    again: bool  # its strip is too old
    strip_age_days: int | None
    grade: int | None
    least_grade: int  # of a strip that makes it usable
    by_rule: bool  # the day counts are the studio's own, not the model's


@dataclass(frozen=True, slots=True)
class LotEnds:
    """A lot, and its last good day as kept now."""

    lot: LotFacts
    good: LastGood


@dataclass(frozen=True, slots=True)
class BathEnds:
    """A bath, and its last good day."""

    bath: BathFacts
    good: LastGood


@dataclass(frozen=True, slots=True)
class CardOut:
    """A light test whose days are out."""

    run: RunFacts
    wish: FastnessWish


@dataclass(frozen=True, slots=True)
class Happening:
    """Something to be told: its own day, and the day on which it is told."""

    kind: Kind
    about: str  # code of a jar, lot, bath or run
    day: date
    on: date
    until: datetime | None = None  # of no use any more; None: some hours after it is told
    thing: Meeting | OrderBy | DipDue | LotEnds | BathEnds | CardOut | None = None
    source: str = ""  # the source that it is for; empty: people of the studio


@dataclass(frozen=True)
class ReminderFacts:
    """Everything that reminders are worked out from, at one moment."""

    week: WeekFacts
    wishes: tuple[Wish, ...]

    @property
    def today(self) -> date:
        return local_day(self.week.at, zone=self.week.zone)
