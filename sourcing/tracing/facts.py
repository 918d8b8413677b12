"""The rows that a trace is made of, as frozen facts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime


@dataclass(frozen=True, slots=True)
class GivenOver:
    """One hand-over that was made."""

    source: str
    gives: str
    on: date
    pieces: int | None  # counted
    weight_mg: int | None  # weighed; None where it was only counted
    guessed_mg: int  # by the weight, or the count and the mass of a piece
    lot: int | None = None  # key of the lot that it began; None: not on record
    note: str = ""
    whole: bool = True  # the lot began with all of it; else with what was left when it was noted


@dataclass(frozen=True, slots=True)
class TracedLot:
    """One lot: of dyestuff, bath or fibre."""

    key: int
    code: str
    what: str
    kind: str  # dyestuff, bath, fibre ...
    parent: int | None
    begun_by: str  # the posting that began it


@dataclass(frozen=True, slots=True)
class Moved:
    """So much more or less of a lot."""

    lot: int
    posting: str
    amount: int  # mg or µL
    number: int = 1  # in the lot
    pieces: int | None = None


@dataclass(frozen=True, slots=True)
class Happened:
    """One posting."""

    key: str
    kind: str
    at: datetime
    corrects: str | None = None
    where_to: str = ""


@dataclass(frozen=True, slots=True)
class RunDyed:
    """A run and its posting."""

    posting: str
    code: str
    shade: str


@dataclass(frozen=True)
class History:
    """Everything of some sources up to a moment."""

    given: Sequence[GivenOver]
    lots: Mapping[int, TracedLot]
    moved: Sequence[Moved]
    happened: Mapping[str, Happened]
    runs: Sequence[RunDyed] = ()
    spoiled: Mapping[int, int] = field(default_factory=dict)  # lot: mg past its last good day

    def first(self, posting: str) -> Happened:
        """The posting at the beginning of a chain of corrections: what really happened."""
        row = self.happened[posting]
        while row.corrects is not None and row.corrects in self.happened:
            row = self.happened[row.corrects]
        return row
