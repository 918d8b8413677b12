"""Pellitory Yard on Monday 23 November 2026, 07:30, as plain facts (an invented studio).

Every value is from the worked week that the project's design papers give (13.1 to 13.7).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

from inventory.science.facts import (
    BathFacts,
    ColdPlaceFacts,
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
from sourcing.ordering.facts import Offer, Stuff, Supplier, Tier
from sourcing.week.facts import (
    Block,
    Chore,
    DayHours,
    Dose,
    FastnessWish,
    Heat,
    Making,
    PickUpExpected,
    Recipe,
    RunFacts,
    ShadeCard,
    Step,
    Water,
    WeekFacts,
)

ZONE = ZoneInfo("Europe/London")
MONDAY = date(2026, 11, 23)


def local(day: date, hour: int = 0, minute: int = 0) -> datetime:
    return datetime.combine(day, time(hour, minute), tzinfo=ZONE)


def nov(day: int, hour: int = 0, minute: int = 0) -> datetime:
    return local(date(2026, 11, day), hour, minute)


MONDAY_0730 = nov(23, 7, 30)


def own(item: str, name: str, value: str) -> Figure:
    return Figure(item, name, Decimal(value), basis="measured here", own=True)


RULES = tuple(
    own(*row)
    for row in (
        ("wool", "scour_loss_fraction", "0.05"),
        # The worked week counts the linen as it is bought: no loss is given for it.
        ("linen", "scour_loss_fraction", "0"),
        ("wool", "metal_ceiling_percent", "2"),
        ("silk", "metal_ceiling_percent", "2"),
        ("studio", "shed_c", "8"),
        ("studio", "fill_fraction", "0.8"),
        ("studio", "ring_efficiency_fraction", "0.7"),
        ("studio", "drying_h", "48"),
        ("studio", "hold_kwh", "0.8"),
        ("studio", "hands_rate_per_h", "16"),
        ("studio", "power_price_per_kwh", "0.28"),
        ("studio", "pause_between_steps_min", "30"),
        ("studio", "pause_between_runs_min", "60"),
        ("studio", "starts_fall_on_min", "5"),
        ("studio", "hangs_on_min", "15"),
        ("studio", "night_ends_h", "9"),
        ("studio", "nights_in_bath_at_most", "3"),
        ("studio", "night_in_bath_warmest_c", "10"),
        ("studio", "strain_min", "30"),
        ("studio", "strain_per_load_min", "10"),
        ("studio", "damp_mordanted_days", "3"),
        ("studio", "two_person_l", "15"),
        ("studio", "gas_l_per_mol", "24.0"),
        ("studio", "horizon_days", "42"),
        ("studio", "dip_min", "5"),
        ("studio", "bath_water_l_per_run_step", "60"),
        ("alum", "price_per_kg", "9"),
        ("wool", "price_per_kg", "22"),
        ("avocado stones", "piece_mass_g", "42"),
        ("avocado stones", "keeps_fresh_bench_days", "3"),
        ("avocado stones", "keeps_fresh_fridge_days", "7"),
        ("avocado stones", "keeps_frozen_months", "12"),
        ("avocado stones", "put_by_min", "0"),
        ("red cabbage", "keeps_fresh_fridge_days", "5"),
        ("red cabbage", "put_by_min", "10"),
        ("nettle bath", "keeps_days", "5"),
        ("nettle bath", "keeps_at_most_c", "12"),
        # "Plant swell 0" (13.7): nothing is held back either, so that water is 6 x 60 L.
        ("any dyestuff", "held_back_l_per_kg", "0"),
        ("dyebath", "keeps_days", "7"),
        ("dyebath", "keeps_at_most_c", "10"),
        ("iron liquor", "usable_from_days", "7"),
        ("iron liquor", "least_strip_grade", "3"),
        ("iron liquor", "by_clock_days", "14"),
        ("iron liquor", "strip_valid_days", "90"),
        ("iron liquor", "strip_3_factor", "1.3"),
        ("iron liquor", "strip_5_factor", "0.8"),
        ("copper liquor", "ready_after_h", "24"),
        ("soda ash", "crystals_per_ash", "2.70"),
    )
)


def lot(code: str, dyestuff: str, grams: int, state: str, place_kind: str, since: datetime,
        **more: object) -> LotFacts:  # fmt: skip
    place = {"freezer": "freezer", "fridge": "fridge"}.get(place_kind, place_kind)
    return LotFacts(
        code=code,
        dyestuff=dyestuff,
        stays=(Stay(since, state, place, place_kind),),
        left_mg=grams * 1000,
        gathered_on=since.astimezone(ZONE).date(),
        **more,  # type: ignore[arg-type]
    )


LOTS = (
    lot("AV-0911", "avocado stones", 1900, "frozen", "freezer", local(date(2026, 9, 11), 9)),
    lot("AV-1030", "avocado stones", 1450, "frozen", "freezer", local(date(2026, 10, 30), 9)),
    lot("AV-1116", "avocado stones", 1180, "fresh", "fridge", nov(16, 17)),
    lot("AV-1109", "avocado stones", 640, "fresh", "bench", nov(9, 17)),
    lot(
        "AV-1123",
        "avocado stones",
        2436,
        "fresh",
        "fridge",
        nov(23, 17),
        arrives_at=nov(23, 17),
        source="Lantern Steps café",
    ),
    lot("ON-0801", "onion skins", 820, "dried", "dry store", local(date(2026, 8, 1), 9)),
    lot("ON-1114", "onion skins", 300, "damp", "bench", nov(14, 9), set_aside="damp"),
    lot(
        "PR-1003",
        "privet",
        560,
        "dried",
        "dry store",
        local(date(2026, 10, 3), 9),
        foraged=True,
        permission="corner house, 1 Oct 2026",
    ),
    lot(
        "NE-0620",
        "nettle",
        400,
        "dried",
        "dry store",
        local(date(2026, 6, 20), 9),
        foraged=True,
        permission="own garden",
    ),
    lot("CB-1121", "red cabbage", 1200, "fresh", "fridge", nov(21, 9)),
)


def jar(code: str, name: str, metal: str, begun: datetime | None, begun_ml: int, left_ml: int,
        **more: object) -> JarFacts:  # fmt: skip
    return JarFacts(
        code=code,
        name=name,
        metal=metal,
        vinegar_parts=Fraction(1, 3) if metal == "iron" else Fraction(1, 2),
        water_parts=Fraction(2, 3) if metal == "iron" else Fraction(1, 2),
        acid_percent=Decimal(5),
        begun_at=begun,
        begun_volume_ul=begun_ml * 1000,
        left_ul=left_ml * 1000,
        temperature_c=8,
        **more,  # type: ignore[arg-type]
    )


JARS = (
    jar("J1", "Iron 7", "iron", nov(17, 9), 3000, 3000),
    jar(
        "J2",
        "Iron 6",
        "iron",
        local(date(2026, 9, 30), 9),
        900,
        900,
        dips=(Dip(nov(2, 9), 4),),
        events=(JarEvent(nov(1, 9), "strained"),),
    ),
    jar(
        "J3",
        "Iron 3",
        "iron",
        local(date(2026, 5, 20), 9),
        1500,
        1500,
        dips=(Dip(local(date(2026, 6, 10), 9), 4),),
    ),
    jar("J4", "Copper 4", "copper", nov(22, 16), 1000, 1000),
    jar("J5", "", "", None, 700, 700, labelled=False, set_aside="no label", looks="orange"),
)
BATHS = (BathFacts("J6", "nettle bath", nov(19, 12), 8_000_000, 8),)
SUPPLIES = (
    SupplyFacts("alum", "alum", 900_000),
    SupplyFacts("soda crystals", "soda crystals", 1_500_000),
    SupplyFacts("tannin", "tannin", 250_000),
)
FIBRE = (
    FibreFacts("W-88", "wool", "yarn", 2_400_000, scoured=False),
    FibreFacts("W-90", "wool", "yarn", 600_000, True, "alum", Decimal(12), since=date(2026, 11, 3)),
    FibreFacts(
        "W-85",
        "wool",
        "yarn",
        500_000,
        True,
        "alum",
        Decimal(12),
        damp=True,
        since=date(2026, 11, 17),
    ),
    FibreFacts("L-31", "linen", "cloth", 3_000_000, scoured=False),
    FibreFacts("S-12", "silk", "yarn", 400_000, scoured=True),
    FibreFacts("T-07", "lyocell", "cloth", 900_000, scoured=True, arrives_at=nov(26, 12)),
)
VESSELS = (
    VesselFacts("P1", "pot", "stainless", 60_000, 48_000, blank_passed_on=date(2026, 11, 16)),
    VesselFacts("P2", "pot", "stainless", 40_000, 32_000, blank_passed_on=date(2026, 11, 16)),
    VesselFacts("P3", "pot", "stainless", 20_000, 16_000, iron_pot=True, iron_on=date(2026, 11, 9)),
    VesselFacts("P4", "pot", "enamel", 12_000, 9_600, chipped=True),
    VesselFacts("B1", "tub", "plastic", 80_000, 64_000),
    VesselFacts("B2", "bucket", "plastic", 30_000, 24_000),
    VesselFacts("B3", "bucket", "plastic", 30_000, 24_000),
)
RINGS = (RingFacts("R1", 3500), RingFacts("R2", 3000, not_for=("P1",)))
SHELF = Shelf(
    LOTS,
    SUPPLIES,
    JARS,
    BATHS,
    FIBRE,
    VESSELS,
    RINGS,
    (LineFacts("line", 3_000_000),),
    (ColdPlaceFacts("freezer", "freezer", 6_000_000), ColdPlaceFacts("fridge", "fridge", None)),
)

RINSE = Step("rinse", "rinse", hands_min=30, hands_per="kg")
RINSE_AT_ONCE = replace(RINSE, at_once=True)

BLUSH = Recipe(
    "blush",
    "Blush",
    ("wool",),
    Decimal(30),
    bright=True,
    mordant="alum",
    mordant_percent=Decimal(12),
    steps=(
        Step("scour", "scour", ("pot",), heats=(Heat(55, 60),), hands_min=30),
        Step("hot alum", "mordant", ("pot",), heats=(Heat(82, 60),), night=True, hands_min=30),
        Step(
            "extract",
            "extract",
            ("pot",),
            l_per_kg=Decimal(20),
            heats=(Heat(80, 60),),
            hands_min=40,
            hands_per="dye load",
            strain=True,
            strained_c=70,
            one_lot=True,
        ),
        Step("dye", "dye", ("pot",), heats=(Heat(80, 60),), night=True, hands_min=45),
        RINSE,
    ),
    doses=(
        Dose("alum", "supply", "hot alum", per_fibre=Fraction(12, 100)),
        Dose("avocado stones", "dyestuff", "extract", per_fibre=Fraction(150, 100)),
    ),
)
OLD_ROSE = Recipe(
    "old-rose",
    "Old Rose",
    ("linen",),
    Decimal(40),
    bright=True,
    mordant="alum",
    mordant_percent=Decimal(15),
    steps=(
        Step("scour", "scour", ("pot",), heats=(Heat(95, 120),), hands_min=30),
        Step("hot alum", "mordant", ("pot",), heats=(Heat(82, 60),), night=True, hands_min=30),
        Step(
            "extract",
            "extract",
            ("pot",),
            l_per_kg=Decimal(80) / 3,
            heats=(Heat(80, 60),),
            hands_min=40,
            hands_per="dye load",
            strain=True,
            strained_c=70,
            one_lot=True,
        ),
        Step("dye", "dye", ("pot",), heats=(Heat(80, 60),), night=True, hands_min=45),
        RINSE,
    ),
    doses=(
        Dose("soda ash", "supply", "scour", per_fibre=Fraction(10, 100)),
        Dose("alum", "supply", "hot alum", per_fibre=Fraction(15, 100)),
        Dose("avocado stones", "dyestuff", "extract", per_fibre=Fraction(2)),
    ),
)
OLIVE = Recipe(
    "hedge-olive",
    "Hedge Olive",
    ("wool",),
    Decimal(30),
    bright=True,
    mordant="alum",
    mordant_percent=Decimal(12),
    steps=(
        Step(
            "soak",
            "soak",
            ("bucket", "tub"),
            stand_min=720,
            stand_max=2880,
            hands_min=10,
            from_time=time(14),
        ),
        Step(
            "extract",
            "extract",
            ("pot",),
            heats=(Heat(90, 60),),
            hands_min=40,
            hands_per="dye load",
            strain=True,
        ),
        Step("dye", "dye", ("same",), heats=(Heat(82, 60, 50),), night=True, hands_min=45),
        Step("copper", "after-bath", ("same",), stand_min=90, hands_min=30, metal="copper"),
        RINSE_AT_ONCE,
    ),
    doses=(
        Dose("privet", "dyestuff", "soak", per_fibre=Fraction(80, 100), state="dried"),
        Dose("copper", "liquor", "copper", ml_per_100g=Decimal(35)),
    ),
)
SLATE = Recipe(
    "slate",
    "Slate",
    ("silk",),
    Decimal(30),
    bright=False,
    mordant="alum",
    mordant_percent=Decimal(12),
    steps=(
        Step("cold alum", "mordant", ("bucket", "tub"), stand_min=1440, hands_min=30),
        Step(
            "dye",
            "dye",
            ("iron pot",),
            heats=(Heat(80, 60), Heat(80, 45, 70)),
            cool_min=180,
            hands_min=85,
        ),
        Step(
            "iron",
            "after-bath",
            ("same",),
            stand_min=90,
            hands_min=30,
            at_once=True,
            metal="iron",
        ),
        RINSE_AT_ONCE,
    ),
    doses=(
        Dose("alum", "supply", "cold alum", per_fibre=Fraction(12, 100)),
        Dose("onion skins", "dyestuff", "dye", per_fibre=Fraction(1, 2)),
        Dose("iron", "liquor", "iron", ml_per_100g=Decimal(50)),
    ),
)
OAK_GREY = Recipe(
    "oak-grey",
    "Oak Grey",
    ("lyocell",),
    Decimal(40),
    bright=False,
    steps=(
        Step("tannin", "tannin", ("bucket", "tub"), stand_min=720, stand_max=1440, hands_min=30),
        Step("iron", "after-bath", ("iron pot",), stand_min=90, hands_min=30, metal="iron"),
        RINSE_AT_ONCE,
    ),
    doses=(
        Dose("tannin", "supply", "tannin", per_fibre=Fraction(10, 100)),
        Dose("iron", "liquor", "iron", ml_per_100g=Decimal(50)),
    ),
)
GROUP = Recipe(
    "group-nettle-cabbage",
    "Group day: nettle and cabbage",
    ("wool",),
    Decimal(30),
    bright=True,
    fugitive=True,
    steps=(Step("group day", "dye"),),
    doses=(
        Dose("nettle bath", "bath", "group day", l_per_kg=Decimal(30)),
        Dose("red cabbage", "dyestuff", "group day", per_fibre=Fraction(2)),
    ),
)
NETTLE_BATH = Making("nettle bath", "nettle", "dried", Decimal(50), (Heat(95, 25),), 40)

APPROVED = ShadeCard(approved=True)
RUNS = (
    RunFacts("A", "Blush", "blush", "wool", 2_000_000, "W-88", local(date(2026, 11, 30), 9),
             shade_card=APPROVED),
    RunFacts(
        "B", "Old Rose", "old-rose", "linen", 3_000_000, "L-31", shade_card=APPROVED,
        wishes=(FastnessWish("light", Decimal(4), Decimal(3), date(2026, 11, 2), 28),),
    ),
    RunFacts("C", "Hedge Olive", "hedge-olive", "wool", 600_000, "W-90",
             local(date(2026, 12, 1), 18), jar="J4", shade_card=APPROVED),
    RunFacts("D", "Slate", "slate", "silk", 400_000, "S-12", local(date(2026, 12, 4), 18),
             jar="J2", shade_card=APPROVED),
    RunFacts("E", "Oak Grey", "oak-grey", "lyocell", 900_000, "T-07",
             local(date(2026, 12, 4), 18), jar="J1", shade_card=APPROVED),
    RunFacts("F", "Group day: nettle and cabbage", "group-nettle-cabbage", "wool", 240_000,
             "W-85", nov(28, 10), client=False, group_block="group", people=12),
    RunFacts("G", "Blush", "blush", "wool", 4_000_000, "", local(date(2026, 12, 18), 18),
             shade_card=APPROVED, fibre_needed_by=date(2026, 12, 7)),
)  # fmt: skip


def hours_from(first: date, days: int) -> tuple[DayHours, ...]:
    """The weekly pattern: dyer and assistant pooled, 09:00 to 18:00, Saturday 10:00 to 14:00."""
    minutes = {0: (360, 1), 1: (600, 2), 3: (600, 2), 4: (360, 1), 5: (240, 1)}
    rows = []
    for day in (first + timedelta(n) for n in range(days)):
        if day.weekday() not in minutes:
            continue
        hands, people = minutes[day.weekday()]
        opens, closes = (10, 14) if day.weekday() == 5 else (9, 18)
        rows.append(DayHours(day, local(day, opens), local(day, closes), hands, people))
    return tuple(rows)


def pick_ups() -> tuple[PickUpExpected, ...]:
    cafe = [
        PickUpExpected(
            "Lantern Steps café",
            "avocado stones",
            local(day, 17),
            2_100_000,
            0,
            piece_mg=42_000,
            hands_min=45,
            confirmed_mg=2_436_000 if day == MONDAY else None,
        )
        for day in (MONDAY + timedelta(n) for n in range(43))
        if day.weekday() in (0, 3)
    ]
    return tuple(cafe)


WOOL_YARN, SCOUR_LOSS = Stuff("wool", "yarn"), Fraction(5, 100)
SUPPLIERS = (Supplier("far mill", 12, "GB", "ENG"), Supplier("near shop", 5, "GB", "ENG"))
OFFERS = (
    Offer("far mill", WOOL_YARN, 1_000_000, (Tier(0, 2_200),), 5_000_000, SCOUR_LOSS),
    Offer("near shop", WOOL_YARN, 1_000_000, (Tier(0, 2_800),), scour_loss=SCOUR_LOSS),
)
FACTS = WeekFacts(
    studio="Pellitory Yard",
    currency="GBP",
    suppliers=SUPPLIERS,
    offers=OFFERS,
    zone=ZONE,
    at=MONDAY_0730,
    shelf=SHELF,
    figures=Figures(RULES),
    recipes=(BLUSH, OLD_ROSE, OLIVE, SLATE, OAK_GREY, GROUP),
    makings=(NETTLE_BATH,),
    runs=RUNS,
    hours=hours_from(MONDAY, 43),
    blocks=(
        Block("group", "group day", nov(28, 10), nov(28, 14), ("R1", "R2"), hands_min=240,
              group=True),
    ),
    chores=(
        Chore(MONDAY, "check W-85 for mould, re-scour", 30, clears="W-85"),
        Chore(date(2026, 11, 27), "group prep", 30),
    ),
    pick_ups=pick_ups(),
    waters=(Water("town water", Decimal("7.4"), 8),),
    fugitive=frozenset({"red cabbage"}),
)  # fmt: skip
