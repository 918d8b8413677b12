"""Tests 1 to 8: dyestuff. 500 g of wool ask for 250 g of dried skins on Tue 2 Feb 09:00."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from inventory.science.facts import ColdPlaceFacts, LotFacts, Stay
from inventory.science.figures import Figures
from sourcing.week.facts import PickUpExpected, WeekFacts
from tests.sourcing.week.constraints.case import Case
from tests.sourcing.week.little import LITTLE, RULES, SKINS, ZONE, dose, feb, own, recipe, shelf


def lots(*rows: LotFacts, facts: WeekFacts = LITTLE) -> WeekFacts:
    return replace(facts, shelf=replace(facts.shelf, lots=rows))


def kept(since: datetime, state: str = "dried", place: str = "dry store") -> LotFacts:
    return replace(SKINS, stays=(Stay(since, state, place, place),))


YEAR_AGO = datetime(2026, 2, 2, 9, tzinfo=ZONE)
FORAGED = shelf(lots={"foraged": True, "permission": "lane, 1 Sep 2026", "nest_checked": True})
HALVES = (replace(SKINS, left_mg=150_000), replace(SKINS, code="ON-2", left_mg=100_000))
LIKELY = replace(
    lots(), pick_ups=(PickUpExpected("greengrocer", "onion skins", feb(1, 12), 250_000, 0),)
)
# A fresh lot keeps in the fridge till Mon 1 Feb; it is wanted on Tue and has to be frozen before.
FRESH = replace(
    lots(
        kept(datetime(2027, 1, 27, 9, tzinfo=ZONE), "fresh", "fridge"),
        facts=dose("onion skins", state=""),
    ),
    figures=Figures(
        (
            *RULES,
            own("onion skins", "keeps_fresh_fridge_days", "5"),
            own("onion skins", "keeps_frozen_months", "6"),
        )
    ),
)


def freezer(mg: int) -> WeekFacts:
    return replace(
        FRESH, shelf=replace(FRESH.shelf, cold_places=(ColdPlaceFacts("freezer", "freezer", mg),))
    )


CASES = (
    Case(
        1,
        "skins one gram short",
        LITTLE,
        shelf(lots={"left_mg": 249_000}),
        "no",
        "dyestuff",
        "onion skins short by 1 g: 250 g wanted, 249 g left",
    ),
    Case(
        1,
        "skins fresh and wanted dried",
        dose("onion skins", state="dried"),
        dose("onion skins", state="frozen"),
        "no",
        "state",
        "ON-1 is dried, not frozen (250 g not counted)",
    ),
    Case(
        2,
        "last good day is the day before the dye",
        lots(kept(YEAR_AGO)),
        lots(kept(YEAR_AGO.replace(day=1))),
        "no",
        "last good day",
        "ON-1 ends Mon 1 Feb and cannot be put by; wanted Tue 2 Feb",
        "onion skins, keeps_dried_months = 12 (studio's own)",
    ),
    Case(
        3,
        "bag set aside as damp",
        LITTLE,
        shelf(lots={"set_aside": "damp"}),
        "no",
        "set aside",
        "ON-1 is set aside: damp (250 g not counted)",
    ),
    Case(
        3,
        "bag without a label",
        LITTLE,
        shelf(lots={"labelled": False}),
        "no",
        "no label",
        "ON-1 has no label (250 g not counted)",
    ),
    Case(
        4,
        "shade that must match is asked of two lots",
        lots(*HALVES),
        recipe(lots(*HALVES), match="lot"),
        "no",
        "dyestuff",
        "onion skins short by 100 g: 250 g wanted, 150 g left",
    ),
    Case(
        5,
        "skins confirmed for noon never come",
        lots(replace(SKINS, arrives_at=feb(1, 12))),
        lots(),
        "no",
        "dyestuff",
        "onion skins short by 250 g: 250 g wanted, 0 g left",
    ),
    Case(
        5,
        "skins confirmed for Monday come on Tuesday",
        lots(replace(SKINS, arrives_at=feb(1, 12))),
        lots(replace(SKINS, arrives_at=feb(2, 12))),
        "not yet",
        "arrival",
        "ON-1 comes in Tue 2 Feb 12:00, usable Wed 3 Feb 09:00",
    ),
    Case(
        5,
        "skins likely at noon, at worst none",
        replace(LIKELY, shelf=LITTLE.shelf),
        LIKELY,
        "no",
        "pick-up",
        "onion skins: pick-ups up to Mon 1 Feb likely bring 250 g (0 g over), at worst 0 g",
    ),
    Case(
        6,
        "hedge cut without a nest check",
        FORAGED,
        shelf(FORAGED, lots={"nest_checked": False}),
        "no",
        "season",
        "ON-1 was cut in the nesting season without a nest check (250 g not counted)",
    ),
    Case(
        7,
        "leave to gather not on record",
        FORAGED,
        shelf(FORAGED, lots={"permission": ""}),
        "no",
        "permission",
        "ON-1 no permission is written down (250 g not counted)",
    ),
    Case(
        8,
        "freezer has a gram too little room",
        freezer(250_000),
        freezer(249_000),
        "no",
        "room",
        "ON-1 ends Mon 1 Feb; no room to freeze it, 1 g over; wanted Tue 2 Feb",
        "onion skins, keeps_fresh_fridge_days = 5 (studio's own)",
    ),
)
