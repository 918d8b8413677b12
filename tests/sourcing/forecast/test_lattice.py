"""Totals on a lattice beside closed forms of scipy, drawn samples, and what must always hold."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from sourcing.forecast.gamma import Floats
from sourcing.forecast.lattice import Ahead, step_for, totals
from sourcing.forecast.learn import Habit
from tests.sourcing.forecast.shown import habit_of, with_factors

LEVELS = (0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95)
CELLS = 1024


def ahead(*weekdays: int, season: float = 1.0) -> Ahead:
    days = np.array([weekdays], dtype=np.intp)
    return Ahead(days, np.full(days.shape, season))


def reached(habit: Habit, plan: Ahead, step: float | None = None) -> tuple[Floats, float]:
    """Chance of at most each amount after each day, and the step."""
    found = step_for(habit, plan, cells=CELLS) if step is None else np.array([step])
    return totals(habit, plan, found, cells=CELLS)[0].cumsum(axis=1), float(found[0])


def quantiles(cdf: Floats, step: float) -> list[float]:
    return [float((cdf < level - 1e-9).sum()) * step for level in LEVELS]


@pytest.mark.parametrize("d", [0.3, 2.0, 30.0])
def test_one_count_is_beta_negative_binomial_with_a_chance_of_nothing(d: float) -> None:
    habit = habit_of(evenness=6, c=20, d=d, missed=2, made=8)

    cdf, _ = reached(habit, ahead(0), step=1.0)

    k = np.arange(60)  # scipy names the beta of a success the other way round
    expected = 0.2 + 0.8 * stats.betanbinom.cdf(k - 1, 6, 20, d)
    assert cdf[0, :60] == pytest.approx(expected, abs=1e-3)


def test_one_weight_is_beta_prime_with_a_chance_of_nothing() -> None:
    habit = habit_of(counted=False, evenness=6, c=20, d=9500)

    cdf, step = reached(habit, ahead(0))

    edges = (np.arange(CELLS) + 0.5) * step
    expected = 0.2 + 0.8 * stats.betaprime.cdf(edges / 9500, 6, 20)
    assert cdf[0] == pytest.approx(expected, abs=1e-3)


def test_three_days_alike_are_beta_binomial_many_pick_ups() -> None:
    habit = habit_of(evenness=6, c=20, d=30, missed=2, made=8)

    cdf, _ = reached(habit, ahead(0, 0, 0), step=1.0)

    k = np.arange(120)
    made = stats.betabinom.pmf(np.arange(4), 3, 8, 2)
    expected = made[0] + sum(
        made[m] * stats.betanbinom.cdf(k - m, 6 * m, 20, 30) for m in range(1, 4)
    )
    assert cdf[2, :120] == pytest.approx(expected, abs=1e-3)


def test_days_that_differ_agree_with_a_hundred_thousand_draws() -> None:
    habit = with_factors(habit_of(evenness=9, c=25, d=60), amount={0: 1.6, 3: 0.5},
                         missed={3: 3.0})  # fmt: skip
    rng = np.random.default_rng(20261123)

    cdf, step = reached(habit, ahead(0, 3, 0, 3))

    assert quantiles(cdf[3], step) == pytest.approx(
        _drawn(habit, (0, 3, 0, 3), rng), rel=0.02, abs=1.5
    )


def _drawn(habit: Habit, weekdays: tuple[int, ...], rng: np.random.Generator) -> Floats:
    many = 100_000
    part = 1 - rng.beta(habit.c[0], habit.d[0], many)
    level, odds = habit.evenness[0] * part / (1 - part), rng.beta(2, 8, many)
    total = np.zeros(many)
    for weekday in weekdays:
        of_day = odds / (1 - odds) * habit.missed_by_weekday[0, weekday]
        mean = level * habit.amount_by_weekday[0, weekday]
        count = 1 + rng.poisson(rng.gamma(habit.evenness[0], mean / habit.evenness[0]))
        total += np.where(rng.random(many) < of_day / (1 + of_day), 0, count)
    return np.quantile(total, LEVELS)


@settings(max_examples=20, deadline=None)
@given(
    evenness=st.floats(1, 120),
    c=st.floats(3, 200),
    mean=st.floats(0.5, 90),
    missed=st.floats(0.2, 20),
    made=st.floats(0.2, 20),
    amount=st.floats(0.1, 4),
    odds=st.floats(0.05, 20),
)
def test_a_day_more_never_lowers_a_quantile(
    evenness: float, c: float, mean: float, missed: float, made: float, amount: float, odds: float
) -> None:
    habit = habit_of(evenness=evenness, c=c, d=mean * (c - 1) / evenness, missed=missed, made=made)
    habit = with_factors(habit, amount={3: amount}, missed={3: odds})

    cdf, _ = reached(habit, ahead(0, 3, 3, 0))

    assert (np.diff(cdf, axis=0) <= 1e-6).all()
    assert (np.diff(cdf, axis=1) >= -1e-12).all()


def test_a_closed_day_brings_nothing() -> None:
    habit = habit_of()
    plan = Ahead(np.array([[0, 3]], dtype=np.intp), np.array([[1.0, 0.0]]))

    cdf, _ = reached(habit, plan, step=1.0)

    assert cdf[1] == pytest.approx(cdf[0], abs=1e-12)
    assert reached(habit, ahead(0, 3), step=1.0)[0][1, 5] < cdf[1, 5]


def test_a_season_twice_as_rich_brings_twice_the_weight() -> None:
    habit = habit_of(counted=False, d=9500)

    plain, twice = reached(habit, ahead(0)), reached(habit, ahead(0, season=2.0))

    assert quantiles(twice[0][0], twice[1]) == pytest.approx(
        [2 * q for q in quantiles(plain[0][0], plain[1])], rel=0.01
    )
