"""What a page of the notebook is made of: its columns, its key, what a row may be.

A page is one CSV file about one noun; `shelf_pages.py` and `yard_pages.py` list them all.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from typing import TypeVar

Value = object
T = TypeVar("T")

MOST_ROWS = 20_000  # of one page: a studio of many years has some thousands


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its heading, how its cells are read, an example and what it means."""

    name: str
    kind: str
    example: str
    meaning: str
    required: bool = False
    choices: tuple[str, ...] = ()
    refers: tuple[str, ...] = ()  # pages that hold what the cell names, one of them must
    low: Decimal | None = None
    high: Decimal | None = None
    most: int = 0  # characters; 0: by its kind


@dataclass(frozen=True, slots=True)
class Page:
    """One file: its name, what it is for, its columns and the columns that tell rows apart."""

    name: str
    meaning: str
    columns: tuple[Column, ...]
    key: tuple[str, ...]
    one: str = ""  # what one row is called in a sentence: "vessel"
    required: bool = False
    most: int = MOST_ROWS

    @property
    def file(self) -> str:
        return f"{self.name}.csv"

    def column(self, name: str) -> Column:
        return next(column for column in self.columns if column.name == name)


@dataclass(frozen=True, slots=True)
class Row:
    """One row that was read: where it stands and its values by column, empty cells left out."""

    page: str
    line: int
    values: dict[str, Value] = field(default_factory=dict)
    sound: bool = True  # every cell of it could be read

    def has(self, name: str) -> bool:
        return name in self.values

    def _get(self, name: str, kind: type[T]) -> T | None:
        value = self.values.get(name)
        assert value is None or isinstance(value, kind), (self.page, name, value)
        return value

    def text(self, name: str) -> str:
        return self._get(name, str) or ""

    def yes(self, name: str, *, default: bool = False) -> bool:
        found = self._get(name, bool)
        return default if found is None else found

    def whole(self, name: str, default: int = 0) -> int:
        found = self._get(name, int)
        return default if found is None else found

    def whole_or_none(self, name: str) -> int | None:
        return self._get(name, int)

    def number(self, name: str) -> Decimal | None:
        return self._get(name, Decimal)

    def share(self, name: str) -> Fraction | None:
        return self._get(name, Fraction)

    def day(self, name: str) -> date | None:
        return self._get(name, date)

    def moment(self, name: str) -> datetime | None:
        return self._get(name, datetime)

    def clock(self, name: str) -> time | None:
        return self._get(name, time)

    def several(self, name: str) -> tuple[Value, ...]:
        return self._get(name, tuple) or ()

    def words(self, name: str) -> tuple[str, ...]:
        return tuple(str(word) for word in self.several(name))
