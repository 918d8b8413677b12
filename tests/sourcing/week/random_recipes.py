"""Recipes made up by chance, of a few shapes that dyers use: steps, nights, soaks, rounds."""

from __future__ import annotations

from datetime import time
from decimal import Decimal
from fractions import Fraction

from sourcing.week.facts import Dose, Heat, Recipe, Step
from tests.sourcing.week.random_yard import Yard

FIBRES = ("wool", "silk", "linen", "cotton", "lyocell")
DYESTUFFS = ("avocado stones", "onion skins", "privet", "red cabbage")


def recipe_of(yard: Yard, number: int) -> Recipe:
    """A recipe of one of the family of shapes, with figures of its own."""
    make = yard.dice.choice(
        (_blush, _olive, _slate, _oak_grey, _plain, _hot_soak, _decocted, _rounds)
    )
    return make(yard, f"recipe-{number}")


def _minutes(yard: Yard, *choices: int) -> int:
    return yard.dice.choice(choices)


def _rinse(*, at_once: bool) -> Step:
    return Step("rinse", "rinse", hands_min=30, hands_per="kg", at_once=at_once)


def _ratio(yard: Yard) -> Decimal:
    return Decimal(yard.dice.choice((20, 30, 40)))


def _dyestuff(yard: Yard, step: str, *, state: str = "") -> Dose:
    per_fibre = Fraction(yard.dice.choice((30, 50, 80, 100)), 100)
    return Dose(yard.dice.choice(DYESTUFFS), "dyestuff", step, per_fibre=per_fibre, state=state)


def _alum(yard: Yard, step: str) -> Dose:
    return Dose("alum", "supply", step, per_fibre=Fraction(yard.dice.randint(8, 15), 100))


def _blush(yard: Yard, code: str) -> Recipe:
    """Scour, hot alum overnight, one extract strained into the pots, dye overnight."""
    ratio = _ratio(yard)
    return Recipe(
        code,
        "Blush",
        ("wool", "linen", "cotton"),
        ratio,
        bright=True,
        mordant="alum",
        mordant_percent=Decimal(12),
        match=yard.dice.choice(("blend", "blend", "lot")),
        steps=(
            Step("scour", "scour", ("pot",), heats=(Heat(55, _minutes(yard, 30, 60)),),
                 hands_min=30),
            Step("hot alum", "mordant", ("pot",), heats=(Heat(82, 60),), night=True,
                 hands_min=30),
            Step("extract", "extract", ("pot",), l_per_kg=ratio * 2 / 3, heats=(Heat(80, 60),),
                 hands_min=40, hands_per="dye load", strain=True, strained_c=70, one_lot=True),
            Step("dye", "dye", ("pot",), heats=(Heat(80, _minutes(yard, 45, 60)),), night=True,
                 hands_min=45),
            _rinse(at_once=False),
        ),
        doses=(_alum(yard, "hot alum"), _dyestuff(yard, "extract")),
    )  # fmt: skip


def _olive(yard: Yard, code: str) -> Recipe:
    """A soak that may not stand too long, an extract, a dye overnight and copper in its bath."""
    return Recipe(
        code,
        "Olive",
        ("wool", "silk"),
        _ratio(yard),
        bright=yard.chance(0.7),
        steps=(
            Step("soak", "soak", ("bucket", "tub"), stand_min=720, stand_max=2880, hands_min=10,
                 from_time=time(14) if yard.chance(0.7) else None),
            Step("extract", "extract", ("pot",), heats=(Heat(90, 60),), hands_min=40,
                 hands_per="dye load", strain=True),
            Step("dye", "dye", ("same",), heats=(Heat(82, 60, 50),), night=True, hands_min=45),
            Step("copper", "after-bath", ("same",), stand_min=90, hands_min=30, metal="copper"),
            _rinse(at_once=True),
        ),
        doses=(
            Dose("privet", "dyestuff", "soak", per_fibre=Fraction(60, 100), state="dried"),
            Dose("copper", "liquor", "copper", ml_per_100g=Decimal(30)),
        ),
    )  # fmt: skip


def _slate(yard: Yard, code: str) -> Recipe:
    """A day's cold alum, two heats in the iron pot, cooling, iron at once in the same bath."""
    return Recipe(
        code,
        "Slate",
        ("silk", "wool"),
        _ratio(yard),
        bright=False,
        mordant="alum",
        mordant_percent=Decimal(10),
        steps=(
            Step("cold alum", "mordant", ("bucket", "tub"), stand_min=_minutes(yard, 720, 1440),
                 hands_min=30),
            Step("dye", "dye", ("iron pot",), heats=(Heat(80, 60), Heat(80, 45, 70)),
                 cool_min=_minutes(yard, 0, 60, 180), hands_min=85),
            Step("iron", "after-bath", ("same",), stand_min=90, hands_min=30,
                 at_once=yard.chance(0.7), metal="iron"),
            _rinse(at_once=yard.chance(0.7)),
        ),
        doses=(
            _alum(yard, "cold alum"),
            _dyestuff(yard, "dye"),
            Dose("iron", "liquor", "iron", ml_per_100g=Decimal(40)),
        ),
    )  # fmt: skip


def _oak_grey(yard: Yard, code: str) -> Recipe:
    """Tannin that may not stand too long, iron in loads one after another."""
    return Recipe(
        code,
        "Oak Grey",
        ("lyocell", "linen", "cotton"),
        _ratio(yard),
        bright=False,
        needs_scoured=False,
        steps=(
            Step("tannin", "tannin", ("bucket", "tub"), stand_min=720, stand_max=1440,
                 hands_min=30),
            Step("iron", "after-bath", ("iron pot",), stand_min=90, hands_min=30, metal="iron"),
            _rinse(at_once=True),
        ),
        doses=(
            Dose("tannin", "supply", "tannin", per_fibre=Fraction(10, 100)),
            Dose("iron", "liquor", "iron", ml_per_100g=Decimal(50)),
        ),
    )  # fmt: skip


def _plain(yard: Yard, code: str) -> Recipe:
    """One short dye on fibre as it comes, and a rinse."""
    return Recipe(
        code,
        "Straw",
        FIBRES,
        _ratio(yard),
        bright=yard.chance(0.5),
        needs_scoured=False,
        steps=(
            Step("dye", "dye", ("pot", "iron pot") if yard.chance(0.3) else ("pot",),
                 heats=(Heat(_minutes(yard, 60, 95), 45),), hands_min=45),
            _rinse(at_once=yard.chance(0.5)),
        ),
        doses=(_dyestuff(yard, "dye"),),
    )  # fmt: skip


def _hot_soak(yard: Yard, code: str) -> Recipe:
    """Wetted out in a tub, warmed in alum and left to stand there, dyed in another pot."""
    return Recipe(
        code,
        "Fawn",
        FIBRES,
        _ratio(yard),
        bright=True,
        mordant="alum",
        mordant_percent=Decimal(10),
        needs_scoured=False,
        steps=(
            Step("wet out", "wet out", ("tub", "bucket"), stand_min=60, hands_min=5),
            Step("warm alum", "mordant", ("pot",), heats=(Heat(60, 30),), stand_min=240,
                 hands_min=30),
            Step("dye", "dye", ("pot",), heats=(Heat(80, 60),), cool_min=60, hands_min=45),
            _rinse(at_once=False),
        ),
        doses=(_alum(yard, "warm alum"), _dyestuff(yard, "dye")),
    )  # fmt: skip


def _decocted(yard: Yard, code: str) -> Recipe:
    """A bath of nettle that keeps for days or is made, then a dye overnight."""
    return Recipe(
        code,
        "Moss",
        ("wool", "silk"),
        _ratio(yard),
        bright=True,
        needs_scoured=False,
        steps=(
            Step("nettle", "mordant", ("pot",), l_per_kg=Decimal(15), heats=(Heat(60, 45),),
                 hands_min=20),
            Step("dye", "dye", ("pot",), heats=(Heat(75, 60),), night=yard.chance(0.6),
                 hands_min=45),
            _rinse(at_once=False),
        ),
        doses=(
            Dose("nettle bath", "bath", "nettle", l_per_kg=Decimal(15)),
            _dyestuff(yard, "dye"),
        ),
    )  # fmt: skip


def _rounds(yard: Yard, code: str) -> Recipe:
    """A dye overnight with an after-bath in another vessel: rounds go their own way from there."""
    return Recipe(
        code,
        "Rust",
        FIBRES,
        Decimal(40),
        bright=False,
        needs_scoured=False,
        steps=(
            Step("dye", "dye", ("pot",), heats=(Heat(85, 60),), night=True, hands_min=45),
            Step("iron", "after-bath", ("iron pot", "bucket"), stand_min=30, hands_min=15,
                 metal="iron"),
            _rinse(at_once=True),
        ),
        doses=(_dyestuff(yard, "dye"), Dose("iron", "liquor", "iron", ml_per_100g=Decimal(20))),
    )  # fmt: skip


def group_recipe() -> Recipe:
    """What a group dyes on its day: a bath of nettle, red cabbage, wool as it comes."""
    return Recipe(
        "recipe-group",
        "Group day",
        ("wool",),
        Decimal(30),
        bright=True,
        needs_scoured=False,
        steps=(Step("group day", "dye"),),
        doses=(
            Dose("nettle bath", "bath", "group day", l_per_kg=Decimal(30)),
            Dose("red cabbage", "dyestuff", "group day", per_fibre=Fraction(2)),
        ),
    )
