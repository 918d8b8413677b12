"""How much liquor do leaf and stones hold back when they are strained off, and what is topped up?

Worked out from what a placed run takes; the pot of the extract need not hold any less for it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from inventory.science.catalogue import find_figure
from inventory.science.figures import Figure, Figures
from inventory.science.saying import joined, say
from sourcing.week.facts import Recipe, Step, WeekFacts
from sourcing.week.plan import Placed, Reason, Take
from sourcing.week.reasons import because
from sourcing.week.words import litres


@dataclass(frozen=True, slots=True)
class HeldBack:
    """What one dyestuff keeps of an extract."""

    step: str  # the step that is strained
    dyestuff: str
    ml: Fraction
    figure: Figure


def held_back(
    facts: WeekFacts, recipe: Recipe, takes: tuple[Take, ...], *, on: date
) -> tuple[HeldBack, ...]:
    """What each dyestuff of a run keeps of the extract that it is strained from.

    Parameters
    ----------
    takes : what the run takes, each of one lot; a lot's state decides how much it soaks up
    """
    lots = {lot.code: lot for lot in facts.shelf.lots}
    found: dict[tuple[str, str, Figure], Fraction] = {}
    dosed = {(dose.step, dose.what) for dose in recipe.doses if dose.kind == "dyestuff"}
    for strained, steps in _strained(recipe):
        for take in takes:
            lot = lots.get(take.source)
            if lot is None or take.step not in steps or (take.step, lot.dyestuff) not in dosed:
                continue
            figure = held_figure(facts.figures, lot.dyestuff, lot.stay.state, on=on)
            if figure is not None:
                key = strained, lot.dyestuff, figure
                # L per kg is mL per g.
                ml = Fraction(take.amount, 1000) * Fraction(figure.value)
                found[key] = found.get(key, Fraction(0)) + ml
    return tuple(HeldBack(*key[:2], ml, key[2]) for key, ml in found.items() if ml)


def held_figure(figures: Figures, dyestuff: str, state: str, *, on: date) -> Figure | None:
    """Litres that a kilo keeps, as it was weighed: the studio's own figure, else the shipped one.

    Frozen matter keeps as much as fresh.
    """
    wet = "fresh" if state == "frozen" else state
    names = (f"held_back_{wet}_l_per_kg", "held_back_l_per_kg")
    rows = [
        row
        for item in (dyestuff, "any dyestuff")
        for name in names
        if (row := find_figure(figures, item, name, on=on)) is not None
    ]
    return next((row for row in rows if row.own), rows[0] if rows else None)


def topped_up_ml(held: tuple[HeldBack, ...], recipe: Recipe, steps: tuple[Placed, ...]) -> Fraction:
    """Water [mL] that has to be put in because of what is held back; none where enough is left."""
    more = Fraction(0)
    for name in dict.fromkeys(row.step for row in held):
        there = _litres_ml(name, steps)
        wanted = _litres_ml(_next_bath(recipe, name), steps)
        kept = sum((row.ml for row in held if row.step == name), start=Fraction(0))
        more += max(Fraction(0), wanted - there + kept) - max(Fraction(0), wanted - there)
    return more


def straining_notes(held: tuple[HeldBack, ...], more_ml: Fraction) -> Iterator[str]:
    """What the sheet says of it; nothing below a tenth of a litre, which no jug shows."""
    if more_ml >= 100:
        kept = joined(
            " and ",
            (say("{dyestuff} {ml}", dyestuff=row.dyestuff, ml=litres(row.ml)) for row in held),
        )
        yield say(
            "strained off, {kept} of the extract stays behind: top up {more_ml}",
            kept=kept,
            more_ml=litres(more_ml),
        )


def straining_reasons(held: tuple[HeldBack, ...]) -> Iterator[Reason]:
    """The figure behind each."""
    for row in held:
        text = say("{dyestuff} holds back {ml}", dyestuff=row.dyestuff, ml=litres(row.ml))
        yield because("held back", row.dyestuff, text, row.figure)


def _strained(recipe: Recipe) -> Iterator[tuple[str, set[str]]]:
    """Each step that is strained, with those whose dyestuff is in it: it may have soaked before."""
    soaking: set[str] = set()
    for step in recipe.steps:
        if step.kind in ("soak", "extract"):
            soaking.add(step.name)
        if step.strain:
            yield step.name, soaking | {step.name}
            soaking = set()


def _next_bath(recipe: Recipe, name: str) -> str:
    names = [step.name for step in recipe.steps]
    after: list[Step] = [row for row in recipe.steps[names.index(name) + 1 :] if row.vessels]
    return after[0].name if after else name


def _litres_ml(name: str, steps: tuple[Placed, ...]) -> Fraction:
    rows = (Fraction(row.litres) * 1000 for row in steps if row.step == name)
    return sum(rows, start=Fraction(0))
