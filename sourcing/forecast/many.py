"""Thousands of streams at once: what each brings in so many agreed days that are alike.

Closed forms: misses are beta-binomial, the sum of so many made pick-ups is beta negative binomial
(counts) or beta prime (weights). Days that differ need `lattice`, which this agrees with.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace

import numpy as np
from numpy.typing import NDArray

from inventory.science.unclear import OutOfRange
from sourcing.forecast.gamma import Floats, Halves, log_gamma
from sourcing.forecast.lattice import step_for_days
from sourcing.forecast.learn import Habit

CELLS = 96
SMALLEST = 1e-30


def quantiles_of_many(habit: Habit, *, days: int, levels: Sequence[float]) -> Floats:
    """Quantiles of the total of each stream after so many agreed days that are all alike.

    Parameters
    ----------
    habit : of each stream
    days : 1 or more; weekdays and season are left out
    levels : each above 0 and below 1, in order

    Returns
    -------
    (streams, levels), in pieces or in the unit of the weights; right to a cell, the 96th part of
    all that may well come, and exact where that is below 96 pieces

    Raises
    ------
    OutOfRange
        If days or a level lies outside its range.

    References
    ----------
    Beta-binomial and beta negative binomial: Johnson, Kemp & Kotz, Univariate Discrete
    Distributions, 3rd ed. (2005), s. 6.2; beta prime: Johnson, Kotz & Balakrishnan, Continuous
    Univariate Distributions 2, 2nd ed. (1995), s. 25.
    """
    if days < 1:
        raise OutOfRange("days", days, "1 or more")
    if not all(0 < level < 1 for level in levels):
        raise OutOfRange("levels", list(levels), "each above 0 and below 1")
    step = step_for_days(habit, float(days), cells=CELLS)
    exact = (step <= 1) & habit.counted
    found = np.empty((len(step), len(levels)))
    for rows, chances_of in ((exact, _counts), (~exact, _amounts)):
        if rows.any():
            some = _rows(habit, rows)
            chances = _mixed(some, chances_of(some, step[rows], days), days)
            found[rows] = _quantiles(chances, step[rows], np.array(levels), whole=habit.counted)
    return found


def _rows(habit: Habit, rows: NDArray[np.bool_]) -> Habit:
    arrays = (each.name for each in fields(habit) if each.name != "counted")
    return replace(habit, **{name: getattr(habit, name)[rows] for name in arrays})


def _mixed(habit: Habit, sums: Halves, days: int) -> Floats:
    """Sums of 1, 2, ... made pick-ups, (streams, made, cells), each by the chance of so many."""
    chance = _made(habit, days)
    of_made = chance[:, 1:, None].astype(np.float32)
    chances: Floats = (of_made * sums).sum(axis=1).astype(np.float64)
    chances[:, 0] += chance[:, 0]
    return chances


def _made(habit: Habit, days: int) -> Floats:
    """Chance of 0, 1, ... made pick-ups, (streams, days + 1)."""
    made = np.arange(days + 1.0)
    a, b = habit.made[:, None], habit.missed[:, None]
    ways = -log_gamma(made + 1) - log_gamma(days - made + 1)
    chance = np.exp(ways + log_gamma(a + made) + log_gamma(b + days - made) - log_gamma(a)
                    - log_gamma(b))  # fmt: skip
    return np.asarray(chance / chance.sum(axis=1, keepdims=True))


def _counts(habit: Habit, step: Floats, days: int) -> Halves:
    """Beta negative binomial by its ratio of neighbours, shifted by a piece a pick-up."""
    made = np.arange(1, days + 1)
    even = (habit.evenness[:, None] * made).astype(np.float32)[..., None]
    c, d = (x.astype(np.float32)[:, None, None] for x in (habit.c, habit.d))
    k = np.arange(1, CELLS, dtype=np.float32)
    ratio = (even + k - 1) * (d + k - 1) / (k * (c + d + even + k - 1))
    start = _first_chance(habit, made)
    chances = np.concatenate([start, start * np.cumprod(ratio, axis=2)], axis=2)
    for row, pieces in enumerate(made):
        chances[:, row, pieces:] = chances[:, row, :-pieces].copy()
        chances[:, row, :pieces] = 0
    return np.asarray(chances)


def _first_chance(habit: Habit, made: NDArray[np.int_]) -> Halves:
    """Chance that made pick-ups bring nothing beyond their first pieces."""
    even, c, d = habit.evenness[:, None] * made, habit.c[:, None], habit.d[:, None]
    log = log_gamma(c + even) - log_gamma(c) + log_gamma(c + d) - log_gamma(c + d + even)
    return np.asarray(np.exp(log), dtype=np.float32)[..., None]


def _amounts(habit: Habit, step: Floats, days: int) -> Halves:
    """Beta prime density at the middle of each cell; a large count is taken as a weight."""
    made = np.arange(1, days + 1)
    even, c, d = _as_weights(habit)
    shape = (even[:, None] * made).astype(np.float32)[..., None]
    x = np.arange(CELLS, dtype=np.float32) + np.where(np.arange(CELLS) > 0, 0, np.float32(0.25))
    wide = (d / step).astype(np.float32)[:, None, None]
    log_x, log_all = np.log(x), np.log(x + wide)
    log = (shape - 1) * log_x - (shape + c.astype(np.float32)[:, None, None]) * log_all
    chances = np.exp(log - log.max(axis=2, keepdims=True))
    chances[..., 0] *= 0.5
    return np.asarray(chances / np.maximum(chances.sum(axis=2, keepdims=True), SMALLEST))


def _as_weights(habit: Habit) -> tuple[Floats, Floats, Floats]:
    """The same mean and spreads as if amounts were weighed: a count's own scatter joins in."""
    if not habit.counted:
        return habit.evenness, habit.c, habit.d
    rest = habit.mean - 1
    variance = rest**2 / habit.evenness + rest
    even = habit.mean**2 / variance
    wide = (habit.d + habit.c - 1) / (habit.d * (habit.c - 2)) * (rest / habit.mean) ** 2
    c = 2 + 1 / wide
    return even, c, habit.mean * (c - 1) / even


def _quantiles(chances: Floats, step: Floats, levels: Floats, *, whole: bool) -> Floats:
    reached = chances.cumsum(axis=1)
    goal = levels[None, :] * reached[:, -1:] - 1e-9
    cells = (reached[:, None, :] < goal[..., None]).sum(axis=2)
    found = cells * step[:, None]
    return np.asarray(np.round(found) if whole else found)
