"""What lots' ends teach, against a printed table and a general library."""

from datetime import date
from decimal import Decimal
from math import log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize

from inventory.science.spoiling import (
    Lasted,
    TooFewSpoiled,
    Weibull,
    fitted,
    learned_life,
    median_days,
    rate_per_day,
    share_sound,
)

# Freireich et al., Blood 21:699-716 (1963), 6-MP arm, weeks; True: the event happened.
RELAPSED = [6, 6, 6, 7, 10, 13, 16, 22, 23]
WITHOUT = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
SIX_MP = [Lasted(t, True) for t in RELAPSED] + [Lasted(t, False) for t in WITHOUT]
MONDAY = date(2026, 11, 23)


def test_share_sound_agrees_with_the_textbook_table() -> None:
    # Kleinbaum and Klein, Survival Analysis: 6-MP arm; standard errors by lifelines 0.30.3.
    expected = [
        (6, 21, 3, 0.857143, 0.07636),
        (7, 17, 1, 0.806723, 0.086935),
        (10, 15, 1, 0.752941, 0.09635),
        (13, 12, 1, 0.690196, 0.106815),
        (16, 11, 1, 0.627451, 0.114054),
        (22, 7, 1, 0.537815, 0.128234),
        (23, 6, 1, 0.448179, 0.134591),
    ]
    steps = share_sound(SIX_MP)

    assert [(s.days, s.at_risk, s.spoiled) for s in steps] == [row[:3] for row in expected]
    assert [s.share for s in steps] == pytest.approx([row[3] for row in expected], abs=0.0005)
    assert [s.standard_error for s in steps] == pytest.approx(
        [row[4] for row in expected], abs=0.0005
    )
    assert median_days(SIX_MP) == 23


def test_rate_counts_lots_used_up_sound() -> None:
    # 9 events over 359 weeks; scipy 1.17.1 CensoredData gives 0.02506964.
    assert rate_per_day(SIX_MP) == pytest.approx(0.02506964, abs=1e-8)


def test_weibull_agrees_with_the_reference_fit() -> None:
    # lifelines 0.30.3: shape 1.3537, scale 33.765, tolerance 0.01.
    law = fitted(SIX_MP)

    assert law.shape == pytest.approx(1.3537, abs=0.01)
    assert law.scale_days == pytest.approx(33.765, abs=0.01)


@given(
    st.lists(st.integers(min_value=1, max_value=60), min_size=3, max_size=15, unique=True),
    st.lists(st.integers(min_value=1, max_value=60), max_size=15),
)
def test_no_other_weibull_is_more_likely(spoiled: list[int], used_up: list[int]) -> None:
    ends = [Lasted(t, True) for t in spoiled] + [Lasted(t, False) for t in used_up]
    law = fitted(ends)

    def surprise(shape: float, scale: float) -> float:
        return -sum(
            (log(shape / scale) + (shape - 1) * log(e.days / scale)) * e.spoiled
            - (e.days / scale) ** shape
            for e in ends
        )

    best = surprise(law.shape, law.scale_days)
    for shape_part, scale_part in ((1.01, 1), (0.99, 1), (1, 1.01), (1, 0.99)):
        assert surprise(law.shape * shape_part, law.scale_days * scale_part) >= best - 1e-9


def test_weibull_agrees_with_a_general_minimiser() -> None:
    ends = [Lasted(3, True), Lasted(5, True), Lasted(6, True), Lasted(7, False), Lasted(2, False)]
    days = np.array([e.days for e in ends])
    spoiled = np.array([e.spoiled for e in ends])

    def surprise(logs: "np.ndarray[tuple[int], np.dtype[np.float64]]") -> float:
        shape, scale = np.exp(logs)
        hazard = np.log(shape / scale) + (shape - 1) * np.log(days / scale)
        return float(-(hazard * spoiled).sum() + ((days / scale) ** shape).sum())

    found = np.exp(minimize(surprise, [0.0, 1.0], method="Nelder-Mead", tol=1e-10).x)
    assert fitted(ends).shape == pytest.approx(found[0], rel=1e-4)
    assert fitted(ends).scale_days == pytest.approx(found[1], rel=1e-4)


def test_days_until_and_share_are_each_others_reverse() -> None:
    law = Weibull(shape=2.0, scale_days=10.0)

    assert law.share_sound(law.days_until(0.9)) == pytest.approx(0.9)
    assert law.share_sound(0) == 1


def test_median_is_unknown_while_more_than_half_lasted() -> None:
    assert median_days([Lasted(3, True), Lasted(9, False), Lasted(9, False)]) is None
    assert median_days([Lasted(3, True), Lasted(9, False)]) == 3
    assert median_days([]) is None


def test_learned_life_is_the_studios_own_figure_with_a_range() -> None:
    ends = [Lasted(t, True) for t in (3, 4, 4, 5)] + [Lasted(t, False) for t in (2, 3, 4)]
    figure = learned_life(ends, item="avocado stones", name="keeps_fresh_bench_days", since=MONDAY)

    assert figure.own
    assert figure.since == MONDAY
    assert figure.basis == "measured here"
    assert figure.source == "4 of 7 lots spoiled, measured here, 2026-11-23"
    assert figure.low is not None
    assert figure.high is not None
    assert figure.low <= figure.value <= figure.high
    assert Decimal(2) <= figure.value <= Decimal(4)


def test_lots_used_up_sound_make_the_learned_life_longer() -> None:
    spoiled = [Lasted(t, True) for t in (3, 4, 5)]
    sound = [Lasted(9, False)] * 6

    def value(ends: list[Lasted]) -> Decimal:
        return learned_life(
            ends, item="privet", name="keeps_fresh_bench_days", since=MONDAY, share=0.5
        ).value

    assert value(spoiled + sound) > value(spoiled)


def test_two_spoiled_lots_teach_nothing_and_three_do() -> None:
    three = [Lasted(3, True), Lasted(4, True), Lasted(5, True)]
    with pytest.raises(TooFewSpoiled) as caught:
        learned_life(three[:2], item="privet", name="keeps_fresh_bench_days", since=MONDAY)

    assert str(caught.value) == (
        "2 spoiled lots written down, 3 needed before they say how long a lot keeps. Mark lots"
        " bad or used up as they end."
    )
    assert learned_life(three, item="privet", name="keeps_fresh_bench_days", since=MONDAY).own


def test_all_spoiled_on_one_day_teach_no_shape() -> None:
    with pytest.raises(TooFewSpoiled) as caught:
        fitted([Lasted(4, True)] * 5)

    assert caught.value.spoiled == 1


def test_the_last_lot_spoiling_leaves_none_and_no_error() -> None:
    (step,) = share_sound([Lasted(4, True)])

    assert (step.share, step.standard_error) == (0, 0)
