"""Studios made up by chance with shades that share pots: scoured and mordanted nearly alike.

The same number gives the same studio on every machine.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from itertools import count, permutations
from random import Random

from inventory.science.facts import FibreFacts
from sourcing.week.facts import Heat, Recipe, RunFacts, Step, WeekFacts
from sourcing.week.guidance import Floor, Guidance, Together
from tests.sourcing.week.random_recipes import recipe_of
from tests.sourcing.week.random_studios import studio
from tests.sourcing.week.random_yard import Yard


def sharing_studio(number: int) -> WeekFacts:
    """The studio of a number with shades that may share, cloth for them, and roomier pots."""
    facts, dice = studio(number), Random(number + 2_000_000)
    blush = _blush(number)
    family = tuple(_sister(blush, n, dice) for n in range(3))
    runs = tuple(_of_the_family(run, family, dice) for run in facts.runs)
    fibre = tuple(
        FibreFacts(f"{name[:2].upper()}-share-{n}", name, "yarn", 9_000_000 // (1 + n),
                   scoured=n == 1, iron_percent=Decimal(dice.choice((0,) * 9 + (1,))))
        for name in ("wool", "silk", "linen", "cotton") for n in range(2)
    )  # fmt: skip
    lots = tuple(replace(lot, left_mg=lot.left_mg * 4) for lot in facts.shelf.lots)
    there = tuple(replace(lot, mordant="", mordant_percent=Decimal(0), left_mg=lot.left_mg // 4)
                  for lot in facts.shelf.fibre)  # fmt: skip
    shelf = replace(facts.shelf, fibre=(*there, *fibre), lots=lots)
    return replace(facts, recipes=(*facts.recipes, *family), runs=runs, shelf=shelf)


def _blush(number: int) -> Recipe:
    """A recipe that scours and mordants."""
    yard = Yard(number)
    return next(row for n in count() if (row := recipe_of(yard, n)).shade == "Blush")


def _sister(blush: Recipe, number: int, dice: Random) -> Recipe:
    """The same but for something that matters to those who share, or for nothing."""
    all_three = ("scour", "mordant", "extract")
    shares = dice.choice((all_three,) * 5 + (("scour", "mordant"), ("scour",), ("mordant",)))
    steps = blush.steps
    if dice.random() < 0.15:
        steps = (replace(steps[0], heats=(Heat(60, 30),)), *steps[1:])
    if dice.random() < 0.2:
        rinse = Step("scour rinse", "rinse", hands_min=10, hands_per="kg",
                     at_once=dice.random() < 0.5)  # fmt: skip
        steps = (steps[0], rinse, *steps[1:])
    match = dice.choice(("blend",) * 4 + ("lot",))
    percent = Decimal(dice.choice((12, 12, 12, 12, 12, 15)))
    return replace(blush, code=f"blush-{number}", fibres=("wool", "silk", "linen", "cotton"),
                   steps=steps, may_share=shares, bright=dice.random() < 0.6,
                   mordant_percent=percent, match=match)  # fmt: skip


def _of_the_family(run: RunFacts, family: tuple[Recipe, ...], dice: Random) -> RunFacts:
    if dice.random() < 0.25:
        return run
    recipe = dice.choice(family)
    fibre = dice.choice(("wool", "wool", "silk", "linen", "cotton"))
    weight = dice.choice((150, 200, 333, 400, 500, 900)) * 1000
    return replace(run, recipe=recipe.code, shade=recipe.shade, fibre=fibre, weight_mg=weight)


def pairs_of(facts: WeekFacts) -> list[Together]:
    """Every two runs with every step up to which the one might go with the other."""
    recipes = {recipe.code: recipe for recipe in facts.recipes}
    runs = [run for run in facts.runs if not run.group_block and run.kept is None]
    return [
        Together(one.code, other.code, step.name)
        for one, other in permutations(runs, 2)
        for step in recipes[other.recipe].steps
        if step.kind in recipes[other.recipe].may_share
        and step.kind in recipes[one.recipe].may_share
    ]


def some_sharing(facts: WeekFacts, times: int, *, seed: int) -> Iterator[Guidance]:
    """Orders shuffled at will, some pairs that are to share, some steps that wait."""
    dice, pairs = Random(seed), pairs_of(facts)
    codes = sorted(run.code for run in facts.runs)
    recipes = {run.code: next(r for r in facts.recipes if r.code == run.recipe)
               for run in facts.runs}  # fmt: skip
    for _ in range(times):
        order = tuple(dice.sample(codes, len(codes)))
        chosen: dict[str, Together] = {}
        for row in dice.sample(pairs, min(len(pairs), dice.randint(1, 6))):
            leads = {row.leader for row in chosen.values()}
            if row.leader not in chosen and row.follower not in (*chosen, *leads):
                chosen[row.follower] = row
        floors: tuple[Floor, ...] = ()
        if dice.random() < 0.3:
            code = dice.choice(codes)
            minute = int(facts.at.timestamp() // 60) + dice.choice((600, 1500, 3000))
            floors = (Floor(code, dice.choice(recipes[code].steps).name, minute),)
        yield Guidance(order, floors, together=tuple(chosen.values()))
