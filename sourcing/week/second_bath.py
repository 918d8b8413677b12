"""A bath used again: what a run leaves in its pots, and what a shade dyed in that asks of it.

Full shade first: the run whose bath it is comes before those that dye in it, light does not turn
dark, and where there is iron in a bath no bright comes after.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from inventory.science.facts import BathFacts
from inventory.science.figures import Figure, Figures
from inventory.science.second_bath import baths_at_most, left_in, litres_per_kg
from sourcing.week.facts import Recipe, RunFacts, Step
from sourcing.week.fits import Fit
from sourcing.week.guidance import Guidance
from sourcing.week.plan import Take

DYEBATH = "dyebath"
UL_PER_ML = 1000


@dataclass(frozen=True, slots=True)
class Poured:
    """What a placed run leaves once its cloth is lifted."""

    bath: BathFacts  # `made_at`: when the cloth is out
    run: str
    l_per_kg: Fraction  # at which it was dyed


@dataclass(frozen=True, slots=True)
class Follows:
    """What a shade asks of the bath that it follows in."""

    first: Recipe
    step: Step  # in which it is dyed
    l_per_kg: Fraction  # of that step
    strength: Fraction  # of the first shade
    left: Fraction  # of the first shade, in its bath for as much cloth
    figure: Figure | None  # that `left` rests on
    number: int  # of the bath: 2 for the second
    most: Figure | None  # baths that its dyestuffs give

    def of_bath(self, first_l_per_kg: Fraction) -> Fraction:
        """Litres for each kilo of a bath that was dyed in at a ratio."""
        return litres_per_kg(first_l_per_kg, strength=self.strength, left=self.left)

    @property
    def given(self) -> bool:
        """Whether cloth still takes colour from it: so many baths, and not wholly spent."""
        return self.left > 0 and (self.most is None or self.number <= self.most.value)


def bath_code(run: str) -> str:
    """What the bath of a run is called until somebody keeps it under a name of its own."""
    return f"{run}-bath"


def run_of_bath(take: Take, runs: Container[str]) -> str:
    """The run whose bath is taken, of one that nobody has kept under its name yet; empty: none."""
    run = take.source.removesuffix(bath_code(""))
    return run if take.what == DYEBATH and run != take.source and run in runs else ""


def dyed_in(recipe: Recipe) -> Step | None:
    """The step in which a recipe's cloth is dyed."""
    return next((step for step in recipe.steps if step.kind == "dye"), None)


def ratio_of(step: Step, recipe: Recipe) -> Fraction:
    """Litres for each kilo of cloth in a step."""
    return Fraction(recipe.l_per_kg if step.l_per_kg is None else step.l_per_kg)


def firsts(recipe: Recipe, recipes: Iterable[Recipe]) -> list[Recipe]:
    """The recipe whose bath it follows in, the one before that, and so on to the full shade.

    Empty where it follows none, or none that is known; a circle ends where it closes.
    """
    by_code = {row.code: row for row in recipes}
    found: list[Recipe] = []
    before = by_code.get(recipe.second_of)
    while before is not None and before not in found and before.code != recipe.code:
        found.append(before)
        before = by_code.get(before.second_of)
    return found


def follows(
    recipe: Recipe, recipes: Sequence[Recipe], figures: Figures, *, on: date
) -> Follows | None:
    """What a recipe asks of the bath before it; None where nothing can be said of that."""
    chain = firsts(recipe, recipes)
    step = dyed_in(recipe)
    if not chain or step is None or dyed_in(chain[0]) is None:
        return None
    left, figure = left_in(len(chain), figures, on=on)
    dyestuffs = [dose.what for row in chain for dose in row.doses if dose.kind == "dyestuff"]
    return Follows(
        chain[0],
        step,
        ratio_of(step, recipe),
        left if recipe.strength is None else recipe.strength,
        left,
        figure,
        len(chain) + 1,
        baths_at_most(dyestuffs, figures, on=on),
    )


def followed(recipes: Iterable[Recipe], runs: Iterable[RunFacts]) -> frozenset[str]:
    """Shades in whose bath some run is to follow."""
    by_code = {row.code: row for row in recipes}
    wanted = (by_code[run.recipe].second_of for run in runs if run.recipe in by_code)
    return frozenset(by_code[code].shade for code in wanted if code in by_code)


# -- what a run leaves -------------------------------------------------------------------------


def bath_out(fits: Sequence[Fit], step: Step) -> tuple[int, Fraction]:
    """When the cloth of all rounds is out of a step's bath, and how many millilitres that is."""
    ends, litres_ml = 0, Fraction(0)
    for index, fit in enumerate(fits):
        if fit.stage.step.name == step.name:
            litres_ml += fit.stage.litres_ml
            ends = max(ends, *(row.held_until for row in in_that_bath(fits, index)))
    return ends, litres_ml


def poured(
    run: RunFacts,
    recipe: Recipe,
    step: Step,
    *,
    litres_ml: Fraction,
    at: datetime,
    number: int,
    warmth_c: float,
    site: str,
    metal: str = "",
) -> Poured:
    """A run's bath from the moment at which its cloth is out."""
    bath = BathFacts(
        bath_code(run.code),
        DYEBATH,
        at,
        round(litres_ml * UL_PER_ML),
        warmth_c,
        times_used=number,
        shade=recipe.shade,
        depth=recipe.depth,
        metal=metal_in(recipe, step) or metal,
        site=site,
    )
    return Poured(bath, run.code, ratio_of(step, recipe))


def metal_in(recipe: Recipe, step: Step) -> str:
    """The metal in a recipe's bath by the time that its cloth is out, iron before others."""
    names = [row.name for row in recipe.steps]
    index = names.index(step.name)
    steps = [step]
    for after in recipe.steps[index + 1 :]:
        if "same" not in after.vessels:
            break
        steps.append(after)
    metals = {row.metal for row in steps if row.metal}
    metals |= {
        dose.what
        for dose in recipe.doses
        if dose.kind == "liquor" and dose.step in {row.name for row in steps}
    }
    return "iron" if "iron" in metals else min(metals, default="")


def in_that_bath(fits: Sequence[Fit], index: int) -> list[Fit]:
    """A stage and those after it in the same vessels."""
    found = [fits[index]]
    for fit in fits[index + 1 :]:
        if not fit.stage.same:
            break
        found.append(fit)
    return found


# -- in which order --------------------------------------------------------------------------


def in_turn(
    guidance: Guidance, runs: Iterable[RunFacts], recipes: Iterable[Recipe]
) -> list[RunFacts]:
    """Runs in the order in which they are placed: none before the run whose bath it follows in."""
    rows = guidance.in_turn(runs)
    by_code = {row.code: row for row in recipes}
    wants = {
        run.code: by_code[by_code[run.recipe].second_of].shade
        for run in rows
        if run.recipe in by_code and by_code[run.recipe].second_of in by_code
    }
    if not wants:
        return rows
    waiting, found = _together(rows, guidance), list[RunFacts]()
    while waiting:
        ready = (row for row in waiting if not _too_soon(row, waiting, found, wants, by_code))
        chosen = next(ready, waiting[0])  # in a circle the first goes first
        waiting.remove(chosen)
        found.extend(chosen)
    return found


def _together(rows: list[RunFacts], guidance: Guidance) -> list[list[RunFacts]]:
    """Runs that share pots stay behind one another."""
    led = {row.follower: row.leader for row in guidance.together}
    found: list[list[RunFacts]] = []
    for run in rows:
        leader = led.get(run.code)
        if found and leader is not None and found[-1][0].code == leader:
            found[-1].append(run)
        else:
            found.append([run])
    return found


def _too_soon(
    group: list[RunFacts],
    waiting: list[list[RunFacts]],
    found: list[RunFacts],
    wants: dict[str, str],
    recipes: dict[str, Recipe],
) -> bool:
    """Whether a run of a group follows in a bath that only runs still waiting will leave."""

    def dyes(run: RunFacts, shade: str) -> bool:
        return run.recipe in recipes and recipes[run.recipe].shade == shade

    for run in group:
        shade = wants.get(run.code)
        if shade is None or any(dyes(row, shade) for row in found):
            continue
        others = (row for rows in waiting if rows is not group for row in rows)
        if any(dyes(row, shade) for row in others):
            return True
    return False
