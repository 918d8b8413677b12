"""The rows of the catalogue of dyestuffs, as its tests ask for them."""

import csv
from collections.abc import Iterable
from importlib.resources import files

Row = dict[str, str]

NUMBERS = ("low", "typical", "high")


def _read() -> tuple[list[str], list[Row]]:
    path = files("inventory.science").joinpath("tables", "catalogue", "dyestuffs.csv")
    reader = csv.DictReader(path.read_text("utf-8").splitlines())
    return list(reader.fieldnames or ()), list(reader)


HEADER, ROWS = _read()
ITEMS = sorted({row["item"] for row in ROWS})


def rows_of(item: str, prop: str) -> list[Row]:
    """What all sources say of one thing."""
    return [row for row in ROWS if (row["item"], row["property"]) == (item, prop)]


def row_resting_on(item: str, prop: str, part_of_source: str) -> Row:
    """What one source says of one thing."""
    (row,) = [row for row in rows_of(item, prop) if part_of_source in row["source"]]
    return row


def word(item: str, prop: str) -> str:
    """The words of a thing that is said once."""
    (row,) = rows_of(item, prop)
    return row["typical"]


def values(rows: Iterable[Row]) -> list[float]:
    """All numbers of rows."""
    return [float(row[name]) for row in rows for name in NUMBERS if row[name]]
