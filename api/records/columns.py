"""Columns of a record: what a cell of a table becomes in JSON, and what the contract says of it.

A column is declared once; the list, the single record and the schema are made from it. Texts that
are empty, and cells without a value, are null.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import tzinfo
from typing import Any

from api.contract.shapes import (
    DAY,
    DECIMAL,
    MOMENT,
    NUMBER,
    TEXT,
    UUID,
    WHOLE,
    YES,
    Shape,
    maybe,
    record,
    ref,
    rows,
)
from api.records.cells import (
    amount_of_unit,
    closed_said,
    dates_of,
    fraction_exact,
    heats_said,
    money_said,
    prices_said,
    sites_said,
    together_said,
    waits_said,
    wanted,
    weekdays_of,
    words_of,
)
from api.rest.shelf_values import amount_said, litres_said
from sourcing.models.reminders import WANTS
from sourcing.week.words import decimal_string

Read = Callable[[Any], object]


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """One member of a record.

    `cells` are read in the table; where it is two, `read` gets both at once. `read` is not asked
    for a single cell without a value. `in_zone` makes the reading out of the studio's clock.
    """

    name: str
    cells: tuple[str, ...]
    shape: Shape
    read: Read | None = None
    in_zone: Callable[[tzinfo], Read] | None = None
    empty: bool = False  # may be null


def text(name: str, cell: str = "", *, among: Sequence[str] = ()) -> Column:
    """A code, a name or a word that is always there; `among`: one of these."""
    shape = {**TEXT, "enum": list(among)} if among else TEXT
    return Column(name, (cell or name,), shape)


def said(name: str, cell: str = "", *, among: Sequence[str] = ()) -> Column:
    """A text that may be empty."""
    shape = {**TEXT, "enum": list(among)} if among else TEXT
    return Column(name, (cell or name,), shape, read=lambda found: found or None, empty=True)


def flag(name: str, cell: str = "", *, empty: bool = False) -> Column:
    """Yes or no."""
    return Column(name, (cell or name,), YES, empty=empty)


def count(name: str, cell: str = "", *, empty: bool = False) -> Column:
    """A whole number; a unit, where it has one, ends its name."""
    return Column(name, (cell or name,), WHOLE, empty=empty)


def graded(name: str, cell: str = "") -> Column:
    """A depth from 1 to 5; 0 in the table: nobody said."""
    shape = {**WHOLE, "minimum": 1, "maximum": 5}
    return Column(name, (cell or name,), shape, read=lambda found: found or None, empty=True)


def measured(name: str, cell: str = "", *, empty: bool = True) -> Column:
    """A reading such as a warmth, as a number in the unit that ends its name."""
    return Column(name, (cell or name,), NUMBER, empty=empty)


def exact(name: str, cell: str = "", *, empty: bool = False) -> Column:
    """An exact decimal, as a string."""
    return Column(name, (cell or name,), DECIMAL, read=decimal_string, empty=empty)


def part(name: str, cell: str = "", *, empty: bool = False) -> Column:
    """An exact fraction, as a decimal string."""
    return Column(name, (cell or name,), DECIMAL, read=fraction_exact, empty=empty)


def mass(name: str, cell: str, *, empty: bool = False) -> Column:
    """A weight, kept in milligrams."""
    return Column(name, (cell,), ref("Amount"), read=lambda mg: amount_said(mg, "mg"), empty=empty)


def volume(name: str, cell: str, *, empty: bool = False) -> Column:
    """A volume, kept in microlitres."""
    return Column(name, (cell,), ref("Amount"), read=lambda ul: amount_said(ul, "µL"), empty=empty)


def litres(name: str, cell: str) -> Column:
    """A volume of a vessel, kept in millilitres."""
    return Column(name, (cell,), ref("Amount"), read=litres_said)


def power(name: str, cell: str) -> Column:
    """The power of a ring, kept in watts."""
    return Column(name, (cell,), ref("Amount"), read=lambda w: {"amount": str(w), "unit": "W"})


def amount(name: str, cell: str, unit: str, *, empty: bool = False) -> Column:
    """An amount in the unit that stands beside it: that of its lot."""
    return Column(name, (cell, unit), ref("Amount"), read=amount_of_unit, empty=empty)


def money(name: str, cell: str, *, empty: bool = False) -> Column:
    """Money, kept in hundredths."""
    return Column(name, (cell,), DECIMAL, read=money_said, empty=empty)


def moment(name: str, cell: str = "", *, empty: bool = False) -> Column:
    """A moment with the offset of the studio's clock."""

    def in_zone(zone: tzinfo) -> Read:
        return lambda at: at.astimezone(zone).isoformat()

    return Column(name, (cell or name,), MOMENT, in_zone=in_zone, empty=empty)


def day(name: str, cell: str = "", *, empty: bool = False) -> Column:
    """A day of the calendar."""
    return Column(name, (cell or name,), DAY, read=lambda on: on.isoformat(), empty=empty)


def clock(name: str, cell: str = "", *, empty: bool = False) -> Column:
    """A time of day by the studio's clock."""
    shape = {**TEXT, "pattern": r"^[0-9]{2}:[0-9]{2}$"}
    return Column(name, (cell or name,), shape, read=lambda at: f"{at:%H:%M}", empty=empty)


def key(name: str, cell: str = "", *, empty: bool = False) -> Column:
    """A UUID: of an entry, as whoever made the entry chose it."""
    return Column(name, (cell or name,), UUID, read=str, empty=empty)


def words(name: str, cell: str = "") -> Column:
    """A list of codes or names."""
    return Column(name, (cell or name,), rows(TEXT), read=list)


def words_with_commas(name: str, cell: str = "") -> Column:
    """A list that the table keeps as one text."""
    return Column(name, (cell or name,), rows(TEXT), read=words_of)


def wants(name: str) -> Column:
    """The kinds of letters that a reader wants."""
    shape = rows({**TEXT, "enum": list(WANTS.values())})
    return Column(name, tuple(WANTS), shape, read=wanted)


def weekdays(name: str, cell: str) -> Column:
    """Days of the week, 0 Monday to 6 Sunday; dates in the same list stand in `dates`."""
    shape = rows({**WHOLE, "minimum": 0, "maximum": 6})
    return Column(name, (cell,), shape, read=weekdays_of)


def dates(name: str, cell: str) -> Column:
    """Single days out of a list that may hold days of the week too."""
    return Column(name, (cell,), rows(DAY), read=dates_of)


def closed(name: str, cell: str = "") -> Column:
    """Stretches of days, each with its first and its last."""
    pair = {**rows(DAY, at_most=2), "minItems": 2}
    return Column(name, (cell or name,), rows(pair), read=closed_said)


def heats(name: str, cell: str = "") -> Column:
    """Heatings one after the other: from, to, and how long it is held."""
    # Without `from_c` it begins with water as it comes from the tap.
    one = record(from_c=maybe(NUMBER), to_c=NUMBER, hold_min=NUMBER)
    return Column(name, (cell or name,), rows(one), read=heats_said)


def prices(name: str, cell: str) -> Column:
    """What a pack costs, from an amount of one order on."""
    one = record(**{"from": ref("Amount"), "pack_price": DECIMAL})
    return Column(name, (cell,), rows(one), read=prices_said)


def waits(name: str, cell: str) -> Column:
    """Steps that are not begun before a moment, or stay at it."""
    one = record(run=TEXT, step=TEXT, not_before=MOMENT, stays=YES)
    return Column(name, (cell,), rows(one), read=waits_said)


def at_sites(name: str, cell: str) -> Column:
    """Runs that are worked at one site only."""
    return Column(name, (cell,), rows(record(run=TEXT, site=TEXT)), read=sites_said)


def in_pots(name: str, cell: str) -> Column:
    """Runs that go along in another run's pots, up to a step of theirs."""
    one = record(run=TEXT, in_pots_of=TEXT, up_to=TEXT)
    return Column(name, (cell,), rows(one), read=together_said)


def shape_of(columns: Iterable[Column]) -> dict[str, Shape]:
    """The members of a record, as the contract has them."""
    return {
        column.name: maybe(column.shape) if column.empty else column.shape for column in columns
    }
