"""What a notebook says of things that are not there yet: no fault, but worth a word."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from sourcing.notebook.moments import write_moment
from sourcing.notebook.notebook import Notebook
from sourcing.notebook.page import Row
from sourcing.notebook.problem import Problem
from sourcing.notebook.yard_pages import BY_NAME

# The page, the column from which its thing is there, and the word for it. What is confirmed but
# has not come says so itself, under arrives.
BEGINNINGS = (("lots", "since", "gathered"), ("jars", "begun", "begun"), ("baths", "made", "made"))


def to_come(notebook: Notebook, *, at: datetime) -> list[Problem]:
    """Lots, jars and baths whose beginning lies after a moment, with what that means."""
    return list(_to_come(notebook, at))


def _to_come(notebook: Notebook, at: datetime) -> Iterator[Problem]:
    zone = notebook.setting.zone
    for page, column, word in BEGINNINGS:
        for row in notebook.page(page):
            begins = row.moment(column)
            if begins is not None and begins > at and not row.has("arrives"):
                note = f"{_name(row)} is {word} on {write_moment(begins, zone)}, which is still to "
                note += "come: until then it is not on the shelf. If it is there, correct the day."
                yield Problem(BY_NAME[page].file, row.line, column, "", note)


def _name(row: Row) -> str:
    return row.text(BY_NAME[row.page].key[0])
