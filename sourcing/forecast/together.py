"""Streams forecast one by one, brought to one unit and one lattice, and added up day by day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

import numpy as np

from sourcing.forecast.arriving import Arriving
from sourcing.forecast.conjugate import NormalMass, mass_of
from sourcing.forecast.facts import NoPieceMass, NotByPiece, PieceMass, Stream, Unit, Visit
from sourcing.forecast.figures import ForecastFigures, shipped
from sourcing.forecast.gamma import Floats
from sourcing.forecast.lattice import step_for, totals
from sourcing.forecast.learn import learn
from sourcing.forecast.mass import mass_nodes, weighed
from sourcing.forecast.story import ahead_of, record_of

CELLS = 1024  # of the lattice; a quantile is right to a thousandth of all that may well come


SHARES_KEPT = 32  # some hundred kB each at most


@dataclass(frozen=True, slots=True)
class _Share:
    """What one stream may bring, on its own lattice."""

    days: tuple[date, ...]
    step: float
    chances: Floats  # (days, cells)
    masses: Floats  # equally likely masses of a piece [mg]; [1] where nothing is to be changed

    @property
    def reach(self) -> float:
        """Amount that the lattice reaches to, in the unit of the answer."""
        return float(self.step * self.chances.shape[1] * self.masses.max(initial=0.0))


def together(
    streams: Sequence[Stream], *, since: date, until: date, unit: Unit, piece: PieceMass | None
) -> Arriving:
    """What some streams will bring in a period; see `arriving`."""
    figures = shipped()
    mass = None if piece is None else _mass(piece, figures)
    for stream in streams:
        _must_be_known(stream, unit, mass)
    shares = [share for each in streams
              if (share := _share(each, since, until, unit, mass, figures))]  # fmt: skip
    reported = [(visit.on, _in_unit(visit, unit, mass)) for stream in streams
                for visit in stream.visits
                if visit.how == "reported" and since <= visit.on < until]  # fmt: skip
    days = sorted({*(day for share in shares for day in share.days), *(on for on, _ in reported)})
    sure = tuple(sum(amount for on, amount in reported if on <= day) for day in days)
    step, chances = _added(shares, days, unit)
    return Arriving(unit, tuple(days), sure, step, chances)


def _must_be_known(stream: Stream, unit: Unit, mass: NormalMass | None) -> None:
    if unit == "pieces" and not stream.by_piece:
        raise NotByPiece(stream.source, stream.gives)
    if unit == "mg" and stream.by_piece and mass is None:
        raise NoPieceMass(stream.gives)


# Of a studio's sources few give by agreement, and from minute to minute nothing of them changes.
@lru_cache(maxsize=SHARES_KEPT)
def _share(
    stream: Stream, since: date, until: date, unit: Unit, mass: NormalMass | None,
    figures: ForecastFigures,
) -> _Share | None:  # fmt: skip
    """One stream on its own lattice; None where nothing can come, or nobody knows how much."""
    known = {visit.on for visit in stream.visits}
    days = tuple(
        day
        for day in stream.agreed(since, until)
        if day not in known and stream.is_open(day) and stream.season[day.month - 1] > 0
    )
    record = record_of(
        stream,
        before=_known_until(stream, since),
        piece_mg=None if mass is None else mass.mean,
        scatter_up_to=figures.pieces_scatter_up_to.typical,
    )
    if not days or not record.says_something:
        return None
    habit, ahead = learn(record, figures), ahead_of(stream, days)
    step = step_for(habit, ahead, cells=CELLS)
    chances = totals(habit, ahead, step, cells=CELLS)[0]
    masses = np.ones(1)
    if unit == "mg" and stream.by_piece and mass is not None:
        masses = mass_nodes(mass, pieces=max(1.0, float(habit.mean[0])))
    for kept in (chances, masses):
        kept.setflags(write=False)
    return _Share(days, float(step[0]), chances, masses)


def _known_until(stream: Stream, since: date) -> date:
    """Day before which everything is learnt from: a pick-up made today already counts."""
    made = [visit.on + timedelta(1) for visit in stream.visits if visit.how == "made"]
    return max(since, *made) if made else since


def _added(shares: Sequence[_Share], days: Sequence[date], unit: Unit) -> tuple[float, Floats]:
    """Width of a cell and the chances of the sum after each day."""
    step = sum(share.reach for share in shares) / CELLS or 1.0
    if unit == "pieces":
        step = float(np.ceil(step))
    product = np.ones((len(days), CELLS // 2 + 1), dtype=complex)
    for share in shares:
        product *= np.fft.rfft(_on_lattice(share, days, step, unit), axis=1)
    chances = np.maximum(np.fft.irfft(product, CELLS, axis=1), 0.0)
    return step, np.asarray(chances / chances.sum(axis=1, keepdims=True))


def _on_lattice(share: _Share, days: Sequence[date], step: float, unit: Unit) -> Floats:
    """A stream after each of the days, on the lattice of the sum; before its first day, nothing."""
    nothing = np.zeros((1, CELLS))
    nothing[0, 0] = 1.0
    same = unit == "pieces" and share.step == step
    moved = share.chances if same else weighed(share.chances, share.step, share.masses, step)
    rows = np.searchsorted(np.array(share.days), np.array(days), side="right")
    return np.asarray(np.concatenate([nothing, moved])[rows])


def _mass(piece: PieceMass, figures: ForecastFigures) -> NormalMass:
    return mass_of(piece, worth_pieces=figures.mass_worth_pieces.typical,
                   shape=figures.mass_firmness.typical)  # fmt: skip


def _in_unit(visit: Visit, unit: Unit, mass: NormalMass | None) -> float:
    """A reported pick-up in the unit of the answer."""
    if unit == "pieces":
        return float(visit.pieces or 0)
    if visit.weight_mg is not None:
        return float(visit.weight_mg)
    return float(visit.pieces or 0) * (mass.mean if mass else 0.0)
