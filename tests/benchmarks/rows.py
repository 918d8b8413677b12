"""One line of the table of figures: what was measured, its bare equivalent, the ratio, the budget.

A ratio of two things done in turn in one run says the same on a slow machine as on a fast one.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import asdict, dataclass

HEADINGS = ("what", "measured", "bare equivalent", "ratio", "budget", "met")


@dataclass(frozen=True, slots=True)
class Row:
    """One figure with the budget that it is held against."""

    what: str
    measured: str
    bare: str
    ratio: float
    budget: str = ""  # empty: told, not judged
    met: bool | None = None
    counted: str = ""  # what is counted and how; printed once above the rows that share it

    @property
    def verdict(self) -> str:
        return {True: "met", False: "NOT MET", None: "-"}[self.met]

    @property
    def cells(self) -> tuple[str, ...]:
        return (self.what, self.measured, self.bare, number(self.ratio), self.budget, self.verdict)


def within(ratio: float, most: float) -> dict[str, object]:
    """Budget and verdict of a ratio that may be `most` at the highest."""
    return {"ratio": ratio, "budget": f"≤ {most:g}", "met": ratio <= most}


def number(value: float) -> str:
    """Three digits that mean something, whatever the size.

    >>> number(0.0341), number(1.5), number(56143.2)
    ('0.034', '1.50', '56,143')

    What is far below one keeps its digits too: two entries a second beside 4,101 commits.

    >>> number(2 / 4101)
    '0.00049'
    """
    if value >= 100:
        return f"{value:,.0f}"
    if value >= 10:
        return f"{value:.1f}"
    return f"{value:.2f}" if value >= 0.1 else f"{value:.2g}"


def ms(seconds: float) -> str:
    """Milliseconds with their unit.

    >>> ms(0.0123), ms(12.3)
    ('12.3 ms', '12,300 ms')
    """
    return f"{number(seconds * 1000)} ms"


def as_line(row: Row) -> str:
    """A row as one line of JSON, to be handed from one process to the next."""
    return json.dumps(asdict(row), ensure_ascii=False)


def from_line(line: str) -> Row:
    """The row of a line of JSON."""
    return Row(**json.loads(line))


def table(rows: Iterable[Row]) -> str:
    """All rows under one heading, columns in line; what is counted stands above its rows."""
    rows = list(rows)
    widths = [
        max(map(len, column)) for column in zip(HEADINGS, *(r.cells for r in rows), strict=True)
    ]
    return "\n".join([_line(HEADINGS, widths), *_lines(rows, widths)])


def _lines(rows: Iterable[Row], widths: list[int]) -> Iterator[str]:
    said = ""
    for row in rows:
        if row.counted != said:
            said = row.counted
            yield f"\n# {said}"
        yield _line(row.cells, widths)


def _line(cells: tuple[str, ...], widths: list[int]) -> str:
    padded = (cell.ljust(width) for cell, width in zip(cells, widths, strict=True))
    return "  ".join(padded).rstrip()
