"""What a record teaches: a promise first, then each pick-up, the recent ones more."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sourcing.forecast.figures import shipped
from sourcing.forecast.lattice import step_for_days
from sourcing.forecast.learn import Habit, learn, learn_along
from sourcing.forecast.many import quantiles_of_many
from tests.sourcing.forecast.shown import CAFE_SIX, record


def learnt(amounts: list[float | None], **more: object) -> Habit:
    return learn(record(amounts, **more), shipped())  # type: ignore[arg-type]


def test_without_a_past_the_promise_stands() -> None:
    habit = learnt([], promised=50)

    assert habit.mean[0] == pytest.approx(50)
    assert habit.chance_missed[0] == pytest.approx(shipped().missed_fraction.typical)


def test_one_pick_up_draws_the_promise_towards_itself() -> None:
    habit = learnt([30.0], promised=50)

    assert 30 < habit.mean[0] < 45


def test_the_cafes_one_miss_in_six_is_seen() -> None:
    habit = learnt([*map(float, CAFE_SIX)], counted=False)  # JOB.md 12, 22: missed 1 in 6

    assert habit.chance_missed[0] == pytest.approx(1 / 6, abs=0.06)
    assert habit.mean[0] == pytest.approx(60, rel=0.05)  # 62, 55, 70, 48, 65


def test_many_pick_ups_outweigh_the_promise() -> None:
    habit = learnt([30.0, 31, 29, 30] * 5, promised=300, counted=False)

    said = habit.mean[0] * habit.amount_by_weekday[0, [0, 3]]
    assert said == pytest.approx([30, 30], rel=0.05)


def test_a_missed_day_makes_the_next_miss_likelier_and_leaves_the_amount() -> None:
    before, after = list(learn_along(record([60.0, 62, 58, 0]), shipped()))[-2:]

    assert after.chance_missed[0] > before.chance_missed[0]
    assert after.mean[0] == pytest.approx(before.mean[0], rel=0.02)


def test_recent_pick_ups_weigh_more_than_old_ones() -> None:
    rising, falling = learnt([20.0] * 6 + [60.0] * 6), learnt([60.0] * 6 + [20.0] * 6)

    assert rising.mean[0] > 50
    assert falling.mean[0] < 30


def test_a_source_that_stopped_is_believed_within_six_misses() -> None:
    habit = learnt([60.0, 55, 62, 58, 61, 57, 60, 59] + [0] * 6)

    assert habit.chance_missed[0] > 0.5


def test_an_even_source_is_foretold_more_closely_than_an_uneven_one() -> None:
    even, uneven = learnt([50.0, 52, 48, 51, 49, 50]), learnt([10.0, 120, 30, 90, 5, 60])

    assert even.evenness[0] > 4 * uneven.evenness[0]


def test_a_long_gap_leaves_the_mean_and_widens_what_is_believed() -> None:
    past: list[float | None] = [50.0, 52, 48, 51, 49, 50]

    now, later = learnt(past, promised=50), learnt([*past, *[None] * 20], promised=50)

    assert later.mean[0] == pytest.approx(now.mean[0], rel=0.05)
    assert later.c[0] < now.c[0]
    assert later.missed[0] + later.made[0] < now.missed[0] + now.made[0]


def test_a_weekday_that_brings_twice_as_much_is_noticed_and_not_overdone() -> None:
    habit = learnt([60.0, 30] * 10)

    monday, thursday = habit.amount_by_weekday[0, [0, 3]]
    assert 1.4 < monday / thursday < 2
    assert habit.amount_by_weekday[0, 5] == 1


def test_a_weekday_that_is_often_missed_is_noticed() -> None:
    habit = learnt([60.0, 0] * 10)

    assert habit.missed_by_weekday[0, 3] > 1.3 > 1 > habit.missed_by_weekday[0, 0]


def test_misses_that_come_in_runs_are_noticed() -> None:
    runs = learnt(([50.0] * 5 + [0.0] * 3) * 5, weekdays=(0,))

    after_made, after_missed = runs.missed_after[0]
    assert after_missed > 1.1 > 1 > after_made


def test_a_weight_is_learnt_alike_in_grams_and_in_milligrams() -> None:
    grams, milligrams = (
        learnt([unit * each for each in (210.0, 180, 0, 240, 190, 200)], counted=False)
        for unit in (1, 1000)
    )

    assert milligrams.mean[0] == pytest.approx(1000 * grams.mean[0], rel=1e-3)
    assert milligrams.evenness[0] == pytest.approx(grams.evenness[0], rel=1e-3)


def test_streams_side_by_side_do_not_disturb_each_other() -> None:
    one, two = record([60.0, 0, 55, 70], promised=50), record([5.0, 6, 0, 4], promised=50)
    arrays = ("happened", "amount", "weekday", "season", "promised")
    both = type(one)(True, *(np.concatenate([getattr(one, a), getattr(two, a)]) for a in arrays))

    together = learn(both, shipped())

    assert together.mean[0] == pytest.approx(learn(one, shipped()).mean[0], rel=1e-6)
    assert together.mean[1] == pytest.approx(learn(two, shipped()).mean[0], rel=1e-6)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.one_of(st.none(), st.just(0.0), st.floats(1e-3, 1e10)), max_size=20),
    st.one_of(st.none(), st.floats(1e-3, 1e10)),
    st.booleans(),
)
def test_no_past_however_odd_breaks_the_sums(
    past: list[float | None], promised: float | None, counted: bool
) -> None:
    amounts = [each if not each or not counted else max(1.0, round(each)) for each in past]

    habit = learnt(amounts, promised=promised, counted=counted)  # warnings are errors

    assert habit.c[0] > 2
    assert 0 < habit.chance_missed[0] < 1
    assert np.isfinite([habit.mean[0], habit.evenness[0], habit.d[0]]).all()
    assert (habit.amount_by_weekday > 0).all()
    assert (habit.missed_by_weekday > 0).all()
    step = step_for_days(habit, 3.0, cells=64)
    assert np.isfinite(quantiles_of_many(habit, days=3, levels=(0.1, 0.9))).all()
    assert step[0] > 0
