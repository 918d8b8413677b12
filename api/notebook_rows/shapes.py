"""What pages and rows of a notebook look like, for the contract with programs."""

from __future__ import annotations

from api.contract.shapes import (
    COUNT,
    DECIMAL,
    TEXT,
    YES,
    Shape,
    about,
    maybe,
    named,
    one_of,
    record,
    rows,
    taken,
)
from api.rest.contract import Word
from sourcing.notebook.history_pages import RECORDED_BY
from sourcing.notebook.page import MOST_ROWS
from sourcing.notebook.yard_pages import PAGES

AMOUNT: Shape = record(amount=TEXT, unit=TEXT)
CELL: Shape = about(
    {"anyOf": [TEXT, YES, {"type": "integer"}, rows(TEXT), AMOUNT, {"type": "null"}]},
    "A text as people write it, true or false, a whole number, a list of texts, or an amount with "
    "its unit; null: empty.",
)
CELL_TAKEN: Shape = about(
    {
        "anyOf": [
            {**TEXT, "maxLength": 500},
            YES,
            {"type": "integer", "minimum": 0, "maximum": 999_999_999},
            rows({**TEXT, "maxLength": 500}, at_most=100),
            taken(amount={**TEXT, "maxLength": 60}, unit={**TEXT, "maxLength": 60}),
            {"type": "null"},
        ]
    },
    "A text as people write it (`2 lb 3 oz`), true or false, a whole number, a list of texts, or "
    "an amount with its unit; null or left out: empty.",
)
ROW: Shape = about(
    {"type": "object", "additionalProperties": {"anyOf": [CELL, rows(named(CELL))]}},
    "A member for each column of the page; of a recipe also its `steps` and `doses`.",
)
ROW_TAKEN: Shape = about(
    {
        "type": "object",
        "additionalProperties": {"anyOf": [CELL_TAKEN, rows(named(CELL_TAKEN), at_most=400)]},
    },
    "A member for each column of the page that is to say something. Members of the key may be left "
    "out. A recipe may bring its `steps` and `doses`; left out, they stay as they are.",
)
PROBLEM_ROWS = rows(record(file=TEXT, line=COUNT, column=TEXT, stands=TEXT, write=TEXT))
COLUMN: Shape = record(
    member=about(TEXT, "Its name in JSON."),
    column=about(TEXT, "Its heading in the CSV file."),
    kind=TEXT,
    example=TEXT,
    meaning=TEXT,
    required=YES,
    choices=rows(TEXT),
    refers=about(rows(TEXT), "Pages that hold what it names."),
    low=maybe(DECIMAL),
    high=maybe(DECIMAL),
)
PAGE_SHAPE: Shape = record(
    page=TEXT,
    file=TEXT,
    meaning=TEXT,
    one_row=TEXT,
    key=about(rows(TEXT), "Members that tell rows apart; a row's key is made of them, ~ between."),
    rows_at_most=COUNT,
    recorded_by=about(
        maybe(TEXT), "The entries that record it, where the page says what happened; else null."
    ),
    columns=rows(COLUMN),
)
PAGES_SHAPE: Shape = record(pages=rows(PAGE_SHAPE))
KEPT_SHAPE: Shape = record(key=TEXT, etag=TEXT, row=ROW)
ROWS_SHAPE: Shape = record(page=TEXT, rows=rows(KEPT_SHAPE), next=maybe(TEXT))
LOADED_SHAPE: Shape = record(
    studio=TEXT,
    dry_run=YES,
    new=about(named(COUNT), "Rows that are new, by page."),
    changed=about(named(COUNT), "Rows that say something else than before, by page."),
    text=TEXT,
)
WRITTEN = tuple(page.name for page in PAGES if page.name not in RECORDED_BY)
ALL_PAGES = tuple(page.name for page in PAGES)
PAGE_ASKED = Word("page", one_of(*ALL_PAGES), "Which page.", "rings", "path", True)
PAGE_WRITTEN = Word("page", one_of(*WRITTEN), "Which page.", "rings", "path", True)
KEY_ASKED = Word(
    "key",
    {**TEXT, "minLength": 1, "maxLength": 400},
    "The row, as the list of rows calls it: the cells of its key with ~ between.",
    "R1",
    "path",
    True,
)
DRY_RUN = Word(
    "dry_run",
    one_of("1", "0"),
    "1: say what is wrong and what would change, and keep nothing.",
    "1",
)
IF_NEW = Word(
    "If-None-Match", one_of("*"), "`*`: write the row only if it is not there yet.", "*", "header"
)
MAY_MATCH = Word(
    "If-Match",
    {**TEXT, "pattern": r'^(\*|"[!#-~]{1,60}")$'},
    "The ETag of the row that is changed, as it was read.",
    '"4f1c"',
    "header",
)
RING = {"ring": "R1", "power": {"amount": "3500", "unit": "W"}, "not_for": None, "site": None}
RING_PUT = {"power": "3.5 kW", "not_for": ["P1"]}
LOADED_EXAMPLE = {
    "studio": "Pellitory Yard",
    "dry_run": False,
    "new": {"rings": 1},
    "changed": {},
    "text": "Pellitory Yard: new: 1 of rings.",
}
assert MOST_ROWS  # pages name their own bound from it
