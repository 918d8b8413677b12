"""One order as a CSV file (RFC 4180): a row a line, amounts as people write them."""

from __future__ import annotations

import csv
import io

from api.web.orders.words import money_in_full
from inventory.science.wording import write_amount
from sourcing.notebook.sheet import FORMULA
from sourcing.ordered import LineFacts, OrderFacts
from sourcing.week.words import listed

COLUMNS = (
    "order", "supplier", "written", "needed by", "runs", "line", "fibre", "form", "code", "scoured",
    "packs", "pack", "weight", "price a pack", "price", "packs come", "weighed in",
)  # fmt: skip


def order_csv(order: OrderFacts) -> bytes:
    """An order in UTF-8, its headings first; no cell is a formula to a spreadsheet."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for line in order.lines:
        writer.writerow(inert(cell) for cell in _cells(order, line))
    return text.getvalue().encode()


def inert(cell: str) -> str:
    """A cell that a spreadsheet does not work out.

    >>> inert("=1+1"), inert("wool"), inert("-4")
    ("'=1+1", 'wool', "'-4")
    """
    return f"'{cell}" if FORMULA.match(cell) else cell


def _cells(order: OrderFacts, line: LineFacts) -> tuple[str, ...]:
    return (
        order.label,
        order.supplier,
        order.written_at.date().isoformat(),
        order.needed_by.isoformat() if order.needed_by is not None else "",
        listed(order.runs),
        str(line.number),
        line.stuff.fibre,
        line.stuff.form,
        line.code,
        "yes" if line.scoured else "no",
        str(line.packs),
        write_amount(line.pack_mg),
        write_amount(line.ordered_mg),
        money_in_full(line.pack_minor, order.currency),
        money_in_full(line.minor, order.currency),
        str(line.came_packs),
        write_amount(line.came_mg),
    )
