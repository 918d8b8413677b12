"""Knots on the ends of a skein, drawn: one line an end, one round knot for each."""

from __future__ import annotations

from dataclasses import dataclass

from inventory.science.saying import joined, say

STEP, FIRST = 12, 14  # between knots, and from the skein to the first
HIGH = 14  # of one end


@dataclass(frozen=True, slots=True)
class End:
    """One end with its knots, in units of the drawing."""

    y: int
    long: int
    knots: tuple[int, ...]  # where each sits


@dataclass(frozen=True, slots=True)
class KnotsDrawing:
    """All ends of a skein, the short one on top."""

    width: int
    height: int
    ends: tuple[End, ...]
    words: str  # "2 and 0 knots"


def draw_knots(mark: tuple[int, ...]) -> KnotsDrawing:
    """The knots of one mark; each end is longer than the one above it.

    >>> draw_knots((2, 0)).words
    '2 and 0 knots'
    """
    rows = tuple(
        End(
            y=HIGH * number + HIGH // 2,
            long=FIRST + 5 * STEP + 14 * number,
            knots=tuple(FIRST + STEP * knot for knot in range(knots)),
        )
        for number, knots in enumerate(mark)
    )
    said = joined(say(" and "), (str(knots) for knots in mark))
    return KnotsDrawing(rows[-1].long + 4, HIGH * len(rows), rows, say("{knots} knots", knots=said))
