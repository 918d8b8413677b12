"""The drawing of a put-by plan: one bar a month of what is there, and how much of it is wanted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.science.saying import say
from sourcing.putting_by.months import Month
from sourcing.week.words import MONTHS, grams

WIDE, ROW, TOP = 360, 26, 20
LEFT, RIGHT = 64, 350  # of the bars
BAR = 14


@dataclass(frozen=True, slots=True)
class MonthBar:
    """One month of the drawing; places in the units of its view box."""

    label: str
    y: int
    text_y: int
    shelf: float  # width
    likely_x: float
    likely: float
    wanted_x: float | None  # where the amount that is wanted ends; None: none is
    word: str  # there, likely, short; empty
    closed: bool


@dataclass(frozen=True, slots=True)
class Drawing:
    """All months, top down."""

    wide: int
    high: int
    left: int
    right: int
    middle: float
    most: str  # what a whole bar stands for
    bars: tuple[MonthBar, ...]


def drawing_of(months: Sequence[Month]) -> Drawing:
    """The months on one scale, from nothing to the most that is there or wanted."""
    most = max([*(row.shelf_mg + row.likely_mg for row in months),
                *(row.wanted_mg for row in months), 1])  # fmt: skip
    scale = (RIGHT - LEFT) / most

    def bar(n: int, row: Month) -> MonthBar:
        y = TOP + n * ROW
        shelf = row.shelf_mg * scale
        return MonthBar(
            label=say("{months} {first:%y}", months=MONTHS[row.first.month - 1], first=row.first),
            y=y,
            text_y=y + 12,
            shelf=round(shelf, 1),
            likely_x=round(LEFT + shelf, 1),
            likely=round(row.likely_mg * scale, 1),
            wanted_x=round(LEFT + row.wanted_mg * scale, 1) if row.wanted_mg else None,
            word=row.word,
            closed=row.closed,
        )

    bars = tuple(bar(n, row) for n, row in enumerate(months))
    high = TOP + len(bars) * ROW
    return Drawing(WIDE, high, LEFT, RIGHT, (LEFT + RIGHT) / 2, grams(most), bars)
