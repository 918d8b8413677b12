"""Which jar is ready at a moment, how much of it a dose takes, and on which day it is dipped."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction

from inventory.science.dosing import ceiling, dose_of
from inventory.science.facts import JarFacts
from inventory.science.maturing import state_of
from sourcing.week.checking.ground import Ground
from sourcing.week.facts import Dose, RunFacts


def dips_on(ground: Ground) -> Iterator[tuple[date, str]]:
    """The day of each steeping jar's first strip, the next open one, with its site."""
    facts = ground.facts
    for jar in facts.shelf.jars:
        state = state_of(jar, facts.figures, at=facts.at, zone=facts.zone)
        if state.word in ("steeping", "ready to dip") and state.next_dip is not None:
            open_days = {row.day for row in ground.hours_of(jar.site) if row.day >= state.next_dip}
            if open_days:
                yield min(open_days), jar.site


def ready_at(code: str, at: datetime, ground: Ground) -> bool:
    """Whether a jar may be dyed from at a moment, with the strips there are now."""
    facts = ground.facts
    return state_of(ground.jars[code], facts.figures, at=at, zone=facts.zone).usable


def wanted_ul(jar: JarFacts, dose: Dose, run: RunFacts, at: datetime, ground: Ground) -> int:
    """Microlitres of a jar that a dose takes at a moment's strength."""
    facts = ground.facts
    found = dose_of(jar, dose.ml_per_100g, facts.figures, at=at, zone=facts.zone)
    return round(Fraction(found.ml_per_100g) * run.weight_mg / 100)


def most_ul(
    jar: JarFacts, run: RunFacts, already_percent: Decimal | None, ground: Ground
) -> int | None:
    """The most of a jar that a run's fibre may have; None: no ceiling is written down."""
    already = already_percent if jar.metal == "iron" and already_percent else Decimal(0)
    top = ceiling(jar, run.fibre, ground.facts.figures, on=ground.today, already_percent=already)
    return None if top is None else round(Fraction(top.ml_per_100g) * run.weight_mg / 100)
