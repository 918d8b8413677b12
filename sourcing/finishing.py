"""What a run is likely to have taken when it comes out of its last bath, for somebody to put right.

What was claimed for it, else what the week would take for it, else its fibre alone.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sourcing.week.facts import WeekFacts
from sourcing.week.second_bath import DYEBATH

TAKES_AT_MOST = 10
DAYS_AHEAD = 14


@dataclass(frozen=True, slots=True)
class Taken:
    """So much of one lot, in its unit."""

    lot: str
    what: str
    amount: int  # mg or µL
    unit: str


@dataclass(frozen=True, slots=True)
class Finishing:
    """One run with what it is likely to have taken."""

    run: str
    shade: str
    fibre: str
    fibre_lot: str
    weight_mg: int
    takes: tuple[Taken, ...]


def finishing_of(facts: WeekFacts, run: str) -> Finishing | None:
    """A run that is open, with its takes; None for one that there is not."""
    found = next((row for row in facts.runs if row.code == run), None)
    if found is None:
        return None
    takes = list(_promised(facts, run)) or list(_planned(facts, run))
    lot = found.fibre_lot or next((row.lot for row in takes if row.what == found.fibre), "")
    if lot and all(row.lot != lot for row in takes):
        takes.insert(0, Taken(lot, found.fibre, found.weight_mg, "mg"))
    takes.sort(key=lambda row: row.lot != lot)
    return Finishing(
        run=found.code,
        shade=found.shade,
        fibre=found.fibre,
        fibre_lot=lot,
        weight_mg=found.weight_mg,
        takes=tuple(takes[:TAKES_AT_MOST]),
    )


def _promised(facts: WeekFacts, run: str) -> Iterable[Taken]:
    shelf = facts.shelf
    fibre = {row.code: row.fibre for row in shelf.fibre}
    liquid = {row.code for row in shelf.jars} | {row.code for row in shelf.baths}
    rows = (row for row in facts.promised if row.run == run)
    return _summed(
        Taken(row.code, fibre.get(row.code, ""), row.amount, "µL" if row.code in liquid else "mg")
        for row in rows
    )


def _planned(facts: WeekFacts, run: str) -> Iterable[Taken]:
    from sourcing.week.project import project

    week = project(facts, days=DAYS_AHEAD, unlocks=False)
    answer = next((row for row in week.answers if row.run == run), None)
    takes = () if answer is None or answer.answer == "no" else answer.takes
    kept = {bath.code for bath in facts.shelf.baths}
    takes = tuple(take for take in takes if take.what != DYEBATH or take.source in kept)
    return _summed(Taken(take.source, take.what, take.amount, take.unit) for take in takes)


def _summed(rows: Iterable[Taken]) -> Iterable[Taken]:
    """Each lot once, with all that is taken of it."""
    found: dict[str, Taken] = {}
    for row in rows:
        before = found.get(row.lot)
        amount = row.amount + (before.amount if before else 0)
        found[row.lot] = Taken(row.lot, row.what, amount, row.unit)
    return found.values()
