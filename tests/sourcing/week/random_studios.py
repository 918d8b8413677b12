"""Studios made up by chance, each from a number: believable yards with a week's wishes.

The same number gives the same studio on every machine. Names are invented.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from fractions import Fraction
from random import Random

from inventory.science.facts import (
    BathFacts,
    ColdPlaceFacts,
    Dip,
    FibreFacts,
    JarFacts,
    LineFacts,
    LotFacts,
    RingFacts,
    Shelf,
    Stay,
    SupplyFacts,
    VesselFacts,
)
from sourcing.week.facts import (
    Block,
    Chore,
    DayHours,
    Hanging,
    Heat,
    Making,
    PickUpExpected,
    Recipe,
    RunFacts,
    ShadeCard,
    Water,
    Weather,
    WeekFacts,
)
from tests.sourcing.week.random_recipes import DYESTUFFS, group_recipe, recipe_of
from tests.sourcing.week.random_yard import Yard, figures_of

KEPT = (("fresh", "bench"), ("fresh", "fridge"), ("frozen", "freezer"), ("dried", "dry store"))
DAYS = 43  # of the calendar that is made up


def with_group(facts: WeekFacts, number: int) -> WeekFacts:
    """A studio with a group that dyes on its first block, if it has any."""
    if not facts.blocks:
        return facts
    recipe, block = group_recipe(), facts.blocks[0]
    run = RunFacts(
        "Z-group", recipe.shade, recipe.code, "wool", 240_000, due=block.since, client=False,
        group_block=block.code, people=12,
    )  # fmt: skip
    grams = Random(number).choice((200, 500))
    wool = FibreFacts("W-group", "wool", "yarn", grams * 1000, scoured=True)
    shelf = replace(facts.shelf, fibre=(*facts.shelf.fibre, wool))
    return replace(facts, shelf=shelf, recipes=(*facts.recipes, recipe), runs=(*facts.runs, run))


def studio(number: int) -> WeekFacts:
    """The studio that belongs to a number."""
    yard = Yard(number)
    recipes = tuple(recipe_of(yard, n) for n in range(yard.dice.randint(1, 5)))
    vessels, rings, lines = _vessels(yard), _rings(yard), _lines(yard)
    rings = tuple(_not_for(yard, ring, vessels) for ring in rings)
    runs = tuple(_run(yard, n, recipes) for n in range(yard.dice.randint(1, 12)))
    fibre = _fibre(yard, runs, recipes)
    shelf = Shelf(
        _lots(yard),
        _supplies(yard),
        _jars(yard),
        _baths(yard),
        fibre,
        vessels,
        rings,
        lines,
        (
            ColdPlaceFacts("freezer", "freezer", yard.dice.choice((None, 2_000_000, 6_000_000))),
            ColdPlaceFacts("fridge", "fridge", None),
        ),
    )
    return WeekFacts(
        studio=f"Studio {number}",
        zone=yard.zone,
        at=yard.at,
        shelf=shelf,
        figures=figures_of(yard),
        recipes=recipes,
        makings=(
            Making("nettle bath", "nettle", "dried", Decimal(50), (Heat(95, 25),), 40),
        ),
        runs=runs,
        hours=_hours(yard),
        blocks=_blocks(yard, vessels, rings),
        chores=_chores(yard),
        pick_ups=_pick_ups(yard),
        waters=tuple(
            Water(f"water {site}".strip(), Decimal("7.4"), yard.dice.randint(5, 16), site)
            for site in yard.sites
        ),
        hanging=_hanging(yard, lines),
        weather=_weather(yard),
        sites=yard.sites,
        fugitive=frozenset({"red cabbage"}) if yard.chance(0.5) else frozenset(),
    )  # fmt: skip


# -- runs and fibre --------------------------------------------------------------------------


def _run(yard: Yard, number: int, recipes: tuple[Recipe, ...]) -> RunFacts:
    dice = yard.dice
    recipe = dice.choice(recipes)
    due = None
    if yard.chance(0.8):
        due = yard.moment(dice.randint(2, 24), dice.choice((9, 12, 18)))
    return RunFacts(
        f"R{number:02}",
        recipe.shade,
        recipe.code,
        dice.choice(recipe.fibres),
        dice.choice((150, 200, 333, 400, 500, 600, 900, 1000, 1250, 2000, 3000)) * 1000,
        due=due,
        jar=dice.choice(("", "J1", "J2", "J4")),
        client=yard.chance(0.7),
        shade_card=ShadeCard(approved=yard.chance(0.95)),
    )


def _fibre(
    yard: Yard, runs: tuple[RunFacts, ...], recipes: tuple[Recipe, ...]
) -> tuple[FibreFacts, ...]:
    lots = []
    for number, name in enumerate(sorted({run.fibre for run in runs})):
        wanted = sum(run.weight_mg for run in runs if run.fibre == name)
        for part in range(yard.dice.randint(1, 3)):
            lots.append(_fibre_lot(yard, f"{name[0].upper()}-{number}{part}", name, wanted))
    return tuple(lots)


def _fibre_lot(yard: Yard, code: str, name: str, wanted_mg: int) -> FibreFacts:
    mordanted = yard.chance(0.3)
    return FibreFacts(
        code,
        name,
        "yarn",
        int(wanted_mg * yard.dice.choice((0.4, 0.8, 1.5, 3))),
        scoured=mordanted or yard.chance(0.75),
        mordant="alum" if mordanted else "",
        mordant_percent=Decimal(12) if mordanted else Decimal(0),
        damp=mordanted and yard.chance(0.3),
        since=yard.first - timedelta(yard.dice.randint(0, 4)),
        set_aside="torn" if yard.chance(0.05) else "",
        arrives_at=yard.moment(yard.dice.randint(0, 5), 12) if yard.chance(0.15) else None,
        iron_percent=Decimal("0.5") if yard.chance(0.05) else Decimal(0),
        site=yard.site() if yard.chance(0.3) else "",
    )


# -- shelves ---------------------------------------------------------------------------------


def _lots(yard: Yard) -> tuple[LotFacts, ...]:
    lots = []
    for name in (*DYESTUFFS, "nettle"):
        for number in range(yard.dice.randint(1, 4)):
            lots.append(_lot(yard, name, number))
    return tuple(lots)


def _lot(yard: Yard, name: str, number: int) -> LotFacts:
    dice = yard.dice
    state, kind = dice.choice(
        (("dried", "dry store"),)
        if name in ("nettle", "privet") and yard.chance(0.8)
        else (
            ("fresh", "bench"),
            ("fresh", "fridge"),
            ("frozen", "freezer"),
            ("dried", "dry store"),
        )
    )
    arrives = yard.moment(dice.randint(0, 4), 17) if yard.chance(0.15) else None
    since = arrives or yard.moment(-dice.randint(0, 6), 9)
    return LotFacts(
        f"{name[:2].upper()}-{number}",
        name,
        (Stay(since, state, kind, kind),),
        dice.choice((250, 640, 1180, 2000, 4000, 8000)) * 1000,
        set_aside="damp" if yard.chance(0.05) else "",
        labelled=yard.chance(0.97),
        gathered_on=since.date(),
        foraged=name in ("nettle", "privet"),
        permission="own garden" if yard.chance(0.9) else "",
        arrives_at=arrives,
        site=yard.site() if yard.chance(0.3) else "",
    )


def _supplies(yard: Yard) -> tuple[SupplyFacts, ...]:
    return (
        SupplyFacts("alum", "alum", yard.dice.choice((600, 2000, 5000)) * 1000),
        SupplyFacts("tannin", "tannin", yard.dice.choice((200, 800)) * 1000),
    )


def _jars(yard: Yard) -> tuple[JarFacts, ...]:
    jars = []
    for number, metal in enumerate(("iron", "iron", "iron", "copper", "copper"), start=1):
        if yard.chance(0.2):
            continue
        age = yard.dice.choice((1, 5, 6, 12, 20, 60))
        dips = ()
        if metal == "iron" and age >= 7 and yard.chance(0.6):
            dips = (Dip(yard.moment(-yard.dice.randint(1, age - 6), 9), yard.dice.randint(2, 5)),)
        jars.append(
            JarFacts(
                f"J{number}",
                f"{metal.title()} {number}",
                metal,
                Fraction(1, 3) if metal == "iron" else Fraction(1, 2),
                Fraction(2, 3) if metal == "iron" else Fraction(1, 2),
                Decimal(5),
                yard.moment(-age, 9),
                3_000_000,
                yard.dice.choice((300, 900, 2500)) * 1000,
                temperature_c=yard.dice.choice((8, 14)),
                dips=dips,
            )
        )
    return tuple(jars)


def _baths(yard: Yard) -> tuple[BathFacts, ...]:
    if yard.chance(0.4):
        return ()
    made = yard.moment(-yard.dice.randint(0, 5), 12)
    litres = yard.dice.choice((4, 12, 40))
    return (BathFacts("B-nettle", "nettle bath", made, litres * 1_000_000, 8),)


# -- room ------------------------------------------------------------------------------------


def _vessels(yard: Yard) -> tuple[VesselFacts, ...]:
    pots = [_pot(yard, number) for number in range(1, yard.dice.randint(2, 9))]
    tubs = [
        VesselFacts(f"B{n}", yard.dice.choice(("bucket", "tub")), "plastic", brim, brim * 4 // 5,
                    site=yard.site())
        for n, brim in enumerate(yard.dice.choices((30_000, 30_000, 80_000), k=3), start=1)
    ]  # fmt: skip
    return (*pots, *tubs)


def _pot(yard: Yard, number: int) -> VesselFacts:
    dice = yard.dice
    brim = dice.choice((12_000, 20_000, 30_000, 40_000, 60_000, 100_000))
    iron = number == 2 or (number > 2 and yard.chance(0.25))
    iron_on = yard.first - timedelta(14) if iron or (number > 1 and yard.chance(0.1)) else None
    proved = yard.first - timedelta(dice.choice((7, 20))) if not iron else None
    return VesselFacts(
        f"P{number}",
        "pot",
        "aluminium" if number > 2 and yard.chance(0.15) else dice.choice(("stainless", "enamel")),
        brim,
        brim * 4 // 5,
        iron_pot=iron,
        chipped=number > 1 and yard.chance(0.08),
        food=number > 2 and yard.chance(0.05),
        iron_on=iron_on,
        blank_passed_on=proved,
        site=yard.site(),
    )


def _rings(yard: Yard) -> tuple[RingFacts, ...]:
    return tuple(
        RingFacts(f"R{n}", yard.dice.choice((2000, 3000, 3500, 6000)), site=yard.site())
        for n in range(1, yard.dice.randint(1, 4) + 1)
    )


def _not_for(yard: Yard, ring: RingFacts, vessels: tuple[VesselFacts, ...]) -> RingFacts:
    barred = tuple(v.code for v in vessels if v.kind == "pot" and yard.chance(0.15))
    return RingFacts(ring.code, ring.watts, barred, ring.site)


def _lines(yard: Yard) -> tuple[LineFacts, ...]:
    return tuple(
        LineFacts(
            f"line {n}",
            yard.dice.choice((1, 2, 3, 5)) * 1_000_000,
            outdoors=yard.chance(0.25),
            site=yard.sites[(n - 1) % len(yard.sites)],
        )
        for n in range(1, yard.dice.randint(len(yard.sites), 2) + 1)
    )


# -- calendar --------------------------------------------------------------------------------


def _hours(yard: Yard) -> tuple[DayHours, ...]:
    dice = yard.dice
    pattern = {
        weekday: (dice.choice((8, 9, 10)), dice.choice((14, 17, 18)), dice.choice((240, 360, 600)))
        for weekday in range(7)
        if yard.chance(0.75)
    } or {0: (9, 18, 360)}
    two_shifts = yard.chance(0.15)
    rows = []
    for day in range(DAYS):
        weekday = (yard.first + timedelta(day)).weekday()
        if weekday not in pattern or yard.chance(0.05):
            continue
        opens, closes, hands = pattern[weekday]
        for site in yard.sites:
            rows.extend(_shifts(yard, day, opens, closes, hands, site, two=two_shifts))
    return tuple(rows)


def _shifts(
    yard: Yard, day: int, opens: int, closes: int, hands: int, site: str, *, two: bool
) -> list[DayHours]:
    on = yard.first + timedelta(day)
    if not two:
        return [DayHours(on, yard.moment(day, opens), yard.moment(day, closes), hands, 1, site)]
    return [
        DayHours(on, yard.moment(day, opens), yard.moment(day, 12), hands // 2, 1, site),
        DayHours(on, yard.moment(day, 13), yard.moment(day, closes), hands // 2, 1, site),
    ]


def _blocks(
    yard: Yard, vessels: tuple[VesselFacts, ...], rings: tuple[RingFacts, ...]
) -> tuple[Block, ...]:
    blocks = []
    for number in range(yard.dice.choice((0, 0, 1, 2))):
        day = yard.dice.randint(0, 9)
        blocks.append(
            Block(
                f"block-{number}",
                "group day",
                yard.moment(day, 10),
                yard.moment(day, 14),
                tuple(ring.code for ring in rings if yard.chance(0.6)),
                tuple(vessel.code for vessel in vessels if yard.chance(0.2)),
                line_mg=yard.dice.choice((0, 0, 500_000)),
                hands_min=yard.dice.choice((0, 120)),
                no_iron=yard.chance(0.5),
                group=True,
            )
        )
    return tuple(blocks)


def _chores(yard: Yard) -> tuple[Chore, ...]:
    return tuple(
        Chore(yard.first + timedelta(yard.dice.randint(0, 9)), "sweep the yard", 30)
        for _ in range(yard.dice.randint(0, 3))
    )


def _pick_ups(yard: Yard) -> tuple[PickUpExpected, ...]:
    return tuple(
        PickUpExpected("a café", "avocado stones", yard.moment(day, 17), 2_100_000, 0, hands_min=45)
        for day in range(0, DAYS, yard.dice.choice((3, 5)))
    )


def _hanging(yard: Yard, lines: tuple[LineFacts, ...]) -> tuple[Hanging, ...]:
    if yard.chance(0.5):
        return ()
    return (
        Hanging(lines[0].code, yard.moment(-1, 12), yard.moment(1, 12), 600_000, "a throw"),
    )  # fmt: skip


def _weather(yard: Yard) -> tuple[Weather, ...]:
    return tuple(
        Weather(yard.first + timedelta(day), frost=yard.chance(0.3), aired=yard.chance(0.7))
        for day in range(10)
        if yard.chance(0.2)
    )
