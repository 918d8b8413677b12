"""The columns of every page, written out for whoever keeps a notebook."""

from __future__ import annotations

from collections.abc import Iterable

from sourcing.notebook.page import MOST_ROWS, Column, Page
from sourcing.notebook.sheet import MOST_BYTES, MOST_CELL
from sourcing.notebook.yard_pages import PAGES

FOREWORD = f"""\
# A studio's notebook

A notebook is a folder of CSV files (RFC 4180), one page a file, as somebody keeps them in a
spreadsheet. `pellitory-yard/` is one, of an invented studio.

    python3 manage.py load FOLDER --dry-run    say what is wrong, keep nothing
    python3 manage.py load FOLDER              load all of it, or nothing
    python3 manage.py load FOLDER --weeks-later 4
    python3 manage.py write FOLDER             write a studio out again
    python3 manage.py load --columns           print this page

- Only `studio.csv` must be there. Columns may stand in any order, empty ones may be left out.
- Commas, semicolons or tabs; any line ends; blank rows; spaces and capitals in headings make no
  difference. Files are UTF-8 (or what a spreadsheet calls Unicode text).
- At most {MOST_ROWS:,} rows and {MOST_BYTES // 1_000_000} MB a file, {MOST_CELL} characters a cell.
- Amounts as people write them: `1,900 g`, `1½ kg`, `2 lb 3 oz`, `58 stones`, `35 mL per 100 g`,
  `2 water : 1 vinegar`, `5 %`. A weight is always dry weight.
- Days as `Mon 23 Nov 2026`, `23 Nov 2026` or `2026-11-23`; moments add `17:00`, in the studio's
  time zone. In the hour that comes twice when clocks go back the first is meant, unless an offset
  such as `+00:00` follows; a time in the hour that is skipped is refused.
- Lists stand in one cell: `R1, R2`. Yes or no: `yes`, `no`.
- The same folder twice changes nothing. Wishes, hours, recipes and pots may be changed and loaded
  again (a changed recipe becomes a new version); what happened may not: record it in the studio.
- A row that is taken out of the folder stays in the studio.

**Bold** columns must be filled in.
"""


def guide() -> str:
    """All pages with their columns, an example each."""
    return "\n".join([FOREWORD, *(_page(page) for page in PAGES)])


def _page(page: Page) -> str:
    rows = (_column(column) for column in page.columns)
    head = ["| column | such as | meaning |", "|---|---|---|"]
    return "\n".join([f"## {page.file}", "", page.meaning, "", *head, *rows, ""])


def _column(column: Column) -> str:
    name = f"**{column.name}**" if column.required else column.name
    return f"| {name} | {column.example} | {_meaning(column)} |"


def _meaning(column: Column) -> str:
    extra = [f"one of {_listed(column.choices)}"] if column.choices else []
    if column.refers:
        extra.append(f"stands in {' or '.join(f'{page}.csv' for page in column.refers)}")
    if column.low is not None:
        extra.append(f"from {column.low} to {column.high:,}")
    return "; ".join([column.meaning, *extra])


def _listed(words: Iterable[str]) -> str:
    return ", ".join(words)
