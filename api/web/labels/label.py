"""What stands on one label, whatever it is tied to: words, dates in full, cautions, a code."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from api.web.drawing.qr import QrDrawing
from inventory.science.cautions import Caution
from inventory.science.saying import say
from sourcing.week.words import day_in_words

# Duties of whoever fetches or sells; they are said on the pages, a label has no room for them.
NOT_ON_LABELS = "duty"
SIGNS = 45  # on a line
ROOM = 215  # signs that have room under the name
# Signs of a code up to which its letters may be so large.
LENGTHS = ((3, "tiny"), (8, "short"), (16, "middle"))


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a label: a word for what it says, and what it says."""

    word: str
    said: str
    strong: bool = False  # read first: a last good day, a dip


@dataclass(frozen=True, slots=True)
class Label:
    """One label, ready to be printed."""

    code: str
    name: str  # what the tape would say, "Iron 7"; empty: nothing beside `what`
    what: str
    lines: tuple[Line, ...]
    cautions: tuple[Caution, ...]
    stop: str = ""  # why it must not be used: set aside, past its last good day
    blanks: tuple[str, ...] = ()  # to be filled in by hand
    for_dye: bool = True  # is never food again
    qr: QrDrawing | None = None

    @property
    def is_close(self) -> bool:
        """Whether it has more to say than fits in the usual letters."""
        lines = sum(SIGNS * bool(line.strong) // 3 + len(line.said) for line in self.lines)
        stop = 2 * SIGNS * bool(self.stop) + SIGNS * bool(self.blanks)
        told = sum(len(row.mark) + len(row.sentence) for row in self.cautions)
        return lines + stop + told > ROOM

    @property
    def length(self) -> str:
        """How long its code is, for the size of its letters."""
        return next((word for most, word in LENGTHS if len(self.code) <= most), "long")


def full_day(day: date) -> str:
    """A day that is understood next year too.

    >>> full_day(date(2026, 11, 24))
    'Tue 24 Nov 2026'
    """
    return say("{day} {year}", day=day_in_words(day), year=day.year)


def on_label(rows: Iterable[Caution]) -> tuple[Caution, ...]:
    """Those cautions that belong on a label, worst first; that it is no food it says larger."""
    return tuple(row for row in rows if row.kind not in (NOT_ON_LABELS, "food"))
