"""Cooling by Newton's law, and which fall in warmth animal hair does not bear."""

from __future__ import annotations

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from inventory.science.felting import cooled_c, minutes_to_cool, shock
from inventory.science.heating import OutOfRange

WARMTH = st.floats(0, 100)
PACE = st.floats(0.01, 5)


@pytest.mark.parametrize("hours", [0.5, 4, 19.4])
def test_cooling_agrees_with_the_equation_solved_step_by_step(hours: float) -> None:
    # scipy 1.x solve_ivp on Newton's law itself, not on its solution.
    solved = solve_ivp(lambda _, warm: -0.2 * (warm - 8), (0, hours), [82], rtol=1e-9)

    found = cooled_c(82, around_c=8, minutes=hours * 60, per_h=0.2)
    assert found == pytest.approx(solved.y[0][-1], abs=1e-4)


def test_half_of_the_difference_is_gone_after_ln_2_over_the_pace() -> None:
    assert cooled_c(80, around_c=20, minutes=60 * 0.693147, per_h=1) == pytest.approx(50, abs=1e-3)


@given(WARMTH, WARMTH, st.floats(0, 5000), PACE)
def test_a_bath_never_passes_the_warmth_around_it(
    warm: float, around: float, minutes: float, pace: float
) -> None:
    found = cooled_c(warm, around_c=around, minutes=minutes, per_h=pace)

    assert min(warm, around) - 1e-9 <= found <= max(warm, around) + 1e-9


@given(WARMTH, WARMTH, WARMTH, PACE)
def test_after_the_time_to_cool_it_has_cooled_and_a_minute_sooner_it_has_not(
    warm: float, to: float, around: float, pace: float
) -> None:
    minutes = minutes_to_cool(warm, to_c=to, around_c=around, per_h=pace)

    if minutes is None:
        assert to <= around
        assert cooled_c(warm, around_c=around, minutes=1e4, per_h=pace) >= to
    elif minutes == 0:
        assert warm <= to
    else:
        assert cooled_c(warm, around_c=around, minutes=minutes, per_h=pace) <= to + 1e-6
        assert cooled_c(warm, around_c=around, minutes=minutes - 1, per_h=pace) >= to - 1e-6


def test_the_fall_that_is_borne_is_borne_to_the_degree() -> None:
    assert shock(left_c=30, arrives_c=23, meets_c=8, bears_k=15) is None
    found = shock(left_c=30, arrives_c=23.1, meets_c=8, bears_k=15)
    assert found is not None
    assert found.begin_at_c == 9


def test_going_into_a_warmer_bath_is_no_shock() -> None:
    assert shock(left_c=8, arrives_c=8, meets_c=80, bears_k=0) is None


def test_water_at_the_warmth_that_is_named_is_borne() -> None:
    found = shock(left_c=55, arrives_c=35.6, meets_c=8, bears_k=15)

    assert found is not None
    assert found.begin_at_c == 21
    assert shock(left_c=55, arrives_c=35.6, meets_c=21, bears_k=15) is None
    assert shock(left_c=55, arrives_c=35.6, meets_c=20, bears_k=15) is not None


@pytest.mark.parametrize(
    ("name", "call"),
    [
        ("minutes", lambda: cooled_c(80, around_c=8, minutes=-1, per_h=0.2)),
        ("per_h", lambda: cooled_c(80, around_c=8, minutes=1, per_h=-0.2)),
        ("per_h", lambda: minutes_to_cool(80, to_c=20, around_c=8, per_h=0)),
        ("bears_k", lambda: shock(left_c=1, arrives_c=1, meets_c=1, bears_k=-inf)),
    ],
)
def test_what_lies_outside_its_range_is_named(name: str, call: object) -> None:
    with pytest.raises(OutOfRange) as caught:
        call()  # type: ignore[operator]

    assert caught.value.name == name
