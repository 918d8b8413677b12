"""Rolling-origin scores: pinball loss at nine levels and coverage of the middle 80 %."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sourcing.forecast.figures import ForecastFigures
from sourcing.forecast.lattice import Ahead, step_for, totals
from sourcing.forecast.learn import Habit, learn_along
from sourcing.forecast.record import MADE, MISSED, Record, scatters_by_piece
from tests.benchmarks.point_methods import METHODS, SPREADS, point, quantiles
from tests.benchmarks.strange_sources import Family

Floats = NDArray[np.float64]
LEVELS = np.linspace(0.1, 0.9, 9)
FIRST = 6  # visits that every method has seen
AHEAD = (1, 4)
CELLS = 512


@dataclass(frozen=True)
class Score:
    """One method on one family."""

    loss: float  # mean over levels, origins and periods ahead; in parts of a series' mean
    covered: float  # of the middle 80 %; a step that crosses a limit counts by its part inside
    at_or_inside: float  # the same with both limits whole, as a reader of the page sees it
    by_source: tuple[float, ...]  # loss


def score_model(family: Family, figures: ForecastFigures, first: int = FIRST) -> Score:
    """Ours."""
    by_source, covers, plain = [], [], []
    for row in range(len(family.amounts)):
        losses = []
        for ahead in AHEAD:
            cdf, step, truth, scale = _foretold(family, row, ahead, figures, first)
            found = _quantiles(cdf, step)
            losses.append(_loss(found, truth) / scale)
            covers.append(_covered(cdf, step, truth))
            plain.append((found[:, 0] <= truth) & (truth <= found[:, -1]))
        by_source.append(np.concatenate(losses))
    return _score(by_source, np.concatenate(covers), np.concatenate(plain))


def _score(by_source: list[Floats], covers: Floats, plain: NDArray[np.bool_]) -> Score:
    return Score(
        loss=float(np.concatenate(by_source).mean()),
        covered=float(covers.mean()),
        at_or_inside=float(plain.mean()),
        by_source=tuple(float(each.mean()) for each in by_source),
    )


def record_of(family: Family, row: int, figures: ForecastFigures) -> Record:
    amounts = family.amounts[row : row + 1]
    return Record(
        counted=_by_piece(family, row, figures),
        happened=np.where(amounts > 0, MADE, MISSED).astype(np.int8),
        amount=amounts,
        weekday=family.weekdays[None, :],
        season=np.ones(amounts.shape),
        promised=family.promised[row : row + 1],
    )


def _by_piece(family: Family, row: int, figures: ForecastFigures) -> bool:
    """As a stream is read, from what was there before the first origin."""
    early = family.amounts[row, :FIRST]
    return family.counted and scatters_by_piece(early, up_to=figures.pieces_scatter_up_to.typical)


def _foretold(
    family: Family, row: int, ahead: int, figures: ForecastFigures, first: int
) -> tuple[Floats, Floats, Floats, float]:
    series = family.amounts[row]
    origins = np.arange(first, len(series) - ahead + 1)
    habit = _habits(family, row, figures, origins)
    days = origins[:, None] + np.arange(ahead)
    plan = Ahead(family.weekdays[days], np.ones(days.shape))
    step = step_for(habit, plan, cells=CELLS)
    if family.counted:  # one lattice of whole pieces for all origins
        step = np.full_like(step, np.ceil(step.max()))
    cdf = totals(habit, plan, step, cells=CELLS)[:, -1].cumsum(axis=1)
    return cdf, step, series[days].sum(axis=1), ahead * float(series.mean())


def _habits(family: Family, row: int, figures: ForecastFigures, origins: NDArray[np.intp]) -> Habit:
    along = list(learn_along(record_of(family, row, figures), figures))
    names = [name for name in Habit.__slots__ if name != "counted"]
    stacked = {name: np.concatenate([getattr(along[n], name) for n in origins]) for name in names}
    return replace(along[0], **stacked)


def _quantiles(cdf: Floats, step: Floats) -> Floats:
    cells = (cdf[:, None, :] < LEVELS[None, :, None] - 1e-9).sum(axis=2)
    return np.asarray(cells * step[:, None])


def _loss(found: Floats, truth: Floats) -> Floats:
    off = truth[:, None] - found
    return np.asarray(2 * np.maximum(LEVELS * off, (LEVELS - 1) * off).mean(axis=1))


def _covered(cdf: Floats, step: Floats, truth: Floats) -> Floats:
    """Part of the truth's own step that lies between 10 and 90 % (Czado and others, 2009)."""
    cell = np.minimum(np.round(truth / step).astype(int), CELLS - 1)
    rows = np.arange(len(cell))
    high, low = cdf[rows, cell], np.where(cell > 0, cdf[rows, cell - 1], 0.0)
    inside = np.minimum(high, LEVELS[-1]) - np.maximum(low, LEVELS[0])
    return np.clip(inside / np.maximum(high - low, 1e-12), 0, 1)


def score_points(family: Family, first: int = FIRST) -> dict[tuple[str, str], Score]:
    """Every point method with every spread about it."""
    found = {
        (method, spread): _score_point(family, method, spread, first)
        for method in METHODS
        for spread in SPREADS
    }
    return {key: score for key, score in found.items() if score is not None}


def _score_point(family: Family, method: str, spread: str, first: int) -> Score | None:
    by_source, plain = [], []
    for series in family.amounts:
        run, losses = point(method, series), []
        for ahead in AHEAD:
            for origin in range(first, len(series) - ahead + 1):
                said = quantiles(run, series, origin=origin, ahead=ahead, levels=LEVELS,
                                 counted=family.counted, spread=spread)  # fmt: skip
                if said is None:
                    return None
                truth = series[origin : origin + ahead].sum()
                losses.append(_loss(said[None], truth[None])[0] / (ahead * series.mean()))
                plain.append(said[0] <= truth <= said[-1])
        by_source.append(np.array(losses))
    return _score(by_source, np.array(plain), np.array(plain))
