"""The shipped figures: what the trade and the books say until a studio writes its own.

Read once from the tables beside this file; the studio's own figure is asked first.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from functools import cache, lru_cache
from importlib.resources import files

from inventory.science.figures import Figure, Figures, NoFigure

TABLES = ("dyestuffs", "fibres", "liquors", "studio", "supplies")
STUDIOS_KEPT = 32  # of which a process has the figures put together
BASES = ("published", "common practice", "assumed")


@cache
def shipped() -> Figures:
    """All shipped figures, read once.

    Examples
    --------
    >>> shipped().get("avocado stones", "piece_mass_g", on=date(2026, 11, 23)).value
    Decimal('42')
    """
    return Figures(tuple(row for table in TABLES for row in _rows(table)))


def with_shipped(own: Iterable[Figure]) -> Figures:
    """A studio's own figures in front of the shipped ones; put together once for equal ones."""
    return _in_front(tuple(own))


@lru_cache(maxsize=STUDIOS_KEPT)
def _in_front(own: tuple[Figure, ...]) -> Figures:
    return Figures((*own, *shipped().rows))


def find_figure(figures: Figures, item: str, name: str, *, on: date) -> Figure | None:
    """The figure that holds on a day: from those given, else the shipped one, else None."""
    return figures.find(item, name, on=on) or shipped().find(item, name, on=on)


def figure(figures: Figures, item: str, name: str, *, on: date) -> Figure:
    """The figure that holds on a day: from those given, else the shipped one.

    Raises
    ------
    NoFigure
        If neither has one.

    Examples
    --------
    >>> figure(Figures(), "studio", "gas_l_per_mol", on=date(2026, 11, 23)).value
    Decimal('24.0')
    """
    found = find_figure(figures, item, name, on=on)
    if found is None:
        raise NoFigure(item, name)
    return found


def _rows(table: str) -> tuple[Figure, ...]:
    path = files("inventory.science").joinpath("tables", f"{table}.csv")
    lines = path.read_text(encoding="utf-8").splitlines()
    return tuple(_figure(row) for row in csv.DictReader(lines))


def _figure(row: dict[str, str]) -> Figure:
    assert row["basis"] in BASES, row
    return Figure(
        item=row["item"],
        name=row["name"],
        value=Decimal(row["typical"]),
        low=_bound(row["low"]),
        high=_bound(row["high"]),
        basis=row["basis"],
        source=row["source"],
    )


def _bound(text: str) -> Decimal | None:
    return Decimal(text) if text else None
