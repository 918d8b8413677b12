"""Runs of a recipe as wishes: what each run takes of every dyestuff, from its doses."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from sourcing.putting_by.facts import MONTHLY, PutByWish
from sourcing.week.facts import Recipe

KEPT = ("dried", "frozen")


def doses_of(recipe: Recipe) -> dict[tuple[str, str], Fraction]:
    """Grams of each dyestuff and state for one gram of dry fibre."""
    found: dict[tuple[str, str], Fraction] = {}
    for dose in recipe.doses:
        if dose.kind == "dyestuff":
            key = dose.what, dose.state if dose.state in KEPT else ""
            found[key] = found.get(key, Fraction(0)) + dose.per_fibre
    return found


def wishes_of(
    recipe: Recipe,
    *,
    code: str,
    runs: int,
    fibre_mg: int,
    since: date,
    last_on: date,
    spread: str = MONTHLY,
) -> list[PutByWish]:
    """One wish for each dyestuff that a recipe takes; each run dyes so much dry fibre."""
    return [
        PutByWish(code, what, runs, max(1, round(rate * fibre_mg)), since, last_on, state,
                  recipe.shade, spread)
        for (what, state), rate in doses_of(recipe).items()
    ]  # fmt: skip
