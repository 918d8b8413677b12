"""Thousands at once: the closed forms beside scipy's, and beside the lattice."""

from dataclasses import fields, replace

import numpy as np
import pytest
from scipy import stats

from inventory.science.unclear import OutOfRange
from sourcing.forecast.lattice import Ahead, step_for, totals
from sourcing.forecast.learn import Habit
from sourcing.forecast.many import quantiles_of_many
from tests.sourcing.forecast.shown import habit_of

LEVELS = (0.1, 0.5, 0.9)


def test_small_counts_are_exactly_scipys() -> None:
    habit = habit_of(evenness=3, c=20, d=12, missed=2, made=8)

    found = quantiles_of_many(habit, days=1, levels=LEVELS)

    k = np.arange(200)
    cdf = 0.2 + 0.8 * stats.betanbinom.cdf(k - 1, 3, 20, 12)
    assert found[0].tolist() == [float((cdf < level).sum()) for level in LEVELS]


@pytest.mark.parametrize("days", [1, 4])
@pytest.mark.parametrize(
    "habit",
    [habit_of(evenness=5, c=30, d=40), habit_of(evenness=12, c=40, d=160),
     habit_of(counted=False, evenness=12, c=40, d=9000)],
    ids=["few pieces", "many pieces", "a weight"],
)  # fmt: skip
def test_it_agrees_with_the_lattice_to_a_cell(habit: Habit, days: int) -> None:
    plan = Ahead(np.zeros((1, days), dtype=np.intp), np.ones((1, days)))
    step = step_for(habit, plan, cells=2048)
    cdf = totals(habit, plan, step, cells=2048)[0, -1].cumsum()
    expected = [float((cdf < level).sum()) * step[0] for level in LEVELS]

    found = quantiles_of_many(habit, days=days, levels=LEVELS)

    cell = expected[-1] / 20
    assert found[0] == pytest.approx(expected, abs=cell)


def test_each_stream_is_answered_by_itself() -> None:
    one, two = habit_of(d=30), habit_of(d=300)
    names = [each.name for each in fields(Habit) if each.name != "counted"]
    both = replace(one, **{name: np.concatenate([getattr(one, name), getattr(two, name)])
                           for name in names})  # fmt: skip

    found = quantiles_of_many(both, days=2, levels=LEVELS)

    assert found[0].tolist() == quantiles_of_many(one, days=2, levels=LEVELS)[0].tolist()
    assert found[1].tolist() == quantiles_of_many(two, days=2, levels=LEVELS)[0].tolist()


def test_no_days_and_a_level_of_one_are_refused() -> None:
    with pytest.raises(OutOfRange, match="days is 0; it must be 1 or more"):
        quantiles_of_many(habit_of(), days=0, levels=LEVELS)
    with pytest.raises(OutOfRange, match="each above 0 and below 1"):
        quantiles_of_many(habit_of(), days=1, levels=(0.5, 1.0))
