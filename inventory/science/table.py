"""Read a shipped table strictly: a line that breaks its promise is named by file and number."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files
from importlib.resources.abc import Traversable
from io import StringIO
from typing import NoReturn

BASES = ("published", "common practice", "assumed", "memory")
LINES_AT_MOST = 20_000


class BrokenTable(ValueError):
    """A shipped table does not hold what its columns promise."""

    def __init__(self, file: str, line: int, why: str) -> None:
        self.file, self.line, self.why = file, line, why
        super().__init__(f"{file}, line {line}: {why}")


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a table, by column."""

    file: str
    number: int  # as an editor counts, the head is line 1
    cells: dict[str, str]

    def __getitem__(self, column: str) -> str:
        return self.cells[column]

    def fail(self, why: str) -> NoReturn:
        """Stop with this line's file and number."""
        raise BrokenTable(self.file, self.number, why)

    def must(self, column: str) -> str:
        """The cell, which may not be empty."""
        return self.cells[column] or self.fail(f"{column} is empty.")

    def one_of(self, column: str, choices: tuple[str, ...]) -> str:
        """The cell, which must be one of some words."""
        cell = self.cells[column]
        return (
            cell if cell in choices else self.fail(f"{column} is “{cell}”, not one of {choices}.")
        )

    def sourced(self) -> tuple[str, str]:
        """Basis and source; what is published names its source."""
        basis = self.one_of("basis", BASES)
        if basis == "published" and not self.cells["source"]:
            self.fail("published, but no source is named.")
        return basis, self.cells["source"]


def lines_of(
    name: str, columns: tuple[str, ...], *, folder: Traversable | None = None
) -> Iterator[Line]:
    """The lines of a table under its head.

    Parameters
    ----------
    name : path under the tables, with `/`
    columns : what the head must be, in order
    folder : where the tables are; None: those shipped
    """
    rows = csv.reader(StringIO(_text(name, folder), newline=""), strict=True)
    if (head := _next(rows, name, 1)) != list(columns):
        raise BrokenTable(name, 1, f"the columns are {head}, not {list(columns)}.")
    number = rows.line_num + 1  # a cell in quotes may hold line breaks
    while (cells := _next(rows, name, number)) is not None:
        yield _line(name, number, cells, columns)
        number = rows.line_num + 1


def _text(name: str, folder: Traversable | None) -> str:
    path = (folder or files("inventory.science").joinpath("tables")).joinpath(*name.split("/"))
    read = path.read_bytes()
    try:
        return read.decode("utf-8")
    except UnicodeDecodeError as error:
        number = read.count(b"\n", 0, error.start) + 1
        raise BrokenTable(name, number, "holds a byte that is not UTF-8.") from error


def _next(rows: Iterator[list[str]], name: str, number: int) -> list[str] | None:
    try:
        return next(rows, None)
    except csv.Error as error:
        raise BrokenTable(name, number, f"cannot be read: {error}.") from error


def _line(name: str, number: int, cells: list[str], columns: tuple[str, ...]) -> Line:
    if len(cells) != len(columns):
        raise BrokenTable(name, number, f"{len(cells)} cells, {len(columns)} columns.")
    if number > LINES_AT_MOST:
        raise BrokenTable(name, number, f"longer than {LINES_AT_MOST:,} lines.")
    if any(cell != cell.strip() for cell in cells):
        raise BrokenTable(name, number, "a cell begins or ends with a space.")
    return Line(name, number, dict(zip(columns, cells, strict=True)))
