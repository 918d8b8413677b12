"""The reading tables: what is known about each thing, whoever says it, disagreeing rows together.

Read lazily, once for each process, and strictly: a broken line stops with its file and number.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from importlib.resources.abc import Traversable

from inventory.science.saying import say
from inventory.science.table import Line, lines_of

COLUMNS = ("item", "property", "low", "typical", "high", "unit", "basis", "source")
DUTY_COLUMNS = ("matter", "region", "duty", "known_on", "basis", "source")
NUMBER = re.compile(r"-?\d+(\.\d+)?")
DAY = re.compile(r"\d{4}-\d\d-\d\d")

# Kind of thing, its table, and what a heading calls many of them.
KINDS: dict[str, tuple[str, str]] = {
    "dyestuff": ("dyestuffs", say("dyestuffs")),
    "mordant": ("mordants", say("mordants")),
    "helper": ("helpers", say("helpers in the bath")),
    "fibre": ("fibres", say("fibres")),
    "hazard": ("hazards", say("hazards")),
    "duty": ("duties", say("duties")),
    "process": ("process", say("steps and baths")),
    "waste": ("waste_streams", say("where waste comes from")),
}


@dataclass(frozen=True, slots=True)
class Row:
    """What one source, or one habit, says of one property of one thing."""

    kind: str
    item: str
    name: str  # of the property
    low: Decimal | None
    typical: Decimal | None
    high: Decimal | None
    words: str  # of a row that is no number; else empty
    unit: str  # from units.csv; empty for words
    case: str  # for which case it holds: "on wool", "Germany"
    basis: str
    source: str
    known_on: date | None = None  # of a duty

    @property
    def numbers(self) -> tuple[Decimal, ...]:
        """Low, typical and high, as far as they are known."""
        return tuple(value for value in (self.low, self.typical, self.high) if value is not None)


@dataclass(frozen=True, slots=True)
class Reach:
    """From the lowest to the highest figure that any of some rows gives, in one unit."""

    low: Decimal
    high: Decimal
    unit: str


@dataclass(frozen=True, slots=True)
class Said:
    """All rows about one property of one thing in one unit: where sources disagree, several."""

    name: str  # of the property
    unit: str
    rows: tuple[Row, ...]

    @property
    def reach(self) -> Reach | None:
        """The range that holds every row's figures; None where none is a number."""
        return reach_of(self.rows)


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing of the catalogue with all that is said of it, in the order of its table."""

    kind: str
    name: str
    rows: tuple[Row, ...]

    def said(self) -> tuple[Said, ...]:
        """Its rows by property and unit, each property where it first stands."""
        by: dict[tuple[str, str], list[Row]] = {}
        for row in self.rows:
            by.setdefault((row.name, row.unit), []).append(row)
        return tuple(Said(name, unit, tuple(rows)) for (name, unit), rows in by.items())

    def of(self, name: str) -> tuple[Row, ...]:
        """The rows of one property; empty where nothing is known."""
        return tuple(row for row in self.rows if row.name == name)


@dataclass(frozen=True)
class Library:
    """Every thing by kind, and the plain words for properties and units."""

    things: tuple[Thing, ...]
    property_words: dict[str, str]
    unit_words: dict[str, str]

    def of_kind(self, kind: str) -> tuple[Thing, ...]:
        return tuple(thing for thing in self.things if thing.kind == kind)

    def thing(self, kind: str, name: str) -> Thing | None:
        return next((row for row in self.of_kind(kind) if row.name == name), None)

    def look_up(self, item: str, name: str) -> tuple[Row, ...]:
        """All rows of a property of an item, of whatever kind it is.

        Examples
        --------
        >>> [row.typical for row in library().look_up("silk", "agreed_allowance")]
        [Decimal('11.00')]
        """
        return tuple(row for thing in self.things if thing.name == item for row in thing.of(name))

    def search(self, text: str) -> tuple[Thing, ...]:
        """The things in whose name, properties, words or sources every word of a text occurs.

        Parameters
        ----------
        text : a few words, any case; none: everything
        """
        words = text.casefold().split()
        if not words:
            return self.things
        return tuple(row for row in self.things if all(word in _text(self, row) for word in words))


def reach_of(rows: Iterable[Row]) -> Reach | None:
    """The range over rows of one unit; None where none of them is a number.

    Examples
    --------
    >>> reach = reach_of(library().look_up("iron liquor (home-made iron acetate)", "iron_mass"))
    >>> str(reach.low), str(reach.high), reach.unit
    ('50', '200', 'g/L')
    """
    figured = [row for row in rows if row.numbers]
    if not figured:
        return None
    assert len({row.unit for row in figured}) == 1, figured
    values = [value for row in figured for value in row.numbers]
    return Reach(min(values), max(values), figured[0].unit)


@cache
def library() -> Library:
    """The shipped catalogue, read on the first call."""
    return read_library()


def read_library(folder: Traversable | None = None) -> Library:
    """A catalogue from a folder of tables; None: the shipped one.

    Raises
    ------
    BrokenTable
        If a line does not keep what the columns promise; the message names file and line.
    """
    properties = _vocabulary("properties", "property", folder)
    units = _vocabulary("units", "unit", folder)
    things: list[Thing] = []
    for kind, (table, _) in KINDS.items():
        rows = _duties(folder) if kind == "duty" else _rows(kind, table, properties, units, folder)
        things += _things(kind, rows)
    return Library(tuple(things), properties, units)


def _vocabulary(name: str, column: str, folder: Traversable | None) -> dict[str, str]:
    words: dict[str, str] = {}
    for line in lines_of(f"catalogue/{name}.csv", (column, "words"), folder=folder):
        if line.must(column) in words:
            line.fail(f"“{line[column]}” stands twice.")
        words[line[column]] = say(line.must("words"))
    return words


def _rows(
    kind: str,
    table: str,
    properties: dict[str, str],
    units: dict[str, str],
    folder: Traversable | None,
) -> Iterator[Row]:
    seen: set[tuple[str, ...]] = set()
    for line in lines_of(f"catalogue/{table}.csv", COLUMNS, folder=folder):
        if line["property"] not in properties:
            line.fail(f"“{line['property']}” has no words in properties.csv.")
        if (cells := tuple(line.cells.values())) in seen:
            line.fail("the same row stands twice.")
        seen.add(cells)
        yield _row(kind, line, units)


def _row(kind: str, line: Line, units: dict[str, str]) -> Row:
    basis, source = line.sourced()
    unit, _, case = line["unit"].partition(", ")
    if unit.endswith(","):  # only a case: `, Germany` has no unit before it
        unit, case = "", line["unit"].removeprefix(", ")
    numbers = [_number(line, column) for column in ("low", "typical", "high")]
    words = "" if any(value is not None for value in numbers) else line.must("typical")
    if words and unit:
        line.fail(f"words have no unit, here “{unit}”.")
    if not words and unit not in units:
        line.fail(f"“{unit}” is no unit of units.csv.")
    _ordered(line, [value for value in numbers if value is not None])
    low, typical, high = numbers
    return Row(
        kind, line.must("item"), line["property"], low, typical, high,
        words, unit, case, basis, source,
    )  # fmt: skip


def _number(line: Line, column: str) -> Decimal | None:
    """A cell as a number; None where it is empty or, in `typical` alone, holds words."""
    cell = line[column]
    if NUMBER.fullmatch(cell):
        return Decimal(cell)
    if cell and (column != "typical" or line["low"] or line["high"]):
        line.fail(
            f"{column} is “{cell}”: all of low, typical and high are numbers, or words alone."
        )
    return None


def _ordered(line: Line, numbers: list[Decimal]) -> None:
    if numbers != sorted(numbers):
        line.fail("low, typical and high do not stand in order of size.")


def _duties(folder: Traversable | None) -> Iterator[Row]:
    for line in lines_of("catalogue/duties.csv", DUTY_COLUMNS, folder=folder):
        basis, source = line.sourced()
        if not DAY.fullmatch(line["known_on"]):
            line.fail(f"known_on is “{line['known_on']}”, not a day like 2026-11-26.")
        if "check your local rules" not in line.must("duty"):
            line.fail("a duty carries “check your local rules”.")
        known_on = date.fromisoformat(line["known_on"])
        yield Row(
            "duty", line.must("matter"), "duty", None, None, None,
            line["duty"], "", line.must("region"), basis, source, known_on,
        )  # fmt: skip


def _things(kind: str, rows: Iterable[Row]) -> Iterator[Thing]:
    by: dict[str, list[Row]] = {}
    for row in rows:
        by.setdefault(row.item, []).append(row)
    return (Thing(kind, name, tuple(found)) for name, found in by.items())


def _text(shelf: Library, thing: Thing) -> str:
    """All that is written of a thing, as far as a search looks."""
    parts = [thing.name, thing.kind]
    for row in thing.rows:
        parts += (shelf.property_words.get(row.name, ""), row.words, row.case, row.source)
    return " ".join(parts).casefold()
