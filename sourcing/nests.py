"""Looking a hedge over for nests before it is cut: when it is asked for, and what counts."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from inventory.science.figures import Figures
from inventory.science.seasons import (
    CUT_FROM,
    Season,
    Where,
    check_valid_days,
    cut_from_of,
    nest_check_wanted,
)


@dataclass(frozen=True, slots=True)
class NestCheck:
    """Somebody looked a hedge or tree over for nests, and found none in use."""

    by: str
    on: date


@dataclass(frozen=True, slots=True)
class Cut:
    """Something cut on a day at a place, and what the source is said to be."""

    gives: str
    on: date
    where: Where
    kind: str = ""  # of the source: hedge, tree, café ...

    def asks(self, figures: Figures) -> Season | None:
        """The nesting season that asks for a check; None where none does."""
        kind = kind_of(self.kind)
        return nest_check_wanted(self.gives, self.where, figures, on=self.on, cut_from=kind)

    def counts(self, check: NestCheck, figures: Figures) -> bool:
        """Whether a look for nests was before the cut and not too long before it."""
        days = int(check_valid_days(figures, on=self.on).value)
        return self.on - timedelta(days=days) <= check.on <= self.on


def kind_of(source: str) -> str:
    """What a source is cut from by its kind as written: hedge, tree, or nothing of the sort.

    Examples
    --------
    >>> kind_of(" Hedge"), kind_of("café")
    ('hedge', '')
    """
    kind = source.strip().casefold()
    return kind if kind in CUT_FROM else ""


def may_ask(gives: str, kind: str) -> bool:
    """Whether it is cut where birds may nest, at any time of the year."""
    return bool(kind_of(kind) or cut_from_of(gives))
