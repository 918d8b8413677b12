"""Sentences that can be said again in another language.

`say` gives English text that keeps its pattern and its values; a door that knows its reader says
them again. To everything else it is text: it compares, sorts and is kept as text. What is put
into an f-string or joined by a plain text is lost to other languages, so sentences are built with
`say`, `counted`, `joined` and `+`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal
from fractions import Fraction
from html import escape
from typing import ClassVar

Measure = int | float | Decimal | Fraction


class Said(str):
    """English text that can be said again in another language."""

    __slots__ = ()
    # How a door says it to whoever reads a page just now; without a door in English.
    aloud: ClassVar[Callable[[Said], str]] = str.__str__

    def __str__(self) -> str:
        return self

    def __html__(self) -> str:
        """As it stands on a page: in the language of the reader, with its signs made harmless."""
        return escape(Said.aloud(self))

    def __add__(self, after: str) -> Said:
        return joined("", (self, after))

    def __radd__(self, before: str) -> Said:
        return joined("", (before, self))

    def capitalize(self) -> Said:
        """The same with a large letter first and small ones after it."""
        return Capital.of_text(self, str.capitalize(self))

    def strip(self, signs: str | None = None, /) -> Said:
        """The same without spaces, or those signs, at both ends."""
        return self._trimmed(str.strip(self, signs), "strip", signs)

    def rstrip(self, signs: str | None = None, /) -> Said:
        """The same without spaces, or those signs, at its end."""
        return self._trimmed(str.rstrip(self, signs), "rstrip", signs)

    def removesuffix(self, suffix: str, /) -> Said:
        """The same without an end that every language writes alike, such as an hour."""
        return self._trimmed(str.removesuffix(self, suffix), "removesuffix", suffix)

    def before(self, sign: str, /) -> Said:
        """The same up to a sign that every language has there, such as a comma."""
        return self._trimmed(str.partition(self, sign)[0], "before", sign)

    def _trimmed(self, text: str, way: str, signs: str | None) -> Said:
        return self if text == self else Trimmed.of_text(self, text, way, signs)

    def __deepcopy__(self, memo: object) -> Said:
        return self


class Sentence(Said):
    """A pattern with holes and what fills them; `many` is the pattern for more than one."""

    __slots__ = ("many", "number", "pattern", "values")
    pattern: str
    many: str
    number: int
    values: Mapping[str, object]

    @classmethod
    def made(
        cls, pattern: str, values: Mapping[str, object], many: str = "", number: int = 1
    ) -> Sentence:
        """A sentence of its parts."""
        shape = many if many and number != 1 else pattern
        said = str.__new__(cls, shape.format_map(values) if values else shape)
        said.pattern, said.values, said.many, said.number = pattern, values, many, number
        return said

    def __reduce__(self) -> tuple[object, tuple[object, ...]]:
        return Sentence.made, (self.pattern, self.values, self.many, self.number)


class Row(Said):
    """Pieces that are said one after the other; each may be said again by itself."""

    __slots__ = ("pieces",)
    pieces: tuple[str, ...]

    @classmethod
    def made(cls, pieces: tuple[str, ...]) -> Row:
        """A row of its pieces."""
        said = str.__new__(cls, "".join(pieces))
        said.pieces = pieces
        return said

    def __reduce__(self) -> tuple[object, tuple[object, ...]]:
        return Row.made, (self.pieces,)


class Capital(Said):
    """What begins with a large letter, as it begins a sentence."""

    __slots__ = ("small",)
    small: Said

    @classmethod
    def of_text(cls, small: Said, text: str) -> Capital:
        """What is said small, and how it is written large."""
        said = str.__new__(cls, text)
        said.small = small
        return said

    def __reduce__(self) -> tuple[object, tuple[object, ...]]:
        return Capital.of_text, (self.small, self[:])


class Trimmed(Said):
    """What is said without spaces or signs at its ends."""

    __slots__ = ("signs", "way", "whole")
    whole: Said
    way: str  # strip, rstrip, removesuffix or before
    signs: str | None

    @classmethod
    def of_text(cls, whole: Said, text: str, way: str, signs: str | None) -> Trimmed:
        """What is said whole, and how it is written without its ends."""
        said = str.__new__(cls, text)
        said.whole, said.way, said.signs = whole, way, signs
        return said

    def __reduce__(self) -> tuple[object, tuple[object, ...]]:
        return Trimmed.of_text, (self.whole, self[:], self.way, self.signs)


class Kept(Said):
    """A name that every language writes alike, though it may be a word elsewhere."""

    __slots__ = ()


def kept(name: str) -> Said:
    """A name as it is, such as that of a field: never said as a word of the trade.

    Examples
    --------
    >>> say("Did you mean {name}?", name=kept("lot"))
    'Did you mean lot?'
    """
    return Kept(name)


class Measured(Said):
    """A measure with its metric text; a door may write it in the studio's units."""

    __slots__ = ("amount", "kind", "metric")
    metric: str
    kind: str  # mg or µL; or a mark of inventory/science/customary.py
    amount: Measure

    @classmethod
    def of_text(cls, metric: str, kind: str, amount: Measure) -> Measured:
        """How it is written in metric units, and what it comes to."""
        said = str.__new__(cls, metric)
        said.metric, said.kind, said.amount = metric, kind, amount
        return said

    @property
    def exact(self) -> Fraction:
        """What it comes to, as a fraction."""
        return Fraction(self.amount)

    def __reduce__(self) -> tuple[object, tuple[object, ...]]:
        return Measured.of_text, (self.metric, self.kind, self.amount)


def measured(metric: str, amount: Measure, unit: str) -> Said:
    """A weight [mg], a volume [µL] or another measure in metric units, to be said in others too.

    Examples
    --------
    >>> said = measured(say("{mass} g", mass=640), 640_000, "mg")
    >>> said, said.amount
    ('640 g', 640000)
    """
    return Measured.of_text(metric, unit, amount)


def say(pattern: str, /, **values: object) -> Said:
    """A sentence: a pattern that the catalogues know, and what fills its holes.

    Holes are written as `str.format` reads them. A value may be said itself; numbers and moments
    are handed over as they are, with their form behind the colon, so that each language writes
    them its own way.

    Examples
    --------
    >>> said = say("Lot {lot}: {left:,} g left.", lot="L17", left=1180)
    >>> said
    'Lot L17: 1,180 g left.'
    >>> said.pattern
    'Lot {lot}: {left:,} g left.'
    """
    return Sentence.made(pattern, values)


def counted(one: str, many: str, /, *, count: int, **values: object) -> Said:
    """A sentence about a count, which fills the hole `count`: one pattern for one, one for more.

    Examples
    --------
    >>> [counted("{count} day", "{count} days", count=days) for days in (0, 1)]
    ['0 days', '1 day']
    """
    return Sentence.made(one, {"count": count, **values}, many, count)


def joined(between: str, pieces: Iterable[str]) -> Said:
    """Pieces with a text between them, each of which can be said again.

    Examples
    --------
    >>> joined(", ", ["a jar", say("a pot")])
    'a jar, a pot'
    """
    row: list[str] = []
    for piece in pieces:
        if row and between:
            row.append(between)
        row.append(piece)
    return Row.made(tuple(row))


def first_large(text: str) -> str:
    """A text that begins with a large letter, the rest as it is.

    Examples
    --------
    >>> first_large(say("pot P2 is free"))
    'Pot P2 is free'
    """
    large = text[:1].upper() + text[1:]
    return Capital.of_text(text, large) if isinstance(text, Said) else large
