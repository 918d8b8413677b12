"""The pages about a week that was taken in place of the plain one: what it does otherwise.

Hours are worked out anew from the facts, so a taken week is the same week elsewhere.
"""

from __future__ import annotations

from decimal import Decimal

from sourcing.notebook.page import Column, Page
from sourcing.notebook.shelf_pages import NOTE

PLACE = (Decimal(1), Decimal(2000))
RUNS = ("runs",)

TAKEN = Page(
    "taken",
    "The week that was taken in place of the plain one, as long as it holds; one row at most.",
    (
        Column("at", "moment", "Mon 23 Nov 2026 07:30", "when it was taken", required=True),
        Column("until", "moment", "Mon 30 Nov 2026 07:30", "its end", required=True),
        NOTE,
    ),
    ("at",),
    "taken week",
    most=1,
)
TAKEN_RUNS = Page(
    "taken_runs",
    "What the taken week does otherwise with a run.",
    (
        Column("run", "code", "C", "which run", required=True, refers=RUNS),
        Column("place", "whole", "1", "in which place it is planned; empty: by its due day",
               False, (), (), *PLACE),
        Column("site", "code", "shed", "the only site where it is worked", refers=("sites",)),
        Column("with", "code", "A", "the run into whose pots its cloth goes", refers=RUNS),
        Column("last step", "name", "hot alum", "its last step there"),
    ),
    ("run",),
    "run of the taken week",
)  # fmt: skip
TAKEN_WAITS = Page(
    "taken_waits",
    "Steps that wait in the taken week, or stay at their hour.",
    (
        Column("run", "code", "C", "which run", required=True, refers=RUNS),
        Column("step", "name", "soak", "its word on the run sheet", required=True),
        Column("from", "moment", "Tue 24 Nov 2026 14:00", "not begun before it", required=True),
        Column("stays", "yes or no", "no", "yes: it begins then, before what other runs want"),
    ),
    ("run", "step"),
    "step that waits",
)
TAKEN_PAGES = (TAKEN, TAKEN_RUNS, TAKEN_WAITS)
