"""Tests 15 to 19: fibre. 500 g scoured are 526.316 g as bought, at a loss of 5 %."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from tests.sourcing.week.constraints.case import Case
from tests.sourcing.week.little import DUSK, LITTLE, feb, hours, recipe, run, shelf, step

NO_SCOUR = shelf(
    recipe(steps=tuple(row for row in DUSK.steps if row.kind != "scour")), fibre={"scoured": True}
)
# With its alum the run is dyed on Mon 10:00 and is dry on Wed 3 Feb 16:30.
MORDANTED = shelf(
    hours(1, run(due=feb(3, 16, 30)), hands_min=95),
    fibre={"scoured": True, "mordant": "alum", "mordant_percent": Decimal(12)},
)
DAMP = shelf(MORDANTED, fibre={"damp": True, "since": date(2027, 1, 29)})
CLIENTS = shelf(fibre={"clients_own": True})
CASES = (
    Case(
        15,
        "wool one gram short after its loss",
        LITTLE,
        shelf(fibre={"left_mg": 525_316}),
        "no",
        "fibre",
        "wool short by 1 g: 526 g unscoured wanted, 525 g left",
    ),
    Case(
        15,
        "cloth is silk",
        LITTLE,
        shelf(fibre={"fibre": "silk"}),
        "no",
        "fibre",
        "wool short by 500 g: none left that counts",
    ),
    Case(
        16,
        "wool not scoured and no scour to come",
        NO_SCOUR,
        shelf(NO_SCOUR, fibre={"scoured": False}),
        "no",
        "scour",
        "W-1 is not scoured, and Dusk has no scour: scour it first",
    ),
    Case(
        17,
        "alum 11 % where 12 are asked",
        MORDANTED,
        shelf(MORDANTED, fibre={"mordant_percent": Decimal(11)}),
        "not yet",
        "due",
        "due Wed 3 Feb 16:30, dry only after it",
    ),
    Case(
        17,
        "damp since a day too long",
        DAMP,
        shelf(DAMP, fibre={"since": date(2027, 1, 28)}),
        "no",
        "fibre state",
        "W-1 has been damp for 4 days: check for mould",
        "studio, damp_mordanted_days = 3 (studio's own)",
    ),
    Case(
        17,
        "skein without a label",
        LITTLE,
        shelf(fibre={"labelled": False}),
        "no",
        "fibre state",
        "W-1 has no label",
    ),
    Case(
        18,
        "wetting out one minute too long for Monday",
        step("wet out", stand_min=265),
        step("wet out", stand_min=266),
        "not yet",
        "due",
        "due Fri 5 Feb 12:00, dry only after it",
    ),
    Case(
        19,
        "wool comes a minute too late",
        shelf(fibre={"arrives_at": feb(1, 12, 25)}),
        shelf(fibre={"arrives_at": feb(1, 12, 26)}),
        "not yet",
        "arrival",
        "W-1 arrives Mon 1 Feb 12:26",
    ),
    Case(
        19,
        "client's own not weighed here",
        CLIENTS,
        shelf(CLIENTS, fibre={"weighed": False}),
        "no",
        "fibre state",
        "W-1 is the client's own and has not been weighed here",
    ),
)
