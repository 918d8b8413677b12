"""Rows of a page one by one: read with a mark of what they say, written, and taken out.

Whoever writes is shown the mark of what stands there, and may refuse. Two who write one row at the
same time do so one after the other, so the second sees what the first has written.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from django.db import transaction

from inventory.hindrance import said_in_words
from inventory.models import Studio
from sourcing.notebook.cells import Setting, read_cell, write_cell
from sourcing.notebook.history_pages import RECORDED_BY, is_history
from sourcing.notebook.merge import OF_A_RECIPE, Merged, cells_of, merge
from sourcing.notebook.notebook import Notebook, read_row
from sourcing.notebook.one_page import bring_in
from sourcing.notebook.page import Page, Row
from sourcing.notebook.problem import NotebookRefused, Problem, Unclear
from sourcing.notebook.row_errors import NoSuchRow, RowIsHistory
from sourcing.notebook.row_key import key_cells_in, key_text
from sourcing.notebook.saying import say
from sourcing.notebook.sheet import Line, cell_fault, clean
from sourcing.notebook.writing import notebook_of
from sourcing.notebook.yard_pages import BY_NAME

Cells = Mapping[str, str]
# Is told the mark of what stands in a row, None where there is no such row; raises to stop it.
Look = Callable[[str | None], None]


@dataclass(frozen=True, slots=True)
class KeptRow:
    """A row of a page: what it is called, what it says, and a mark of that.

    `parts` are the steps and doses of a recipe, which is one thing with them.
    """

    page: Page
    key: str
    row: Row
    cells: Cells
    parts: Mapping[str, tuple[KeptRow, ...]] = field(default_factory=dict)

    @property
    def mark(self) -> str:
        """The same as long as the row says the same."""
        says = [self.page.name, *self.cells.values()]
        says += [part.mark for parts in self.parts.values() for part in parts]
        return hashlib.sha256("\x1f".join(says).encode()).hexdigest()[:32]


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be written in a row; `parts` of a recipe that are not named stay as they are."""

    cells: Cells
    parts: Mapping[str, Sequence[Cells]] = field(default_factory=dict)


def rows_of(studio: Studio, page: Page, *, at: datetime) -> tuple[KeptRow, ...]:
    """The rows of a page as a studio has them at a moment, in the order of the page."""
    notebook = notebook_of(studio, at=at)
    return tuple(kept_row(notebook, page, row) for row in notebook.page(page.name))


def row_of(studio: Studio, page: Page, key: str, *, at: datetime) -> KeptRow:
    """One row of a page.

    Raises
    ------
    NoSuchRow
        If no row is called so.
    """
    notebook = notebook_of(studio, at=at)
    row = row_called(notebook, page, key)
    if row is None:
        raise NoSuchRow(page.name, key)
    return kept_row(notebook, page, row)


def put_row(
    studio: Studio,
    page: Page,
    key: str,
    wanted: Wanted,
    *,
    at: datetime,
    look: Look,
) -> tuple[KeptRow, bool]:
    """A row written anew or changed, and whether it is new; all of it, or nothing.

    Parameters
    ----------
    key : what it is called; cells of the key may be left out and must not say otherwise
    look : is told the mark of what stands there, while nobody else writes it

    Raises
    ------
    RowIsHistory
        If the page says what happened.
    NotebookRefused
        With every problem, if it cannot be written so.
    """
    check_standing(page)
    new = False

    def put_over(standing: Notebook) -> tuple[Merged, list[Problem]]:
        nonlocal new
        there = row_called(standing, page, key)
        new = there is None
        look(None if there is None else kept_row(standing, page, there).mark)
        row, problems = _read(page, {**wanted.cells, **_said_by_key(page, key, wanted)}, standing)
        given, wrong = _with_parts(page, row, wanted, standing)
        wrong += _renamed(page, key, row, standing)
        if problems or wrong:
            raise NotebookRefused([*problems, *wrong])
        return merge(standing, given), []

    with said_in_words(), transaction.atomic():
        pages = [page, *(BY_NAME[name] for name in wanted.parts)]
        bring_in(studio, pages, put_over, at=at)
        return row_of(studio, page, key, at=at), new


def kept_row(notebook: Notebook, page: Page, row: Row) -> KeptRow:
    """A row of a notebook with its key and what belongs to it."""
    cells = cells_of(page, row, notebook)
    parts = {}
    if page.name == "recipes":
        parts = {name: tuple(_parts(notebook, name, row)) for name in OF_A_RECIPE}
    return KeptRow(page, key_text(cells[name] for name in page.key), row, cells, parts)


def check_standing(page: Page) -> None:
    """Refuse a page that says what happened.

    Raises
    ------
    RowIsHistory
        With the entries that record it.
    """
    if is_history(page.name):
        raise RowIsHistory(page.name, by=RECORDED_BY[page.name])


def row_called(notebook: Notebook, page: Page, key: str) -> Row | None:
    """The row of a page that is called so; None where none is."""
    wanted = _folded(page, key, notebook.setting)
    for row in notebook.page(page.name):
        cells = cells_of(page, row, notebook)
        if tuple(cells[name].casefold() for name in page.key) == wanted:
            return row
    return None


def _folded(page: Page, key: str, setting: Setting) -> tuple[str, ...] | None:
    """The cells of a key as they would be written, in any case of letters; None of no key."""
    cells = key_cells_in(key)
    if cells is None or len(cells) != len(page.key):
        return None
    found = []
    for name, cell in zip(page.key, map(clean, cells), strict=True):
        column = page.column(name)
        try:
            found.append(write_cell(column, read_cell(column, cell, setting), setting)
                         if cell else "")  # fmt: skip
        except Unclear:
            return None
    return tuple(cell.casefold() for cell in found)


def _said_by_key(page: Page, key: str, wanted: Wanted) -> dict[str, str]:
    """The cells of a key that are not written out beside it."""
    cells = key_cells_in(key)
    if cells is None or len(cells) != len(page.key):
        note = say(
            "The address of a row is made of {join}, with ~ between. ", join=", ".join(page.key)
        )
        raise NotebookRefused(
            [Problem(page.file, 0, "", key, note + say("Look at those there are."))]
        )
    pairs = zip(page.key, cells, strict=True)
    return {name: cell for name, cell in pairs if not wanted.cells.get(name)}


def _renamed(page: Page, key: str, row: Row, standing: Notebook) -> list[Problem]:
    """What of a key is written otherwise than the address has it."""
    if not row.sound:
        return []
    cells = cells_of(page, row, standing)
    if tuple(cells[name].casefold() for name in page.key) == _folded(page, key, standing.setting):
        return []
    note = say("This address is of {key}. Write that, or a new row under its own address.", key=key)
    return [Problem(page.file, 0, page.key[0], cells[page.key[0]], note)]


def _read(
    page: Page, cells: Cells, notebook: Notebook, *, line: int = 0
) -> tuple[Row, list[Problem]]:
    """A row of what is written in its cells, and what is wrong with them."""
    said = Line(line, tuple(clean(cells.get(column.name, "")) for column in page.columns))
    faults = [
        Problem(page.file, line, column.name, cell, note)
        for column, cell in zip(page.columns, said.cells, strict=True)
        if (note := cell_fault(cell))
    ]
    if faults:
        return Row(page.name, line, sound=False), faults
    return read_row(page, page.file, page.columns, said, notebook.setting)


def _with_parts(
    page: Page, row: Row, wanted: Wanted, standing: Notebook
) -> tuple[dict[str, list[Row]], list[Problem]]:
    """The row and what belongs to it, as far as that is written too."""
    given = {page.name: [row]}
    problems: list[Problem] = []
    for name, parts in wanted.parts.items():
        given[name] = []
        for number, cells in enumerate(parts, start=1):
            cells = {**cells, "recipe": row.text("recipe")}
            made, wrong = _read(BY_NAME[name], cells, standing, line=number)
            given[name].append(made)
            problems += wrong
    if page.name in OF_A_RECIPE:
        given[page.name] = _among_its_like(page, row, standing)
    return given, problems


def _among_its_like(page: Page, row: Row, standing: Notebook) -> list[Row]:
    """A step or dose among the others of its recipe, in its old place or last."""

    def key(of: Row) -> list[str]:
        cells = cells_of(page, of, standing)
        return [cells[name].casefold() for name in page.key]

    like = [of for of in standing.page(page.name) if of.text("recipe") == row.text("recipe")]
    if key(row) not in map(key, like):
        return [*like, row]
    return [row if key(of) == key(row) else of for of in like]


def _parts(notebook: Notebook, name: str, recipe: Row) -> Iterator[KeptRow]:
    for row in notebook.page(name):
        if row.text("recipe") == recipe.text("recipe"):
            yield kept_row(notebook, BY_NAME[name], row)
