"""Studios made up by chance, with what an expert adds: wetting out, rinses in tubs, warm water.

The same number gives the same studio on every machine.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from random import Random

from inventory.science.cloth import ClothSize
from inventory.science.facts import FibreFacts
from sourcing.week.facts import Recipe, RunFacts, Step, WeekFacts
from tests.sourcing.week.random_studios import studio

TUBS = (("tub",), ("bucket",), ("tub", "bucket"), ("pot", "tub"))


def expert_studio(number: int) -> WeekFacts:
    """The studio that belongs to a number, its recipes and fibre as an expert keeps them."""
    facts, dice = studio(number), Random(number + 1_000_000)
    recipes = tuple(_expert(recipe, dice) for recipe in facts.recipes)
    runs = tuple(_names_its_cloth(run, facts, dice) for run in facts.runs)
    fibre = tuple(_as_found(lot, dice) for lot in facts.shelf.fibre)
    return replace(facts, recipes=recipes, runs=runs, shelf=replace(facts.shelf, fibre=fibre))


def _as_found(lot: FibreFacts, dice: Random) -> FibreFacts:
    """Damp, measured, or dyed before: sold some day, second quality, or for re-dyeing."""
    cloth = ClothSize(Decimal(dice.randint(50, 400)), 1400) if dice.random() < 0.3 else None
    lot = replace(lot, damp=lot.damp or dice.random() < 0.2, cloth=cloth)
    if dice.random() < 0.7:
        return lot
    quality = dice.choice(("", "second quality", "for re-dyeing", "for re-dyeing"))
    came_out = "streaky" if quality else ""
    return replace(lot, scoured=True, shade="Straw", depth=dice.randint(0, 5), quality=quality,
                   came_out=came_out)  # fmt: skip


def _names_its_cloth(run: RunFacts, facts: WeekFacts, dice: Random) -> RunFacts:
    lots = [lot.code for lot in facts.shelf.fibre if lot.fibre == run.fibre]
    return replace(run, fibre_lot=dice.choice(lots)) if dice.random() < 0.2 and lots else run


def _expert(recipe: Recipe, dice: Random) -> Recipe:
    steps = [_in_a_tub(step, dice) for step in recipe.steps]
    if not any(step.kind == "wet out" for step in steps) and dice.random() < 0.7:
        steps.insert(_place_for_wetting(steps, dice), _wet_out())
    if dice.random() < 0.7:
        steps = [row for step in steps for row in _and_its_rinse(step, dice)]
    steps = [_tried_first(step, dice) for step in steps]
    return replace(recipe, steps=tuple(steps), depth=dice.randint(1, 5))


def _tried_first(step: Step, dice: Random) -> Step:
    """Half of the extracts are tried on a snippet."""
    if not step.strain or dice.random() < 0.5:
        return step
    return replace(step, snippet_min=dice.choice((10, 30)), snippet_hands_min=dice.choice((0, 10)))


def _place_for_wetting(steps: list[Step], dice: Random) -> int:
    """In front, or behind the mordant: wool that was mordanted long ago is dry by then."""
    mordants = [number for number, step in enumerate(steps) if step.kind == "mordant"]
    return mordants[-1] + 1 if mordants and dice.random() < 0.6 else 0


def _wet_out() -> Step:
    return Step("wet out", "wet out", ("tub", "bucket"), hands_min=5)


def _in_a_tub(step: Step, dice: Random) -> Step:
    """Most last rinses, by the kilo or by the tubful, some in warm water."""
    if step.kind != "rinse" or dice.random() < 0.2:
        return step
    return replace(
        step,
        vessels=dice.choice(TUBS),
        l_per_kg=Decimal(dice.choice((10, 20, 30))),
        hands_per=dice.choice(("kg", "kg", "load", "run")),
        stand_min=dice.choice((0, 0, 10)),
        begun_c=dice.choice((None, None, 30)),
    )


def _and_its_rinse(step: Step, dice: Random) -> tuple[Step, ...]:
    if step.kind != "scour":
        return (step,)
    rinse = Step("scour rinse", "rinse", dice.choice((*TUBS, ("same",))), hands_min=10,
                 at_once=dice.random() < 0.5)  # fmt: skip
    return step, rinse
