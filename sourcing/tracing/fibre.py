"""Which fibre was dyed with a lot, and how much of it is that lot's, where several were blended.

A run's fibre is shared out by the weight of dyestuff that went into it, baths by what they were
made of and by how much of the bath was used.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from fractions import Fraction

from sourcing.tracing.facts import History, RunDyed


@dataclass(frozen=True)
class Shared:
    """One run: what went into it by lot, and the fibre that came out."""

    run: str
    shade: str
    at: datetime
    went_in: Mapping[int, Fraction]  # lot of dyestuff: mg
    fibre: tuple[tuple[str, Fraction], ...]  # name, dry mg
    share: Fraction = field(default=Fraction(1))  # of all that went in

    @property
    def mg(self) -> Fraction:
        """Dyestuff that went in."""
        return sum(self.went_in.values(), Fraction(0))

    @property
    def fibre_mg(self) -> Fraction:
        return sum((mg for _, mg in self.fibre), Fraction(0))

    def of_lots(self, lots: Collection[int]) -> Shared | None:
        """The part of some lots: of the fibre as much as of what went in; None where none did."""
        mine = {lot: mg for lot, mg in self.went_in.items() if lot in lots and mg > 0}
        all_mg = sum((mg for mg in self.went_in.values() if mg > 0), Fraction(0))
        if not mine or not all_mg:
            return None
        share = sum(mine.values(), Fraction(0)) / all_mg
        fibre = tuple((name, mg * share) for name, mg in self.fibre)
        return replace(self, went_in=mine, fibre=fibre, share=share)


def shares_of(history: History) -> tuple[Shared, ...]:
    """Every run dyed, by its moment; one that was taken back in full is none."""
    by_posting: dict[str, dict[int, int]] = {}
    for move in history.moved:
        first = history.first(move.posting)
        if first.kind in ("dye", "make bath"):
            moves = by_posting.setdefault(first.key, defaultdict(int))
            moves[move.lot] += move.amount
    runs = {row.posting: row for row in history.runs}
    found = [
        row
        for key, moves in by_posting.items()
        if history.happened[key].kind == "dye"
        and (row := _shared(history, key, moves, by_posting, runs.get(key))) is not None
    ]
    return tuple(sorted(found, key=lambda row: (row.at, row.run)))


def _shared(
    history: History,
    key: str,
    moves: Mapping[int, int],
    by_posting: Mapping[str, Mapping[int, int]],
    run: RunDyed | None,
) -> Shared | None:
    went_in: defaultdict[int, Fraction] = defaultdict(Fraction)
    fibre: defaultdict[str, Fraction] = defaultdict(Fraction)
    for lot_key, amount in moves.items():
        lot = history.lots[lot_key]
        if lot.kind == "dyestuff" and amount < 0:
            went_in[lot_key] -= amount
        elif lot.kind == "bath" and amount < 0:
            for made_of, mg in _of_bath(history, lot_key, -amount, by_posting):
                went_in[made_of] += mg
        elif lot.kind == "fibre" and amount > 0 and lot.begun_by == key:
            fibre[lot.what] += amount
    if not went_in:
        return None
    code, shade = (run.code, run.shade) if run is not None else ("", "")
    return Shared(
        code, shade, history.happened[key].at, dict(went_in), tuple(sorted(fibre.items()))
    )


def _of_bath(
    history: History, bath: int, used_ul: int, by_posting: Mapping[str, Mapping[int, int]]
) -> list[tuple[int, Fraction]]:
    """What a bath was made of, as much of it as of the bath was used."""
    made = by_posting.get(history.lots[bath].begun_by, {})
    volume = made.get(bath, 0)
    if volume <= 0:
        return []
    part = Fraction(used_ul, volume)
    return [
        (lot, -amount * part)
        for lot, amount in made.items()
        if amount < 0 and history.lots[lot].kind == "dyestuff"
    ]
