"""Questions with more than one answer: some of a few words, or rows of a small table."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from api.web.note.ask import Ask, Body, Fields, Shown, amount_words
from api.web.note.hand import Choice, Hand
from inventory.science.saying import joined

ROWS_AT_MOST = 12
YES = "yes"


@dataclass(frozen=True, kw_only=True)
class Several(Ask):
    """Some of a few answers that are always the same, each to be ticked."""

    options: tuple[Choice, ...]
    ticked: tuple[str, ...] = ()  # before anybody has answered

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(f"{self.name}_{n}" for n in range(1, len(self.options) + 1))

    def said(self, fields: Fields) -> Body:
        pairs = zip(self.names, self.options, strict=True)
        found = [choice.value for name, choice in pairs if fields.get(name)]
        return {self.name: found} if found else {}

    def fields(self, body: Mapping[str, Any]) -> dict[str, str]:
        said = body.get(self.name)
        found = said if isinstance(said, list) else []
        pairs = zip(self.names, self.options, strict=True)
        return {name: YES for name, choice in pairs if choice.value in found}

    def in_words(self, body: Mapping[str, Any]) -> str:
        said = body.get(self.name)
        found = said if isinstance(said, list) else []
        return joined(", ", (choice.words for choice in self.options if choice.value in found))

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        answered = bool(fields.get("id"))  # what comes back is taken as it was sent
        choices = tuple(
            Choice(name, choice.words, choice.more,
                   YES if fields.get(name) or (not answered and choice.value in self.ticked)
                   else "")
            for name, choice in zip(self.names, self.options, strict=True)
        )  # fmt: skip
        return Shown("several", self.name, self.words, self.hint, "", self.needed, choices=choices)


@dataclass(frozen=True, slots=True)
class Column:
    """One thing that is asked in each row; `known` ones are sent along and not asked."""

    name: str
    words: str
    kind: str = "text"
    mode: str = ""
    known: bool = False
    whole: bool = False
    most: int = 80


@dataclass(frozen=True, slots=True)
class Row:
    """A row before anybody has answered: what it is about, and what is known of it."""

    title: str
    values: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Cell:
    """One field of a row, ready to be put on the page."""

    name: str
    words: str
    value: str
    kind: str
    mode: str
    most: int
    known: bool


@dataclass(frozen=True, slots=True)
class RowShown:
    """A row, ready to be put on the page."""

    title: str
    cells: tuple[Cell, ...]


Begin = Callable[[Fields, Hand], Sequence[Row]]


def no_rows(fields: Fields, hand: Hand) -> Sequence[Row]:
    """Nothing is known before it is written."""
    return ()


@dataclass(frozen=True, kw_only=True)
class Rows(Ask):
    """A small table: each row says one thing of a list.

    Parameters
    ----------
    columns : what is asked of each row, the one that names it first
    begin : rows that stand there already
    spare : empty rows behind them
    without : column without which a row says nothing; empty: any word says something
    changed : only rows say something whose answer differs from what stood there
    """

    columns: tuple[Column, ...]
    begin: Begin = no_rows
    spare: int = 0
    without: str = ""
    changed: bool = False

    @property
    def names(self) -> tuple[str, ...]:
        own = (*(column.name for column in self.columns), *(("was",) if self.changed else ()))
        return tuple(self._name(n, name) for n in range(1, ROWS_AT_MOST + 1) for name in own)

    def said(self, fields: Fields) -> Body:
        found = [row for n in range(1, ROWS_AT_MOST + 1) if (row := self._row(n, fields))]
        touched = any(fields.get(name) for name in self.names)
        return {self.name: found} if found or (touched and self.changed) else {}

    def fields(self, body: Mapping[str, Any]) -> dict[str, str]:
        said = body.get(self.name)
        found: dict[str, str] = {}
        for n, row in enumerate(said if isinstance(said, list) else (), 1):
            if isinstance(row, Mapping) and n <= ROWS_AT_MOST:
                for column in self.columns:
                    if column.name in row:
                        found[self._name(n, column.name)] = amount_words(row[column.name])
        return found

    def in_words(self, body: Mapping[str, Any]) -> str:
        said = body.get(self.name)
        rows = [row for row in said if isinstance(row, Mapping)] if isinstance(said, list) else []
        return joined(
            "; ",
            (
                " ".join(amount_words(row[c.name]) for c in self.columns if c.name in row)
                for row in rows
            ),
        )

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        known = list(self.begin(fields, hand))[:ROWS_AT_MOST]
        last = max((n for n in range(1, ROWS_AT_MOST + 1) if self._touched(n, fields)), default=0)
        many = min(ROWS_AT_MOST, max(len(known) + self.spare, last))
        rows = tuple(self._shown_row(n, known, fields) for n in range(1, many + 1))
        return Shown("rows", self.name, self.words, self.hint, "", self.needed, rows=rows)

    def _name(self, n: int, column: str) -> str:
        return f"{self.name}_{n}_{column}"

    def _touched(self, n: int, fields: Fields) -> bool:
        return any(self._name(n, column.name) in fields for column in self.columns)

    def _row(self, n: int, fields: Fields) -> Body:
        found: Body = {}
        for column in self.columns:
            text = fields.get(self._name(n, column.name), "")
            if text:
                found[column.name] = int(text) if column.whole and text.isdecimal() else text
        if self.without and found.get(self.without) in (None, 0):
            return {}
        asked = [column.name for column in self.columns if not column.known]
        if not any(name in found for name in asked):
            return {}
        if self.changed and found.get(asked[0]) == fields.get(self._name(n, "was")):
            return {}
        return found

    def _shown_row(self, n: int, known: Sequence[Row], fields: Fields) -> RowShown:
        row = known[n - 1] if n <= len(known) else Row("", {})
        if self._touched(n, fields):
            row = self._named_alike(n, known, fields, row)
            values = {c.name: fields.get(self._name(n, c.name), "") for c in self.columns}
        else:
            values = {c.name: row.values.get(c.name, "") for c in self.columns}
        cells = [
            Cell(self._name(n, c.name), c.words, values[c.name], c.kind, c.mode, c.most, c.known)
            for c in self.columns
        ]
        if self.changed:
            asked = next(c.name for c in self.columns if not c.known)
            was = fields.get(self._name(n, "was")) or row.values.get(asked, "")
            cells.append(Cell(self._name(n, "was"), "", was, "text", "", 80, known=True))
        return RowShown(row.title, tuple(cells))

    def _named_alike(self, n: int, known: Sequence[Row], fields: Fields, other: Row) -> Row:
        """The row that what was sent is about, though others may stand before it by now."""
        first = self.columns[0]
        if not first.known:
            return other
        sent = fields.get(self._name(n, first.name), "")
        return next((row for row in known if row.values.get(first.name) == sent), Row(sent, {}))
