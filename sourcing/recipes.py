"""Recipes as the week reads them: rows of the tables turned into frozen facts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction

from sourcing.gather import Cells
from sourcing.week.facts import Dose, Heat, Recipe, Step


def recipe_of(row: Cells, *, code: str, steps: tuple[Step, ...], doses: tuple[Dose, ...]) -> Recipe:
    """A recipe under the code that runs call it by."""
    return Recipe(
        code=code,
        shade=row["shade"],
        fibres=tuple(row["fibres"]),
        l_per_kg=as_decimal(row["l_per_kg"]),
        bright=row["bright"],
        steps=steps,
        doses=doses,
        needs_scoured=row["needs_scoured"],
        mordant=row["mordant"],
        mordant_percent=row["mordant_percent"],
        match=row["match"],
        water=row["water"],
        ph_low=row["ph_low"],
        ph_high=row["ph_high"],
        fugitive=row["fugitive"],
        depth=row["depth"],
        may_share=tuple(row["may_share"]),
        second_of=row["second_of"],
        strength=row["strength"],
    )


def steps_of(rows: Iterable[Cells]) -> tuple[Step, ...]:
    """The steps of one recipe, in the order of the rows."""
    return tuple(_step(row) for row in rows)


def doses_of(rows: Iterable[Cells]) -> tuple[Dose, ...]:
    """The doses of one recipe, in the order of the rows."""
    return tuple(
        Dose(
            what=row["what"],
            kind=row["kind"],
            step=row["step"],
            per_fibre=row["per_fibre"],
            ml_per_100g=as_decimal(row["ml_per_100g"]),
            l_per_kg=as_decimal(row["l_per_kg"]),
            state=row["state"],
        )
        for row in rows
    )


def heats_of(heats: Sequence[Sequence[int | None]]) -> tuple[Heat, ...]:
    """Heatings as the tables keep them: start or none, goal, hold."""
    found = []
    for start, goal, hold in heats:
        assert goal is not None
        assert hold is not None
        found.append(Heat(goal, hold, start))
    return tuple(found)


def as_decimal(number: Fraction) -> Decimal:
    """A fraction as a decimal number, exact where there is one."""
    return Decimal(number.numerator) / Decimal(number.denominator)


def _step(row: Cells) -> Step:
    return Step(
        name=row["name"],
        kind=row["kind"],
        vessels=tuple(row["vessels"]),
        l_per_kg=None if row["l_per_kg"] is None else as_decimal(row["l_per_kg"]),
        heats=heats_of(row["heats"]),
        stand_min=row["stand_min"],
        stand_max=row["stand_max"],
        night=row["night"],
        cool_min=row["cool_min"],
        hands_min=row["hands_min"],
        hands_per=row["hands_per"],
        at_once=row["at_once"],
        strain=row["strain"],
        strained_c=row["strained_c"],
        from_time=row["from_time"],
        one_lot=row["one_lot"],
        aired=row["aired"],
        metal=row["metal"],
        begun_c=row["begun_c"],
        snippet_min=row["snippet_min"],
        snippet_hands_min=row["snippet_hands_min"],
    )
