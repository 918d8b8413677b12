"""Small Loft on Monday 1 February 2027, 07:30: one pot, one ring, one line, one run that is "yes".

An invented studio, made so that one changed fact is enough to turn its answer. Its run by hand:
15 L of water at 8 °C in the iron pot on 3 kW at 0.7: 23 min to 55 °C, 37 to 82, 36 to 80.
Mon: wet out 09:00 to 10:00, scour to 11:23, alum 11:55 to 13:32, then the night.
Tue: dye 09:00 to 10:36, cools 3 h, iron 13:36 to 15:06, rinse to 15:21, hung 15:30, dry Thu 15:30.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

from inventory.science.facts import (
    Dip,
    FibreFacts,
    JarEvent,
    JarFacts,
    LineFacts,
    LotFacts,
    RingFacts,
    Shelf,
    Stay,
    SupplyFacts,
    VesselFacts,
)
from inventory.science.figures import Figure, Figures
from sourcing.week.facts import (
    DayHours,
    Dose,
    Heat,
    Recipe,
    RunFacts,
    ShadeCard,
    Step,
    Water,
    WeekFacts,
)

ZONE = ZoneInfo("Europe/London")
MONDAY = date(2027, 2, 1)


def feb(day: int, hour: int = 0, minute: int = 0) -> datetime:
    return datetime.combine(date(2027, 2, day), time(hour, minute), tzinfo=ZONE)


def own(item: str, name: str, value: str) -> Figure:
    return Figure(item, name, Decimal(value), basis="measured here", own=True)


RULES = tuple(
    own(*row)
    for row in (
        ("studio", "shed_c", "8"),
        ("studio", "ring_efficiency_fraction", "0.7"),
        ("studio", "drying_h", "48"),
        ("studio", "pause_between_steps_min", "30"),
        ("studio", "pause_between_runs_min", "60"),
        ("studio", "starts_fall_on_min", "5"),
        ("studio", "hangs_on_min", "15"),
        ("studio", "night_ends_h", "9"),
        ("studio", "nights_in_bath_at_most", "3"),
        ("studio", "damp_mordanted_days", "3"),
        ("studio", "horizon_days", "14"),
        ("wool", "scour_loss_fraction", "0.05"),
        ("wool", "metal_ceiling_percent", "2"),
        ("onion skins", "keeps_dried_months", "12"),
        ("nettle bath", "keeps_days", "5"),
        ("nettle bath", "keeps_at_most_c", "12"),
        ("dyebath", "keeps_days", "7"),
        ("dyebath", "keeps_at_most_c", "10"),
        ("iron liquor", "usable_from_days", "7"),
        ("iron liquor", "least_strip_grade", "3"),
        ("iron liquor", "by_clock_days", "14"),
        ("iron liquor", "strip_valid_days", "90"),
    )
)

SKINS = LotFacts(
    "ON-1",
    "onion skins",
    (Stay(datetime(2026, 9, 1, 9, tzinfo=ZONE), "dried", "dry store", "dry store"),),
    250_000,
    gathered_on=date(2026, 9, 1),
)
IRON = JarFacts(
    "J1",
    "Iron 1",
    "iron",
    Fraction(1, 3),
    Fraction(2, 3),
    Decimal(5),
    datetime(2026, 10, 1, 9, tzinfo=ZONE),
    500_000,
    250_000,
    8,
    dips=(Dip(datetime(2027, 1, 2, 9, tzinfo=ZONE), 4),),
    events=(JarEvent(datetime(2027, 1, 1, 9, tzinfo=ZONE), "strained"),),
)
WOOL = FibreFacts("W-1", "wool", "yarn", 526_316, scoured=False)
POT = VesselFacts("P1", "pot", "stainless", 18_750, 15_000, iron_pot=True)
BUCKET = VesselFacts("B1", "bucket", "plastic", 18_750, 15_000)
SHELF = Shelf(
    lots=(SKINS,),
    supplies=(SupplyFacts("alum", "alum", 60_000),),
    jars=(IRON,),
    fibre=(WOOL,),
    vessels=(POT, BUCKET),
    rings=(RingFacts("R1", 3000),),
    lines=(LineFacts("line", 500_000),),
)

DUSK = Recipe(
    "dusk",
    "Dusk",
    ("wool",),
    Decimal(30),
    bright=False,
    mordant="alum",
    mordant_percent=Decimal(12),
    steps=(
        Step("wet out", "wet out", ("bucket",), stand_min=60, hands_min=5),
        Step("scour", "scour", ("iron pot",), heats=(Heat(55, 60),), hands_min=30),
        Step("hot alum", "mordant", ("iron pot",), heats=(Heat(82, 60),), night=True, hands_min=30),
        Step("dye", "dye", ("iron pot",), heats=(Heat(80, 60),), cool_min=180, hands_min=45),
        Step("iron", "after-bath", ("same",), stand_min=90, hands_min=30, at_once=True,
             metal="iron"),
        Step("rinse", "rinse", hands_min=30, hands_per="kg", at_once=True),
    ),
    doses=(
        Dose("alum", "supply", "hot alum", per_fibre=Fraction(12, 100)),
        Dose("onion skins", "dyestuff", "dye", per_fibre=Fraction(1, 2), state="dried"),
        Dose("iron", "liquor", "iron", ml_per_100g=Decimal(50)),
    ),
)  # fmt: skip
RUN = RunFacts(
    "K", "Dusk", "dusk", "wool", 500_000, "W-1", feb(5, 12), shade_card=ShadeCard(approved=True)
)

LITTLE = WeekFacts(
    studio="Small Loft",
    zone=ZONE,
    at=feb(1, 7, 30),
    shelf=SHELF,
    figures=Figures(RULES),
    recipes=(DUSK,),
    runs=(RUN,),
    hours=tuple(
        DayHours(day, datetime.combine(day, time(9), tzinfo=ZONE),
                 datetime.combine(day, time(17), tzinfo=ZONE), 90)
        for day in (MONDAY + timedelta(n) for n in range(14))
    ),
    waters=(Water("town water", Decimal("7.4"), 8),),
)  # fmt: skip


def shelf(facts: WeekFacts = LITTLE, **fields: object) -> WeekFacts:
    """The studio with one row of its shelf altered: `shelf(jars={"left_ul": 0})`."""
    new: dict[str, object] = {}
    for name, change in fields.items():
        (first, *rest) = getattr(facts.shelf, name)
        new[name] = (replace(first, **change), *rest)  # type: ignore[arg-type]
    return replace(facts, shelf=replace(facts.shelf, **new))  # type: ignore[arg-type]


def recipe(facts: WeekFacts = LITTLE, **fields: object) -> WeekFacts:
    """The studio with its recipe altered."""
    return replace(facts, recipes=(replace(facts.recipes[0], **fields),))  # type: ignore[arg-type]


def step(name: str, facts: WeekFacts = LITTLE, **fields: object) -> WeekFacts:
    """The studio with one step of its recipe altered."""
    rows = facts.recipes[0].steps
    assert any(row.name == name for row in rows), name
    return recipe(facts, steps=tuple(
        replace(row, **fields) if row.name == name else row for row in rows))  # type: ignore[arg-type]  # fmt: skip


def dose(what: str, facts: WeekFacts = LITTLE, **fields: object) -> WeekFacts:
    """The studio with one dose of its recipe altered."""
    rows = facts.recipes[0].doses
    assert any(row.what == what for row in rows), what
    return recipe(facts, doses=tuple(
        replace(row, **fields) if row.what == what else row for row in rows))  # type: ignore[arg-type]  # fmt: skip


def run(facts: WeekFacts = LITTLE, **fields: object) -> WeekFacts:
    """The studio with its wanted run altered."""
    return replace(facts, runs=(replace(facts.runs[0], **fields),))  # type: ignore[arg-type]


def hours(day: int, facts: WeekFacts = LITTLE, **fields: object) -> WeekFacts:
    """The studio with other hours on one day of February."""
    return replace(facts, hours=tuple(
        replace(row, **fields) if row.day == date(2027, 2, day) else row  # type: ignore[arg-type]
        for row in facts.hours))  # fmt: skip
