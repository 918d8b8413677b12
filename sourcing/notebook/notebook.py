"""A studio's notebook: a folder of pages, read whole, with everything that is wrong in it."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from zoneinfo import ZoneInfo

from sourcing.notebook.cells import Setting, read_cell
from sourcing.notebook.page import Column, Page, Row, Value
from sourcing.notebook.problem import Problem, Unclear
from sourcing.notebook.saying import say
from sourcing.notebook.sheet import MOST_BYTES, Line, Sheet, heading, read_sheet
from sourcing.notebook.yard_pages import BY_NAME, PAGES

MOST_FILES = 200  # in the folder; there are a little over thirty pages
MOST_BYTES_IN_ALL = 40_000_000
NOT_PAGES = (".", "~")  # what machines leave beside the files of people
UTC_ZONE = ZoneInfo("UTC")


@dataclass(frozen=True)
class Notebook:
    """All rows of all pages, and the time zone that its moments are written in."""

    setting: Setting
    rows: Mapping[str, tuple[Row, ...]] = field(default_factory=dict)

    def page(self, name: str) -> tuple[Row, ...]:
        """The rows of a page that could be read."""
        return tuple(row for row in self.rows.get(name, ()) if row.sound)

    def named(self, page: str) -> dict[str, str]:
        """What a page names, faulty rows too: letters in any case to the name as written."""
        key = BY_NAME[page].key[0]
        return {
            row.text(key).casefold(): row.text(key)
            for row in self.rows.get(page, ())
            if row.has(key)
        }

    def named_row(self, page: str, name: str) -> Row | None:
        """The row of a page that has a name; None where none has it."""
        key = BY_NAME[page].key[0]
        return next((row for row in self.page(page) if row.text(key) == name), None)

    @property
    def name(self) -> str:
        studio = self.page("studio")
        return studio[0].text("studio") if studio else ""


def files_of(folder: Path) -> tuple[dict[str, bytes], list[Problem]]:
    """The CSV files of a folder, by name, and what is wrong with the folder."""
    if not folder.is_dir():
        return {}, [Problem(str(folder), 0, "", "", "There is no such folder. Write its path.")]
    names = (path for path in folder.iterdir() if not path.name.startswith(NOT_PAGES))
    found = sorted(path for path in names if path.suffix.casefold() == ".csv")
    if len(found) > MOST_FILES:
        note = f"The folder has {len(found)} CSV files; at most {MOST_FILES} are read."
        return {}, [Problem(str(folder), 0, "", "", note)]
    files: dict[str, bytes] = {}
    problems = []
    left = MOST_BYTES_IN_ALL
    for path in found:
        note = _not_read(path, left)
        if note:
            problems.append(Problem(path.name, 0, "", "", note))
            continue
        with path.open("rb") as file:
            files[path.name] = file.read(MOST_BYTES + 1)
        left -= len(files[path.name])
    return files, problems


def _not_read(path: Path, left: int) -> str:
    """Why a file is not read at all; its size is known before its bytes are."""
    if not path.is_file():
        return "This is not a file. Move it away."
    size = path.stat().st_size
    if size > MOST_BYTES:
        return f"The file has {size:,} bytes; at most {MOST_BYTES:,} are read. Divide it."
    if size > left:
        return f"All files before it leave no room: {MOST_BYTES_IN_ALL:,} bytes are read in all."
    return ""


def read_notebook(files: Mapping[str, bytes]) -> tuple[Notebook, list[Problem]]:
    """The notebook that the files make up, and every problem of cells, rows and headings.

    Parameters
    ----------
    files : file name to bytes; any order; a page without a file is an empty page
    """
    by_page, problems = _by_page(files)
    setting, found = _setting(by_page)
    notebook, faults = _read(by_page, setting)
    problems += [*found, *faults, *_absent(notebook.rows, by_page)]
    return notebook, sorted(set(problems))


def read_pages(files: Mapping[str, bytes], setting: Setting) -> tuple[Notebook, list[Problem]]:
    """Some pages of a notebook, and every problem of cells, rows and headings.

    Parameters
    ----------
    files : file name to bytes
    setting : of the studio; its own page, where it is among them, says another
    """
    by_page, problems = _by_page(files)
    if "studio" in by_page:
        setting, _ = _setting(by_page)
    notebook, faults = _read(by_page, setting)
    return notebook, sorted({*problems, *faults, *_absent(notebook.rows, by_page)})


def _read(
    by_page: Mapping[str, tuple[str, bytes]], setting: Setting
) -> tuple[Notebook, list[Problem]]:
    rows: dict[str, tuple[Row, ...]] = {}
    problems = []
    for page in PAGES:
        if page.name in by_page:
            file, raw = by_page[page.name]
            rows[page.name], faults = read_page(page, raw, setting, file=file)
            problems += faults
    return Notebook(setting, rows), problems


def read_page(
    page: Page, raw: bytes, setting: Setting, *, file: str = ""
) -> tuple[tuple[Row, ...], list[Problem]]:
    """The rows of one page, and what is wrong with them."""
    file = file or page.file
    known = {column.name: column for column in page.columns}
    sheet, problems = read_sheet(file, raw, known=known, most_rows=page.most)
    if not sheet.headings:
        return (), problems
    columns, faults = _columns(page, sheet)
    problems += faults
    if any(not fault.line or fault.line == sheet.heading_line for fault in faults):
        return (), problems
    rows = []
    for line in sheet.lines:
        row, faults = read_row(page, file, columns, line, setting)
        problems += faults
        rows.append(row)
    return tuple(rows), problems + _twice(page, file, rows)


def nearest(word: str, words: Iterable[str]) -> str:
    """The word of those known that looks most like one that is not, or an empty text."""
    by_fold = {known.casefold(): known for known in words}
    close = difflib.get_close_matches(word.casefold(), by_fold, n=1, cutoff=0.6)
    return by_fold[close[0]] if close else ""


def _by_page(files: Mapping[str, bytes]) -> tuple[dict[str, tuple[str, bytes]], list[Problem]]:
    found: dict[str, tuple[str, bytes]] = {}
    problems = []
    for file, raw in sorted(files.items()):
        name = heading(file.removesuffix(file[-4:])).replace(" ", "_")
        if name not in BY_NAME:
            close = nearest(name, BY_NAME)
            note = f"Did you mean {close}.csv?" if close else f"The pages are {_and(BY_NAME)}."
            problems.append(Problem(file, 0, "", "", f"There is no such page. {note}"))
        elif name in found:
            note = f"The page is there twice, as {found[name][0]} too. Keep one of them."
            problems.append(Problem(file, 0, "", "", note))
        else:
            found[name] = (file, raw)
    return found, problems


def _setting(by_page: Mapping[str, tuple[str, bytes]]) -> tuple[Setting, list[Problem]]:
    """Zone and country, which other cells are read by; problems of that page come later."""
    if "studio" not in by_page:
        note = "The page is missing. Write the studio's name and time zone in it."
        return Setting(UTC_ZONE), [Problem("studio.csv", 0, "", "", note)]
    rows, _ = read_page(BY_NAME["studio"], by_page["studio"][1], Setting(UTC_ZONE))
    if not rows or not rows[0].has("zone"):
        return Setting(UTC_ZONE), []
    return Setting(ZoneInfo(rows[0].text("zone")), rows[0].text("country")), []


def _absent(
    rows: Mapping[str, Sequence[Row]], by_page: Mapping[str, tuple[str, bytes]]
) -> list[Problem]:
    if "studio" in by_page and not rows.get("studio"):
        file = by_page["studio"][0]
        return [Problem(file, 0, "", "", "One row with name and time zone belongs here.")]
    return []


def _columns(page: Page, sheet: Sheet) -> tuple[tuple[Column | None, ...], list[Problem]]:
    known = {column.name: column for column in page.columns}
    columns: list[Column | None] = []
    problems = []
    for name in sheet.headings:
        column = known.get(name)
        if name and column is None:
            close = nearest(name, known)
            note = f"Did you mean {close}?" if close else f"Its columns are {_and(known)}."
            note = f"The page has no such column. {note}"
            problems.append(Problem(sheet.file, sheet.heading_line, "", name, note))
        elif column is not None and column in columns:
            note = "The column is there twice. Keep one of them."
            problems.append(Problem(sheet.file, sheet.heading_line, name, "", note))
        columns.append(column)
    for column in page.columns:
        if column.required and column not in columns:
            note = f"The column is missing. Add it, with cells such as {column.example}."
            problems.append(Problem(sheet.file, sheet.heading_line, column.name, "", note))
    return tuple(columns), problems


def read_row(
    page: Page, file: str, columns: Sequence[Column | None], line: Line, setting: Setting
) -> tuple[Row, list[Problem]]:
    """One row by the columns that its cells stand under, and what is wrong with it."""
    values: dict[str, Value] = {}
    problems = []
    for at, column in enumerate(columns):
        cell = line.cells[at] if at < len(line.cells) else ""
        if column is None:
            if cell:
                note = "The column has no heading. Write one, or delete the cell."
                problems.append(Problem(file, line.number, "", cell, note))
        elif cell:
            try:
                values[column.name] = read_cell(column, cell, setting)
            except Unclear as unclear:
                problems.append(Problem(file, line.number, column.name, cell, str(unclear)))
        elif column.required:
            note = say(
                "The cell is empty. Write {meaning}, such as {example}.",
                meaning=column.meaning,
                example=column.example,
            )
            problems.append(Problem(file, line.number, column.name, "", note))
    return Row(page.name, line.number, values, sound=not problems), problems


def _twice(page: Page, file: str, rows: Sequence[Row]) -> list[Problem]:
    """Rows that name the same thing as a row above them."""
    seen: dict[tuple[str, ...], Row] = {}
    problems = []
    required = [name for name in page.key if page.column(name).required]
    for row in rows:
        key = key_of(page, row)
        if not all(row.has(name) for name in required):
            continue
        if key in seen:
            what = page.one or page.name
            named = ", ".join(part for part in key if part)
            note = f"Line {seen[key].line} has the same {what}, {named}. "
            note += "Write another, or keep one row."
            problems.append(Problem(file, row.line, page.key[0], "", note))
        else:
            seen[key] = row
    return problems


def key_of(page: Page, row: Row) -> tuple[str, ...]:
    """What tells a row from the others of its page, in any case of letters."""
    return tuple(str(row.values.get(name, "")).casefold() for name in page.key)


def _and(words: Iterable[str]) -> str:
    *most, last = words
    return f"{', '.join(most)} and {last}" if most else last
