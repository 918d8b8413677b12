"""What is wrong in a notebook, where it stands and what to write instead."""

from __future__ import annotations

from dataclasses import dataclass

from inventory.science.saying import counted
from sourcing.notebook.saying import say

SHOWN = 60  # characters of a cell that a sentence repeats


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing to put right before the notebook can be loaded."""

    file: str
    line: int  # 0: the file as a whole
    column: str  # empty: the row as a whole
    stands: str  # what stands there
    write: str  # what is wrong with it and what to write instead

    def __str__(self) -> str:
        where = self.file
        if self.line:
            where += f", line {self.line}"
        if self.column:
            where += f", column {self.column}"
        shown = printable(self.stands)
        return (
            say(
                "{where}: {shown} stands there. {write}", where=where, shown=shown, write=self.write
            )
            if shown
            else say("{where}: {write}", where=where, write=self.write)
        )


def printable(text: str) -> str:
    """A cell in quotation marks, cut to a readable length, with unseen characters spelt out."""
    if not text:
        return ""
    cut = text[:SHOWN] + ("…" if len(text) > SHOWN else "")
    return '"' + "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in cut) + '"'


class Unclear(ValueError):
    """A cell that cannot be read; the message says what to write instead."""


class NotebookRefused(ValueError):
    """A notebook with problems; nothing of it was loaded."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = tuple(sorted(problems))
        count = len(self.problems)
        super().__init__(
            counted(
                "Nothing was loaded: one thing to put right in the notebook first.",
                "Nothing was loaded: {count:,} things to put right in the notebook first.",
                count=count,
            )
        )
