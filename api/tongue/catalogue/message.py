"""One sentence of a catalogue, as the code has it and as a language says it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from string import Formatter

HOLE = re.compile(r"\{[^{}]*\}|%\([a-z_A-Z]+\)[a-z]")

# A hole in which days or months are named, which others write in another order or with a dot.
DAY = re.compile(r"\{\w+:[^{}]*%[aAbB]|\{day\w*\} \{months\}")

# A sum whose currency others write behind it.
MONEY = re.compile(r"\{(?:sign|currency)\} ?\{sum\}")


@dataclass(frozen=True, slots=True)
class Message:
    """What is to be said: a text, one for more, and a context that tells like from like."""

    text: str
    many: str = ""
    context: str = ""

    @property
    def needs_saying(self) -> bool:
        """Whether a letter or a quotation mark is in it besides its holes, or a day written out."""
        words = HOLE.sub("", self.text + self.many)
        moved = DAY.search(self.text) or MONEY.search(self.text)
        return bool(moved) or any(sign.isalpha() or sign == "“" for sign in words)

    @property
    def patterns(self) -> tuple[str, ...]:
        """Its texts: one, or one for one and one for more."""
        return (self.text, self.many) if self.many else (self.text,)


@dataclass(frozen=True, slots=True)
class Entry:
    """A message with its translations, one for each number, and where it is said."""

    message: Message
    said: tuple[str, ...]
    places: tuple[str, ...] = ()
    fuzzy: bool = False

    @property
    def complete(self) -> bool:
        """Whether every number of it is translated."""
        return not self.fuzzy and all(self.said) and len(self.said) == len(self.message.patterns)


def holes_of(pattern: str) -> set[str]:
    """The names of what fills a pattern, in braces or as the pages have them.

    >>> sorted(holes_of("{lot}: {left:,} g")), sorted(holes_of("%(count)s jars"))
    (['left', 'lot'], ['count'])
    """
    found = set(re.findall(r"%\(([a-z_A-Z]+)\)[a-z]", pattern))
    try:
        return found | {name for _, name, _, _ in Formatter().parse(pattern) if name}
    except ValueError:
        return found
