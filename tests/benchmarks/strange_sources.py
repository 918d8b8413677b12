"""Sources that do not behave as the model thinks: what a forecast has to stand up to.

None of them draws a gamma, a Poisson about a gamma, or a Beta. Amounts are rounded log-normal,
uniform or mixed; misses come in runs, by weekday, or from one day on.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

Floats = NDArray[np.float64]
VISITS = 44


@dataclass(frozen=True)
class Family:
    """Series of one kind: (sources, visits), 0 where missed."""

    name: str
    counted: bool
    amounts: Floats
    weekdays: NDArray[np.intp]  # (visits,)
    promised: Floats  # (sources,), NaN where nothing was said


def families(seed: int, *, sources: int) -> list[Family]:
    """One family of each kind from a seed; another seed, other sources."""
    rng = np.random.default_rng(seed)
    return [_family(name, make, rng, sources) for name, make in KINDS.items()]


def _family(name: str, make: Callable[[Generator], Floats], rng: Generator, many: int) -> Family:
    amounts = np.stack([make(rng) for _ in range(many)])
    counted = not name.startswith("weights")
    days = (0, 3, 5) if "weekday" in name else (0, 3)
    weekdays = np.array([days[n % len(days)] for n in range(VISITS)], dtype=np.intp)
    said = amounts.max(axis=1) * rng.uniform(0.3, 1.2, many)  # a promise is a guess
    promised = np.where(rng.random(many) < 0.5, np.maximum(said, 1.0), np.nan)
    return Family(name, counted, amounts, weekdays, np.round(promised) if counted else promised)


def _level(rng: Generator) -> float:
    return float(np.exp(rng.uniform(np.log(8), np.log(80))))


def _counts(rng: Generator, mean: Floats, spread: float, missed: Floats | float) -> Floats:
    """Rounded log-normal about a mean, at least one piece; 0 where missed."""
    amount = np.maximum(1, np.round(mean * np.exp(rng.normal(-(spread**2) / 2, spread, VISITS))))
    return np.where(rng.random(VISITS) < missed, 0.0, amount)


def steady(rng: Generator) -> Floats:
    return _counts(rng, np.full(VISITS, _level(rng)), rng.uniform(0.08, 0.35), rng.uniform(0, 0.25))


def bursts(rng: Generator) -> Floats:
    """Quiet and busy weeks in runs; in quiet ones a pick-up is often missed."""
    busy = _runs(rng, stay=0.8)
    level = _level(rng)
    mean = np.where(busy, level * rng.uniform(2, 4), level)
    return _counts(rng, mean, 0.3, np.where(busy, 0.05, rng.uniform(0.2, 0.5)))


def trends(rng: Generator) -> Floats:
    """Growing or shrinking by a fixed part each visit."""
    rate = rng.choice([-1, 1]) * rng.uniform(0.015, 0.04)
    mean = _level(rng) * np.exp(rate * np.arange(VISITS))
    return _counts(rng, mean, rng.uniform(0.1, 0.3), 0.1)


def weekday_pattern(rng: Generator) -> Floats:
    """Three days a week that differ by a factor, one of them often missed."""
    factor = np.exp(rng.normal(0, 0.6, 3))
    missed = np.clip(rng.uniform(0, 0.15, 3) + rng.permutation([0, 0, 0.35]), 0, 1)
    day = np.arange(VISITS) % 3
    return _counts(rng, _level(rng) * factor[day], rng.uniform(0.1, 0.3), missed[day])


def changed_habit(rng: Generator) -> Floats:
    """From one day on somebody else takes most of it, or hands it over more often missed."""
    when = rng.integers(10, 34)
    after = np.arange(VISITS) >= when
    level, kind = _level(rng), rng.integers(3)
    mean = np.where(after & (kind != 1), level * rng.uniform(0.2, 0.5), level)
    missed = np.where(after & (kind != 0), rng.uniform(0.5, 0.9), 0.1)
    return _counts(rng, mean, rng.uniform(0.1, 0.3), missed)


def now_and_then(rng: Generator) -> Floats:
    """Mostly nothing, then a few pieces, in runs: a household, not a café."""
    busy = _runs(rng, stay=0.7)
    missed = np.where(busy, 0.4, 0.85)
    return np.where(rng.random(VISITS) < missed, 0.0, rng.integers(1, 7, VISITS) * 1.0)


def weights_steady(rng: Generator) -> Floats:
    """Grams, a triangle about a mean."""
    low = rng.uniform(0.4, 0.85)
    amount = rng.triangular(low, 1, 2 - low, VISITS) * rng.uniform(100, 3000)
    return np.where(rng.random(VISITS) < rng.uniform(0, 0.25), 0.0, np.round(amount, 1))


def weights_tide(rng: Generator) -> Floats:
    """Grams that swell and fall over months, with a heap now and then."""
    tide = 1 + rng.uniform(0.3, 0.7) * np.sin(
        np.arange(VISITS) / rng.uniform(4, 9) + rng.uniform(0, 6)
    )
    heap = np.where(rng.random(VISITS) < 0.08, 3.0, 1.0)
    amount = rng.uniform(100, 3000) * tide * heap * np.exp(rng.normal(0, 0.2, VISITS))
    return np.where(rng.random(VISITS) < 0.12, 0.0, np.round(amount, 1))


def _runs(rng: Generator, *, stay: float) -> NDArray[np.bool_]:
    turns = rng.random(VISITS) > stay
    return (np.cumsum(turns) + rng.integers(2)) % 2 == 1


KINDS: dict[str, Callable[[Generator], Floats]] = {
    "steady": steady,
    "bursts": bursts,
    "trends": trends,
    "weekday pattern": weekday_pattern,
    "changed habit": changed_habit,
    "now and then": now_and_then,
    "weights, steady": weights_steady,
    "weights, tide and heaps": weights_tide,
}
