"""What every wanted run needs of dyestuffs and supplies, whether it is placed or not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from inventory.science.catalogue import find_figure
from inventory.science.days import local_day
from inventory.science.facts import FibreFacts
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.plan import Answer
from sourcing.week.stages import needed_steps


@dataclass(frozen=True, slots=True)
class Need:
    """What one step of one run takes, by the name under which it is kept."""

    run: RunFacts
    kind: str  # dyestuff, supply
    what: str
    mg: int
    for_scour: bool


def needs_of(facts: WeekFacts, answers: tuple[Answer, ...]) -> tuple[Need, ...]:
    """The needs of all runs, dated runs first by due date, then undated ones.

    Steps that the run's fibre has behind it take nothing; where the fibre is not there yet, every
    step counts.
    """
    fibre = {row.code: row for row in facts.shelf.fibre}
    taken = {take.run: fibre[take.source] for answer in answers if answer.answer != "no"
             for take in answer.takes if take.source in fibre}  # fmt: skip
    return tuple(
        need
        for run in sorted(facts.runs, key=in_order)
        for need in _needs(facts, run, taken.get(run.code) or fibre.get(run.fibre_lot))
    )


def in_order(run: RunFacts) -> tuple[bool, float, str]:
    """Dated runs by due date, ties by code; undated ones last."""
    return run.due is None, 0 if run.due is None else run.due.timestamp(), run.code


def _needs(facts: WeekFacts, run: RunFacts, fibre: FibreFacts | None) -> Iterator[Need]:
    recipe = next((row for row in facts.recipes if row.code == run.recipe), None)
    if recipe is None:
        return
    steps = {step.name: step for step in needed_steps(recipe, fibre)}
    for dose in recipe.doses:
        if dose.kind in ("dyestuff", "supply") and dose.step in steps:
            what, factor = _as_kept(facts, dose.what)
            mg = round(dose.per_fibre * run.weight_mg * factor)
            if mg > 0:
                yield Need(run, dose.kind, what, mg, steps[dose.step].kind == "scour")


def _as_kept(facts: WeekFacts, what: str) -> tuple[str, Fraction]:
    """Soda ash may be kept as crystals: their name, and g of them for one g of ash."""
    today: date = local_day(facts.at, zone=facts.zone)
    crystals = what.replace(" ash", " crystals")
    kept = {supply.what for supply in facts.shelf.supplies}
    found = find_figure(facts.figures, what, "crystals_per_ash", on=today)
    if what in kept or found is None or crystals not in kept:
        return what, Fraction(1)
    return crystals, Fraction(found.value)


def counted_by_piece(dyestuff: str, facts: WeekFacts, *, on: date) -> bool:
    """Whether a dyestuff is counted here: it comes by the piece, or the studio weighed its pieces.

    A shipped piece mass alone does not make skins or petals a thing that anybody counts.
    """
    if any(row.dyestuff == dyestuff and row.piece_mg for row in facts.pick_ups):
        return True
    found = find_figure(facts.figures, dyestuff, "piece_mass_g", on=on)
    return found is not None and found.own
