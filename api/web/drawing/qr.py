"""A square code that a phone reads off paper: one path of dark fields on a light ground.

How much of it may be lost is chosen for paper in a wet room: a quarter of its words, so a splash
over a corner leaves it readable. `segno` is pure Python; importing it takes a tenth of a second, so
it is imported where a code is drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby

QUIET = 4  # light fields all round, as ISO/IEC 18004 wants them
LOSS = "q"  # a quarter of the words may be lost
LONGEST = 600  # letters; with more its fields are too small to be printed


@dataclass(frozen=True, slots=True)
class QrDrawing:
    """A code in fields: its side with the quiet margin, and where the dark ones are."""

    side: int
    path: str
    text: str  # what it says, to be read without a phone


@lru_cache(maxsize=500)
def draw_qr(text: str) -> QrDrawing:
    """The code of an address.

    Examples
    --------
    >>> draw_qr("https://larder.example/found/?code=J1").side
    41
    """
    import segno

    assert 0 < len(text) <= LONGEST
    code = segno.make_qr(text, error=LOSS, boost_error=False)
    rows = [[bool(field) for field in row] for row in code.matrix]
    return QrDrawing(len(rows) + 2 * QUIET, "".join(_dark(rows)), text)


def _dark(rows: Iterable[list[bool]]) -> Iterator[str]:
    """Each stretch of dark fields in a row as one bar."""
    for down, row in enumerate(rows, QUIET):
        across = QUIET
        for dark, fields in groupby(row):
            wide = len(list(fields))
            if dark:
                yield f"M{across} {down}h{wide}v1h-{wide}z"
            across += wide
