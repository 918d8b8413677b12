"""One order as a CSV file: its lines under the columns of the notebook's own page.

Whoever keeps a notebook can put the file among its pages; a spreadsheet works out no cell of it.
"""

from __future__ import annotations

from zoneinfo import ZoneInfo

from inventory.models import Studio
from sourcing.notebook.cells import Setting
from sourcing.notebook.order_pages import ORDER_LINES
from sourcing.notebook.sheet import FORMULA
from sourcing.notebook.write_orders import line_values
from sourcing.notebook.writing import page_file
from sourcing.ordered import OrderFacts


def order_csv(order: OrderFacts, studio: Studio) -> bytes:
    """The lines of an order (RFC 4180, UTF-8), its headings first."""
    setting = Setting(ZoneInfo(studio.zone), studio.country)
    return page_file(ORDER_LINES, [line_values(order, line) for line in order.lines], setting)


def inert(cell: str) -> str:
    """A cell that a spreadsheet does not work out.

    >>> inert("=1+1"), inert("wool"), inert("-4 g")
    ("'=1+1", 'wool', "'-4 g")
    """
    return f"'{cell}" if FORMULA.match(cell) else cell
