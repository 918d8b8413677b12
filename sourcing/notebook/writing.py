"""A studio written out as a notebook: the same pages that it could be loaded from."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from django.db.models import Max

from inventory.models import Posting, Studio
from inventory.shelves import shelf_at
from sourcing.notebook.cells import Setting, write_cell
from sourcing.notebook.load_shelf import Values
from sourcing.notebook.notebook import Notebook
from sourcing.notebook.page import Column, Page, Row
from sourcing.notebook.sheet import as_cell, plain
from sourcing.notebook.still_there import still_there
from sourcing.notebook.write_shelf import Standing
from sourcing.notebook.write_yard import Intentions
from sourcing.notebook.yard_pages import PAGES


def notebook_of(studio: Studio, *, at: datetime) -> Notebook:
    """What a studio has at a moment and means to do, as a notebook.

    What is left of a lot is written, not its history; what is used up or finished is left out,
    and named no more.
    Entries dated after the moment are in it too: a notebook may be written ahead of its days.
    """
    zone = ZoneInfo(studio.zone)
    last = Posting.objects.of(studio).aggregate(last=Max("occurred_at"))["last"]
    at = max(at, last or at)
    shelf = shelf_at(studio, at=at)
    pages = Standing(studio, shelf, zone, at).pages() | Intentions(studio, zone, at).pages()
    rows = {
        page.name: tuple(
            _row(page, values, line) for line, values in enumerate(pages[page.name], start=2)
        )
        for page in PAGES
    }
    return Notebook(Setting(zone, studio.country), still_there(rows))


def files_for(notebook: Notebook) -> dict[str, bytes]:
    """A notebook as CSV files by name (RFC 4180, UTF-8), every page with its headings."""
    return {page.file: file_of(page, notebook) for page in PAGES}


def file_of(page: Page, notebook: Notebook) -> bytes:
    """One page of a notebook as its CSV file."""
    return _file(page, notebook.page(page.name), notebook.setting)


def page_file(page: Page, rows: Iterable[Values], setting: Setting) -> bytes:
    """Some rows of one page as its CSV file."""
    made = [_row(page, values, line) for line, values in enumerate(rows, start=2)]
    return _file(page, made, setting)


def _row(page: Page, values: Values, line: int) -> Row:
    known = {column.name for column in page.columns}
    assert set(values) <= known, (page.name, set(values) - known)
    kept = {name: value for name, value in values.items() if value not in (None, "", ())}
    return Row(page.name, line, kept)


def _file(page: Page, rows: Sequence[Row], setting: Setting) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(column.name for column in page.columns)
    mixed: set[str] = set()  # recipes whose extract has met cold water by then
    for row in rows:
        writer.writerow(_cell(column, row, setting, mixed=mixed) for column in page.columns)
        if row.has("strained at"):
            mixed.add(row.text("recipe"))
    return text.getvalue().encode()


def _cell(column: Column, row: Row, setting: Setting, *, mixed: set[str]) -> str:
    cell = write_cell(column, row.values.get(column.name), setting)
    if column.kind == "heats" and row.text("recipe") in mixed:
        cell = cell.replace("fresh", "mixed")
    return as_cell(plain(cell))
