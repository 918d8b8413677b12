"""Which steps two runs may do in one pot, and what that pot then has to hold.

A follower shares its first steps with a leader, up to one of them; what comes after, each does by
itself. Only what is the same for both is shared: the step with its heats and its ratio, what it
takes by weight, the mordant and its strength, the kind of fibre.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from inventory.science.catalogue import find_figure
from inventory.science.facts import FibreFacts
from inventory.science.figures import Figures
from sourcing.week.facts import Recipe, RunFacts, Step
from sourcing.week.stages import Stage, stands_on

MAY_SHARE = ("scour", "mordant", "extract")  # kinds of step that a recipe may share


@dataclass(frozen=True, slots=True)
class Sharer:
    """A run with its recipe, the fibre that it is made of, and its steps at a site."""

    run: RunFacts
    recipe: Recipe
    fibre: FibreFacts | None
    stages: tuple[Stage, ...]


def in_one_pot(
    leader: Sharer, follower: Sharer, upto: str, figures: Figures, *, on: date
) -> tuple[int, int] | None:
    """The number of the leader's first shared stage, and how many are shared; None: it may not be.

    Parameters
    ----------
    upto : name of the follower's last step that is shared
    """
    if not _may_meet(leader, follower, figures, on=on):
        return None
    count = next((n for n, row in enumerate(follower.stages, 1) if row.step.name == upto), 0)
    if not count or not _ends_free(follower.stages, count - 1):
        return None
    for first in range(len(leader.stages) - count + 1):
        alike = all(
            _alike(leader, first + n, follower, n, between=0 < n < count - 1) for n in range(count)
        )
        if alike and _ends_free(leader.stages, first + count - 1):
            return first, count
    return None


def _may_meet(one: Sharer, other: Sharer, figures: Figures, *, on: date) -> bool:
    """Whether the cloth of both may lie in one bath: one kind, plain, no iron by brights."""
    if one.run.group_block or other.run.group_block or one.recipe.water != other.recipe.water:
        return False
    if not same_kind(one.run.fibre, other.run.fibre, figures, on=on):
        return False
    lots = [row.fibre for row in (one, other) if row.fibre is not None]
    bright = one.recipe.bright or other.recipe.bright
    return not any(lot.shade or (bright and lot.iron_percent) for lot in lots)


def same_kind(fibre: str, other: str, figures: Figures, *, on: date) -> bool:
    """Whether two fibres are of one kind, both of hair and silk or both of plants."""
    if fibre == other:
        return True
    found = [find_figure(figures, name, "protein_fraction", on=on) for name in (fibre, other)]
    one, two = found
    return one is not None and two is not None and one.value == two.value


def _alike(leader: Sharer, first: int, follower: Sharer, second: int, *, between: bool) -> bool:
    """Whether a stage of one is the same work as a stage of the other, and may be shared."""
    mine, theirs = leader.stages[first], follower.stages[second]
    if mine.round_of != (1, 1) or theirs.round_of != (1, 1) or mine.heats != theirs.heats:
        return False
    if not _is_plain(mine.step) or _work(mine.step, leader) != _work(theirs.step, follower):
        return False
    if mine.step.kind == "rinse":
        return between
    kind = mine.step.kind
    if kind not in leader.recipe.may_share or kind not in follower.recipe.may_share:
        return False
    if kind == "extract" and "lot" in (leader.recipe.match, follower.recipe.match):
        return False  # of one lot only: nobody else's may be poured in
    return kind != "mordant" or _mordant(leader.recipe) == _mordant(follower.recipe)


def _is_plain(step: Step) -> bool:
    """Whether a step can be shared at all: in a bath of its own, over when it is over."""
    by = ("load", "run", "kg", "dye load") if step.kind == "extract" else ("load", "run", "kg")
    return (
        step.kind in (*MAY_SHARE, "rinse")
        and "same" not in step.vessels
        and step.hands_per in by
        and not (stands_on(step) or step.metal or step.snippet_min)
        and (step.kind == "extract" or not step.strain)
    )


def _work(step: Step, of: Sharer) -> tuple[Step, tuple[tuple[object, ...], ...]] | None:
    """A step as data without its name, and what it takes by weight; None: more than may mix."""
    doses = [dose for dose in of.recipe.doses if dose.step == step.name]
    may = ("supply", "dyestuff") if step.kind == "extract" else ("supply",)
    if any(dose.kind not in may for dose in doses):
        return None
    ratio = of.recipe.l_per_kg if step.l_per_kg is None else step.l_per_kg
    takes = sorted((dose.what, dose.kind, dose.per_fibre, dose.state) for dose in doses)
    return replace(step, name="", l_per_kg=ratio), tuple(takes)


def _mordant(recipe: Recipe) -> tuple[str, Decimal]:
    return recipe.mordant, recipe.mordant_percent


def _ends_free(stages: tuple[Stage, ...], index: int) -> bool:
    """Whether the cloth leaves the pot after a stage: the next step begins when it begins."""
    if index + 1 >= len(stages):
        return False
    stage, after = stages[index], stages[index + 1]
    stays = after.same or after.step.at_once
    return not stays and (bool(after.step.vessels) or not stage.step.night)
