"""Bars: the life that is left of something, the way behind a jar, how full a place is."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

LONG = 100.0  # every bar is drawn this long, and stretched to its room
STUB = 2.0  # of a life of which nothing is left but today


@dataclass(frozen=True, slots=True)
class LifeBar:
    """What is left of a life as a thread on the right, what has gone as its trace on the left."""

    gone: float  # 0 to LONG
    left: float
    mood: str  # fine, soon, today, past


@dataclass(frozen=True, slots=True)
class Piece:
    """One stretch of a bar."""

    x: float
    width: float
    kind: str


@dataclass(frozen=True, slots=True)
class FillBar:
    """A place with what lies in it, and the line where it is full."""

    pieces: tuple[Piece, ...]
    full_x: float  # where the limit stands
    over: bool


def life_bar(gone: Fraction | float, *, mood: str) -> LifeBar:
    """The bar of a life of which a part has gone; its last day keeps a stub, what is past none."""
    if mood == "past":
        return LifeBar(LONG, 0.0, mood)
    left = max((1 - float(gone)) * LONG, STUB)
    return LifeBar(_r(LONG - left), _r(left), mood)


def fill_bar(holds: int, parts: tuple[tuple[str, int], ...]) -> FillBar:
    """Parts side by side, drawn so that the longer of room and contents takes the whole bar.

    Parameters
    ----------
    holds : what there is room for, above 0
    parts : kind and amount of each part, from the left
    """
    inside = sum(amount for _, amount in parts)
    whole = max(holds, inside, 1)
    pieces, x = [], 0
    for kind, amount in parts:
        if amount > 0:
            pieces.append(Piece(_r(x / whole * LONG), _r(amount / whole * LONG), kind))
        x += amount
    return FillBar(tuple(pieces), _r(holds / whole * LONG), inside > holds)


def _r(number: float) -> float:
    return round(number, 1)
