"""What the pages about reminders say against each other and against the sources."""

from __future__ import annotations

from collections.abc import Iterator

from sourcing.notebook.notebook import Notebook
from sourcing.notebook.page import Row
from sourcing.notebook.problem import Problem
from sourcing.notebook.saying import say
from sourcing.notebook.yard_pages import BY_NAME
from sourcing.reminding.facts import KINDS, OF_A_SOURCE

Found = Iterator[Problem]


def check_reminders(notebook: Notebook) -> Found:
    """Readers that could not be written to, or must not be."""
    agreed = {row.text("source") for row in notebook.page("agreements")}
    seen: dict[str, Row] = {}
    for row in notebook.page("reminders"):
        yield from _hours(row)
        yield from (_of_a_source(row, agreed) if row.has("source") else _of_a_person(row))
        who = row.text("source") or row.text("address").casefold()
        other = seen.setdefault(who, row)
        if other is not row:
            note = say("Line {line} writes to the same. Put both into one row.", line=other.line)
            yield _problem(row, "source" if row.has("source") else "address", who, note)


def _hours(row: Row) -> Found:
    if "morning sheet" in row.words("wants") and not row.has("sheet at"):
        yield _problem(row, "sheet at", "", say("Write the hour at which the morning sheet goes."))
    for name, other in (("quiet from", "quiet until"), ("quiet until", "quiet from")):
        if row.has(name) and not row.has(other):
            yield _problem(row, other, "", say("Quiet hours have two ends. Write this one too."))
    if row.has("quiet from") and row.clock("quiet from") == row.clock("quiet until"):
        note = say("Quiet hours begin when they end. Leave an hour in which letters may go.")
        yield _problem(row, "quiet until", f"{row.clock('quiet until'):%H:%M}", note)


def _of_a_source(row: Row, agreed: set[str]) -> Found:
    source = row.text("source")
    if row.words("wants") != (OF_A_SOURCE,):
        note = say(
            "A source is told of the day before. Write {of_a_source}.", of_a_source=OF_A_SOURCE
        )
        yield _problem(row, "wants", ", ".join(row.words("wants")), note)
    if source not in agreed:
        note = say("It has no agreement, so no pick-up to be told of. Add it to agreements.csv.")
        yield _problem(row, "source", source, note)
    for name, write in (("leave by", "who said that it may be written to"), ("leave on", "when")):
        if not row.has(name):
            yield _problem(
                row,
                name,
                "",
                say("A source is written to by its leave. Write {write}.", write=write),
            )


def _of_a_person(row: Row) -> Found:
    if OF_A_SOURCE in row.words("wants"):
        others = ", ".join(kind for kind in KINDS if kind != OF_A_SOURCE)
        note = say(
            "That is for a source. Write its name under source, or choose among {others}.",
            others=others,
        )
        yield _problem(row, "wants", OF_A_SOURCE, note)


def _problem(row: Row, column: str, stands: str, write: str) -> Problem:
    return Problem(BY_NAME[row.page].file, row.line, column, stands, write)
