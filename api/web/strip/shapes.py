"""What a drawing is made of: boxes, strokes and words at their places, in the drawing's own units.

Geometry stands in attributes and colour in classes, so the policy needs no exception and dark,
paper and a reader's own colours come from the style sheet.
"""

from __future__ import annotations

from dataclasses import dataclass

from api.tongue.speaking import aloud
from api.tongue.trade import trade

LETTER_WIDTH = 0.5  # of its height


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle; `pattern` is drawn over it, `words` show where a pointer rests."""

    x: str
    y: str
    width: str
    height: str
    classes: str
    pattern: str = ""
    words: str = ""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line of several parts: `d` of an SVG path."""

    d: str
    classes: str


@dataclass(frozen=True, slots=True)
class Words:
    """A text at a place."""

    x: str
    y: str
    text: str
    classes: str = ""
    anchor: str = "start"


@dataclass(frozen=True, slots=True)
class Drawing:
    """One picture with its name and what it shows in a sentence."""

    key: str  # for ids
    name: str
    says: str
    width: str
    height: str
    ground: tuple[Box, ...]
    strokes: tuple[Stroke, ...]
    bars: tuple[Box, ...]
    words: tuple[Words, ...]


def box(
    x: float, y: float, width: float, height: float, classes: str, *, pattern: str = "",
    words: str = "",
) -> Box:  # fmt: skip
    """A box whose corners are plain numbers."""
    return Box(unit(x), unit(y), unit(width), unit(height), classes, pattern, words)


def words(x: float, y: float, text: str, classes: str = "", *, anchor: str = "start") -> Words:
    """A text at plain numbers."""
    return Words(unit(x), unit(y), spoken(text), classes, anchor)


def spoken(text: str) -> str:
    """A text, or a word of the trade, as the reader says it: so it is measured and drawn."""
    return aloud(trade(text))


def unit(number: float) -> str:
    """To a tenth, as short as it goes.

    >>> unit(12.0), unit(12.34)
    ('12', '12.3')
    """
    text = f"{number:.1f}"
    return text.removesuffix(".0")


def fits(text: str, room: float, *, size: float) -> bool:
    """Whether a text of this size finds room; a letter is taken as so much of its height wide.

    The width is that of common plain typefaces, assumed, not measured; where it is out, a word
    reaches a little way into what stands beside it.
    """
    return len(spoken(text)) * size * LETTER_WIDTH <= room
