"""Studios made up by chance with shades that are dyed in the second or third bath of another.

The same number gives the same studio on every machine.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from fractions import Fraction
from random import Random

from inventory.science.facts import BathFacts, FibreFacts
from inventory.science.figures import Figure, Figures
from sourcing.week.facts import Heat, Recipe, RunFacts, Step, WeekFacts
from sourcing.week.guidance import Floor, Guidance, Together
from tests.sourcing.week.random_studios import studio

FOLLOWERS = 3
FIBRES = ("wool", "silk", "linen", "cotton", "lyocell")


def second_bath_studio(number: int) -> WeekFacts:
    """The studio of a number with shades that follow in a bath, kept baths and cloth for them."""
    facts, dice = studio(number), Random(number + 3_000_000)
    recipes = list(facts.recipes)
    for each in range(FOLLOWERS):
        dyed = [row for row in recipes if any(step.kind == "dye" for step in row.steps)]
        if dyed:
            recipes.append(_follower(dice.choice(dyed), each, dice))
    later = tuple(recipes[len(facts.recipes) :])
    runs = tuple(_maybe_follows(run, later, dice) for run in facts.runs) if later else facts.runs
    lots = tuple(replace(lot, left_mg=lot.left_mg * 3) for lot in facts.shelf.lots)
    shelf = replace(
        facts.shelf,
        lots=lots,
        fibre=(*facts.shelf.fibre, *_fibre(dice)),
        baths=(*facts.shelf.baths, *_baths(facts, tuple(recipes), dice)),
    )
    return replace(facts, recipes=tuple(recipes), runs=runs, shelf=shelf,
                   figures=_figures(facts, dice))  # fmt: skip


def _follower(first: Recipe, number: int, dice: Random) -> Recipe:
    """Dyed in what another leaves, with a scour and a mordant of its own at times."""
    steps = [step for step in first.steps if step.kind in ("scour", "mordant")]
    if dice.random() < 0.4:
        steps = []
    names = {step.name for step in steps}
    dye = Step("pale dye", "dye", dice.choice((("pot",), ("pot",), ("pot", "iron pot"),
                                               ("iron pot",))),
               heats=(Heat(dice.choice((60, 80)), dice.choice((30, 45))),),
               night=dice.random() < 0.5, cool_min=dice.choice((0, 60)), hands_min=30)  # fmt: skip
    tail = [Step("rinse", "rinse", hands_min=30, hands_per="kg")]
    if dice.random() < 0.2:
        tail.insert(0, Step("soda", "after-bath", ("same",), stand_min=20, hands_min=10))
    return replace(
        first,
        code=f"follower-{number}",
        shade=dice.choice((f"Haze {number}", f"Haze {number}", first.shade)),
        fibres=FIBRES,
        l_per_kg=Decimal(dice.choice((20, 30, 40, 60))),
        bright=dice.random() < 0.4,
        mordant=first.mordant if steps else "",
        steps=(*steps, dye, *tail),
        doses=tuple(dose for dose in first.doses if dose.step in names),
        depth=dice.choice((1, 2, 3, 3, 4)),
        second_of=first.code,
        strength=dice.choice((None, None, *(Fraction(n, 100) for n in (15, 30, 40, 50, 70)))),
    )


def _maybe_follows(run: RunFacts, later: tuple[Recipe, ...], dice: Random) -> RunFacts:
    if dice.random() < 0.5:
        return run
    recipe = dice.choice(later)
    weight = dice.choice((50, 100, 200, 250, 333)) * 1000
    return replace(run, recipe=recipe.code, shade=recipe.shade, fibre=dice.choice(FIBRES),
                   weight_mg=weight, fibre_lot="")  # fmt: skip


def _fibre(dice: Random) -> Iterator[FibreFacts]:
    for name in FIBRES:
        yield FibreFacts(f"{name[:2].upper()}-pale", name, "yarn", 4_000_000,
                         scoured=dice.random() < 0.8)  # fmt: skip


def _baths(facts: WeekFacts, recipes: tuple[Recipe, ...], dice: Random) -> Iterator[BathFacts]:
    """Dyebaths of some shades, fresh or nearly past, warm or cold, one with iron at times."""
    for number, recipe in enumerate(recipes):
        if dice.random() < 0.3:
            made = facts.at - timedelta(days=dice.choice((0, 1, 3, 6, 8)), hours=5)
            yield BathFacts(
                f"DB-{number}", "dyebath", made, dice.choice((3, 8, 20, 40)) * 1_000_000,
                dice.choice((5.0, 9.0, 18.0)), dice.choice((0, 1, 1, 1, 2)), recipe.shade,
                dice.choice((0, 2, 3, 4)), dice.choice(("", "", "", "", "iron", "copper")),
                set_aside=dice.choice(("", "", "", "", "furry")),
            )  # fmt: skip


def _figures(facts: WeekFacts, dice: Random) -> Figures:
    """Now and then the studio's own counts of baths, so that third baths are dyed as well."""
    if dice.random() < 0.5:
        return facts.figures
    own = (
        *(Figure(what, "exhaust_baths", Decimal(dice.choice((1, 3, 4))), own=True)
          for what in ("avocado stones", "onion skins", "privet", "red cabbage")),
        Figure("studio", "second_bath_strength_fraction", Decimal(dice.choice(("0.4", "0.7")))),
    )  # fmt: skip
    return Figures((*own, *facts.figures.rows))


def some_orders(facts: WeekFacts, times: int, *, seed: int) -> Iterator[Guidance]:
    """Orders shuffled at will, some steps that wait, some pots shared where nobody may."""
    dice = Random(seed)
    codes = sorted(run.code for run in facts.runs)
    for _ in range(times):
        floors: tuple[Floor, ...] = ()
        if dice.random() < 0.3:
            run = dice.choice(facts.runs)
            recipe = next(row for row in facts.recipes if row.code == run.recipe)
            minute = int(facts.at.timestamp() // 60) + dice.choice((600, 1500, 3000))
            floors = (Floor(run.code, dice.choice(recipe.steps).name, minute),)
        together: tuple[Together, ...] = ()
        if dice.random() < 0.3 and len(codes) > 1:
            one, other = dice.sample(codes, 2)
            together = (Together(one, other, "scour"),)
        yield Guidance(tuple(dice.sample(codes, len(codes))), floors, together=together)
