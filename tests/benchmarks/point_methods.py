"""Bare references for intermittent series: naive, Croston, SBA, TSB, and honest spreads about them.

Conventions as in `checks/07_intermittent.json`: sizes, intervals and chances are smoothed with 0.1,
each from its first value; the first interval is the index of the first demand, counted from 1.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import stats

Floats = NDArray[np.float64]
METHODS = ("naive", "Croston", "SBA", "TSB")
SPREADS = ("moments", "errors", "hurdle")
SMOOTH = 0.1


@dataclass(frozen=True)
class Point:
    """Forecasts before each period and after the last: mean, and its parts where it has parts."""

    mean: Floats
    size: Floats | None = None
    chance: Floats | None = None


def point(method: str, series: Floats) -> Point:
    """A method run along a series; nan before the first demand (naive: before the first period)."""
    if method == "naive":
        return Point(np.concatenate([[np.nan], series]))
    if method == "TSB":
        size, chance = tsb(series, SMOOTH, SMOOTH)
        return Point(size * chance, size, chance)
    size, interval = croston(series, SMOOTH)
    chance = (1 - SMOOTH / 2 if method == "SBA" else 1.0) / interval
    return Point(size * chance, size, np.minimum(chance, 1.0))


def croston(series: Floats, smooth: float) -> tuple[Floats, Floats]:
    """Smoothed sizes and intervals (Croston, Oper. Res. Q. 23:289, 1972)."""
    size = interval = np.nan
    since, sizes, intervals = 1, [np.nan], [np.nan]
    for amount in series:
        if amount > 0:
            first = np.isnan(size)
            size = amount if first else size + smooth * (amount - size)
            interval = since if first else interval + smooth * (since - interval)
            since = 0
        since += 1
        sizes.append(size)
        intervals.append(interval)
    return np.array(sizes), np.array(intervals)


def tsb(series: Floats, smooth_size: float, smooth_chance: float) -> tuple[Floats, Floats]:
    """Smoothed sizes and chances (Teunter, Syntetos & Babai, Eur. J. Oper. Res. 214:606, 2011)."""
    size, chance = np.nan, np.nan
    sizes, chances = [np.nan], [np.nan]
    for amount in series:
        seen = float(amount > 0)
        chance = seen if np.isnan(chance) else chance + smooth_chance * (seen - chance)
        if seen:
            size = amount if np.isnan(size) else size + smooth_size * (amount - size)
        sizes.append(size)
        chances.append(chance)
    return np.array(sizes), np.array(chances)


def quantiles(
    found: Point,
    series: Floats,
    *,
    origin: int,
    ahead: int,
    levels: Floats,
    counted: bool,
    spread: str,
) -> Floats | None:
    """Quantiles of the next periods' sum as a method and a spread about it would say; None: cannot.

    moments : negative binomial (counts) or gamma (weights) with the method's mean and the smoothed
        square of its one-step errors as variance, both times the periods ahead
    errors : the method's mean plus what its own sums of so many periods were off by, so far
    hurdle : a chance of some in each period, sizes negative binomial or gamma about the method's
        size with the sample variance of the sizes so far
    """  # fmt: skip
    if not np.isfinite(found.mean[origin]):
        return np.zeros(len(levels))
    if spread == "moments":
        variance = _smoothed_square(found.mean[:origin], series[:origin])
        return _two_moments(ahead * found.mean[origin], ahead * variance, levels, counted)
    if spread == "errors":
        return _of_errors(found.mean, series[:origin], ahead, levels, counted)
    if found.size is None or found.chance is None:
        return None
    sizes = series[:origin][series[:origin] > 0]
    variance = float(np.var(sizes, ddof=1)) if len(sizes) > 1 else float(sizes[0])
    return _hurdle(found.chance[origin], found.size[origin], variance, ahead, levels, counted)


def _smoothed_square(mean: Floats, series: Floats) -> float:
    errors = ((series - mean) ** 2)[np.isfinite(mean)]
    if not len(errors):
        return float(series.mean() + series.var())
    level = float(errors[: max(1, len(errors) // 2)].mean())
    for error in errors[max(1, len(errors) // 2) :]:
        level += SMOOTH * (error - level)
    return level


def _two_moments(mean: float, variance: float, levels: Floats, counted: bool) -> Floats:
    if mean <= 0:
        return np.zeros(len(levels))
    if not counted:
        variance = max(variance, 1e-6 * mean**2)
        return np.asarray(stats.gamma.ppf(levels, mean**2 / variance, scale=variance / mean))
    if variance <= mean * 1.001:
        return np.asarray(stats.poisson.ppf(levels, mean))
    return np.asarray(stats.nbinom.ppf(levels, mean**2 / (variance - mean), mean / variance))


def _of_errors(mean: Floats, series: Floats, ahead: int, levels: Floats, counted: bool) -> Floats:
    origins = np.arange(len(series) - ahead + 1)
    sums = np.array([series[n : n + ahead].sum() for n in origins])
    errors = (sums - ahead * mean[origins])[np.isfinite(mean[origins])]
    centre = ahead * mean[len(series)]
    if not len(errors):
        return np.full(len(levels), centre)
    found = np.maximum(centre + np.quantile(errors, levels), 0.0)
    return np.asarray(np.round(found) if counted else found)


def _hurdle(
    chance: float, size: float, variance: float, ahead: int, levels: Floats, counted: bool
) -> Floats:
    many = np.arange(1, ahead + 1)
    top = ahead * size + 8 * np.sqrt(ahead * (variance + size**2))
    x = np.arange(int(top) + 2) if counted else np.linspace(0, top, 600)
    weight = stats.binom.pmf(np.arange(ahead + 1), ahead, chance)
    cdf = weight[0] + sum(
        w * _size_cdf(x, n, size, variance, counted) for n, w in zip(many, weight[1:], strict=True)
    )
    return np.asarray(x[np.minimum(np.searchsorted(cdf, levels), len(x) - 1)], dtype=float)


def _size_cdf(x: Floats, many: int, size: float, variance: float, counted: bool) -> Floats:
    """Of so many sizes; a counted size is one piece and a negative binomial rest."""
    if not counted:
        variance = max(variance, 1e-6 * size**2)
        return np.asarray(stats.gamma.cdf(x, many * size**2 / variance, scale=variance / size))
    rest = max(size - 1, 1e-6)
    if variance <= rest * 1.001:
        return np.asarray(stats.poisson.cdf(x - many, many * rest))
    return np.asarray(
        stats.nbinom.cdf(x - many, many * rest**2 / (variance - rest), rest / variance)
    )
