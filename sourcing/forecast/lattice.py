"""What agreed days bring in all, as chances on a lattice of amounts.

Given the habit (its level and its chance of a miss) agreed days are independent, so their sum is a
product of transforms; the habit itself is summed over with a few nodes. No closed form is needed
for days that differ, and a day more can never make a total smaller.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sourcing.forecast.gamma import Floats, log_gamma
from sourcing.forecast.learn import Habit

LEVELS, CHANCES = 21, 7  # nodes; twice as many move no tested quantile by more than a cell
NODES_REACH = 4.0  # to each side of the centre, in spreads
FAR = 4.0, 5.0  # how far the lattice reaches: spreads of the habit, then of the sum about it
TILT = 16.0  # natural logarithm of how much fainter what runs over comes back


@dataclass(frozen=True, slots=True)
class Ahead:
    """Agreed days to come, in order, the same number for each stream."""

    weekday: NDArray[np.intp]  # (streams, days)
    season: Floats  # (streams, days): factor of the season; 0 where nothing may be fetched

    @property
    def days(self) -> int:
        return int(self.weekday.shape[1])


def step_for(habit: Habit, ahead: Ahead, *, cells: int) -> Floats:
    """Width of a cell, (streams,), so that so many reach past all that may well come."""
    days = (ahead.season * np.take_along_axis(habit.amount_by_weekday, ahead.weekday, 1)).sum(
        axis=1
    )
    return step_for_days(habit, np.maximum(days, 1.0), cells=cells)


def step_for_days(habit: Habit, days: Floats | float, *, cells: int) -> Floats:
    """The same for so many days of which each is like all others."""
    apart = (habit.d + habit.c - 1) / habit.d if habit.counted else 1.0
    mean = habit.evenness * habit.d / (habit.c - 1)
    high = mean * (1 + FAR[0] * np.sqrt(apart / (habit.c - 2))) + habit.counted
    uneven = np.sqrt((1 / habit.evenness + habit.counted / high) / days)
    reach = high * days * (1 + FAR[1] * uneven)
    step = reach / (cells - 1)
    return np.asarray(np.ceil(step) if habit.counted else step)


def totals(habit: Habit, ahead: Ahead, step: Floats, *, cells: int) -> Floats:
    """Chances of the total after each agreed day, (streams, days, cells); cell k is k steps.

    Parameters
    ----------
    habit : of each stream
    ahead : what is agreed
    step : (streams,) above 0; a whole number of pieces for counts. With a step of one piece counts
        are exact but for the nodes; above it, and for weights, a pick-up is taken as gamma.
    cells : even; what lies beyond the last is counted with the last
    """
    level, level_weight = _levels(habit)
    logit, chance_weight = _chances(habit)
    weight = (level_weight[:, :, None] * chance_weight[:, None, :])[..., None]
    after_missed = habit.last_missed.astype(complex)[:, None, None, None]
    after_made = 1 - after_missed
    found, known = [], _Known(habit, level, step, cells)
    for day in range(ahead.days):
        made_made, made_missed = _made(habit, logit, ahead, day)
        amount = known.transform(ahead, day)[:, :, None, :]
        made = (after_made * made_made + after_missed * made_missed) * amount
        missed = after_made * (1 - made_made) + after_missed * (1 - made_missed)
        shut = (ahead.season[:, day] <= 0)[:, None, None, None]
        after_made = np.where(shut, after_made, made)
        after_missed = np.where(shut, after_missed, missed)
        both = (weight * (after_made + after_missed)).sum(axis=(1, 2))
        found.append(np.fft.irfft(both, cells))
    chances = np.maximum(np.stack(found, axis=1) / _tilt(cells), 0.0)
    beyond = np.maximum(1 - chances.sum(axis=2), 0.0)
    chances[:, :, -1] += beyond
    return np.asarray(chances / chances.sum(axis=2, keepdims=True))


def _tilt(cells: int) -> Floats:
    """Falling weights that keep what runs over the end of the lattice from coming in at its start.

    References
    ----------
    Grübel & Hermesmeier, Computation of compound distributions I, ASTIN Bulletin 29:197 (1999).
    """
    return np.exp(-TILT * np.arange(cells) / cells)


class _Known:
    """Transforms of one pick-up, kept by weekday and season: most days are alike."""

    def __init__(self, habit: Habit, level: Floats, step: Floats, cells: int) -> None:
        self.habit, self.level, self.step, self.cells = habit, level, step, cells
        self.kept: dict[bytes, NDArray[np.complex128]] = {}

    def transform(self, ahead: Ahead, day: int) -> NDArray[np.complex128]:
        """Transform of what a made pick-up brings on a day, (streams, levels, frequencies)."""
        weekday, season = ahead.weekday[:, day], ahead.season[:, day]
        key = weekday.tobytes() + season.tobytes()
        if key not in self.kept:
            rows = np.arange(len(weekday))
            factor = self.habit.amount_by_weekday[rows, weekday] * np.where(season > 0, season, 1.0)
            mean = self.level * factor[:, None]
            pick_up = _pick_up(self.habit, mean, self.step, self.cells)
            self.kept[key] = np.fft.rfft(pick_up * _tilt(self.cells), axis=-1)
        return self.kept[key]


def _pick_up(habit: Habit, mean: Floats, step: Floats, cells: int) -> Floats:
    """Chances of one made pick-up of a given mean, (streams, levels, cells)."""
    even = habit.evenness[:, None]
    if habit.counted and np.all(step == 1):
        return _counts(even, mean, cells)
    variance = mean**2 / even
    if habit.counted:
        variance, mean = variance + mean, mean + 1
    return _weights(mean**2 / variance, mean, step[:, None], cells)


def _counts(even: Floats, mean: Floats, cells: int) -> Floats:
    """Negative binomial, one piece up: a Poisson count about a gamma rate of the day."""
    k = np.arange(1, cells - 1)
    grown = np.cumsum(np.log((k - 1 + even[..., None]) / k), axis=-1)
    log = grown + k * np.log(mean / (mean + even))[..., None]
    start = np.exp(even * np.log(even / (even + mean)))[..., None]
    empty = np.zeros_like(start)
    return np.concatenate([empty, start, start * np.exp(log)], axis=-1)


def _weights(even: Floats, mean: Floats, step: Floats, cells: int) -> Floats:
    """Gamma density at the middle of each cell; the first, half as wide, by its leading power."""
    rate = even / mean * step
    k = np.arange(1, cells)
    norm = even * np.log(rate) - log_gamma(even)
    log = norm[..., None] + (even[..., None] - 1) * np.log(k) - rate[..., None] * k
    first = norm + even * np.log(0.5) - np.log(even) - rate / 4
    log = np.concatenate([first[..., None], log], axis=-1)
    chances = np.exp(log - log.max(axis=-1, keepdims=True))
    return np.asarray(chances / chances.sum(axis=-1, keepdims=True))


def _levels(habit: Habit) -> tuple[Floats, Floats]:
    """Nodes of the mean of a pick-up and their weights, (streams, levels).

    Evenly spaced on a logarithmic scale, where the density is smooth and one-humped: there the
    plain sum of trapezes is as good as any rule (Trefethen & Weideman, SIAM Review 56:385, 2014).
    It falls off to the left as slowly as the first shape is small, to the right never slowly.
    """
    c, d = habit.c[:, None], habit.d[:, None]
    left = np.sqrt(1 / c + (1 / d if habit.counted else 0))
    right = np.sqrt(1 / c + (1 / (d + 1) if habit.counted else 0))
    line = np.linspace(0, 1, LEVELS)
    z = np.log(d / c) + NODES_REACH * ((left + right) * line - left)
    log = d * z - (c + d) * np.logaddexp(0, z) if habit.counted else -c * z - d * np.exp(-z)
    tail = _tail(d, z) if habit.counted else np.ones_like(d)
    return habit.evenness[:, None] * np.exp(z), _share(log, tail)


def _chances(habit: Habit) -> tuple[Floats, Floats]:
    """Nodes of the log odds of a miss and their weights, (streams, chances)."""
    a, b = habit.missed[:, None], habit.made[:, None]
    z = np.log(a / b) + np.sqrt(1 / a + 1 / b) * np.linspace(-NODES_REACH, NODES_REACH, CHANCES)
    return z, _share(a * z - (a + b) * np.logaddexp(0, z), _tail(a, z), _tail(b, z))


def _made(habit: Habit, logit: Floats, ahead: Ahead, day: int) -> tuple[Floats, Floats]:
    """Chance of a made pick-up at each node, after a made one and after a missed one."""
    rows = np.arange(len(logit))
    odds = np.log(habit.missed_by_weekday[rows, ahead.weekday[:, day]])[:, None] + logit
    chances = (1 / (1 + np.exp(odds + np.log(factor)[:, None])) for factor in habit.missed_after.T)
    made_made, made_missed = (chance[:, None, :, None] for chance in chances)
    return made_made, made_missed


def _tail(power: Floats, z: Floats) -> Floats:
    """What the outmost node stands for, in nodes: half its own width, and all the tail beyond."""
    return 0.5 + 1 / (power * (z[:, 1:2] - z[:, :1]))


def _share(log: Floats, first: Floats, last: Floats | float = 1.0) -> Floats:
    """Weights of nodes from the logarithm of their density; the outmost ones carry the tails."""
    weight = np.exp(log - log.max(axis=1, keepdims=True))
    weight[:, :1] *= first
    weight[:, -1:] *= last
    return np.asarray(weight / weight.sum(axis=1, keepdims=True))
