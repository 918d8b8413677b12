"""What was given as CSV files (RFC 4180): hand-overs for the waste transfer paper, and totals.

Weights are kilos, exact to the milligram; every cell is inert to a spreadsheet.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction

from api.orders_csv import inert
from sourcing.thanks import Giver, Thanks
from sourcing.tracing.balance import Balance
from sourcing.tracing.facts import GivenOver
from sourcing.week.words import decimal_string

HAND_OVERS = ("date", "from", "to", "description", "quantity", "unit", "pieces", "how", "note")
TOTALS = (
    "source", "dyestuff", "since", "until", "hand-overs", "pieces", "saved kg", "estimated kg",
    "kept from the bin kg", "dyed kg", "into baths kg", "drawn by hand kg", "waiting kg",
    "spoiled kg", "tipped out kg", "lost on drying kg", "not on record kg", "fibre dyed kg",
)  # fmt: skip


def hand_overs_csv(thanks: Thanks) -> bytes:
    """One row a hand-over: description, quantity, parties and date."""
    rows = (
        (
            given.on.isoformat(),
            given.source,
            thanks.studio,
            given.gives,
            kilos_said(given.weight_mg if given.weight_mg is not None else given.guessed_mg),
            "kg",
            "" if given.pieces is None else str(given.pieces),
            "weighed" if given.weight_mg is not None else "counted, weight estimated",
            given.note,
        )
        for given in _in_order(thanks.givers)
    )
    return _file(HAND_OVERS, rows)


def totals_csv(thanks: Thanks) -> bytes:
    """One row a source and dyestuff, with everything that became of it."""
    rows = (_total(thanks, giver, row) for giver in thanks.givers for row in giver.balances)
    return _file(TOTALS, rows)


def kilos_said(mg: int | Fraction) -> str:
    """Kilos as a plain decimal.

    >>> kilos_said(25_704_000), kilos_said(Fraction(4_000_000, 3))
    ('25.704', '1.333333')
    """
    return decimal_string(Decimal(round(mg)) / 1_000_000)


def _in_order(givers: Iterable[Giver]) -> list[GivenOver]:
    rows = [given for giver in givers for row in giver.balances for given in row.given]
    return sorted(rows, key=lambda row: (row.on, row.source, row.gives))


def _total(thanks: Thanks, giver: Giver, row: Balance) -> tuple[str, ...]:
    fibre = sum((mg for _, mg in row.fibre), Fraction(0))
    masses = (
        row.saved, row.estimated, row.kept, row.dyed, row.bathed, row.drawn + row.other, row.there,
        row.spoiled, row.tipped, row.lost, row.off_record, fibre,
    )  # fmt: skip
    return (
        giver.name,
        row.dyestuff,
        thanks.since.isoformat(),
        thanks.at.date().isoformat(),
        str(len(row.given)),
        str(row.pieces) if row.pieces else "",
        *(kilos_said(mg) for mg in masses),
    )


def _file(columns: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(columns)
    for row in rows:
        writer.writerow([inert(cell) for cell in row])
    return text.getvalue().encode()
