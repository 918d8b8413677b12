"""Speed by warmth, against printed exercises and a general library."""

from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from inventory.science.warmth import (
    GAS_CONSTANT_J_PER_MOL_K,
    activation_energy,
    arrhenius_factor,
    mean_kinetic_c,
    q10_factor,
)

# delta H of the public worked number and of USP 29 <1160>, J/mol.
USP_J_PER_MOL = 83_144.72


def test_doubling_for_ten_degrees_is_four_times_for_twenty() -> None:
    # OpenStax, Chemistry 2e (2019), section 12.5, exercises: 25 to 45 °C; 48 min at T + 20.
    assert q10_factor(45, reference_c=25, q10=2) == 4
    assert 48 / q10_factor(70, reference_c=50, q10=2) == 12


def test_the_reference_itself_is_exactly_one() -> None:
    assert q10_factor(8, reference_c=8, q10=2.5) == 1
    assert arrhenius_factor(8, reference_c=8, activation_j_per_mol=50_000) == 1


def test_activation_energy_from_two_speeds() -> None:
    # OpenStax, Chemistry 2e (2019), section 12.5, example: data printed, 180 kJ/mol rounded;
    # full precision 185.431.
    found = activation_energy((555, 3.52e-7), (781, 3.95e-2))

    assert found / 1000 == pytest.approx(185.431, abs=0.01)


def test_sucrose_at_a_third_temperature() -> None:
    # OpenStax, Chemistry 2e (2019), section 12.5, sucrose exercise: Ea about 108 kJ/mol.
    energy = activation_energy((300.15, 2.1e-11), (310.15, 8.5e-11))
    speed = 8.5e-11 * arrhenius_factor(47, reference_c=37, activation_j_per_mol=energy)

    assert energy / 1000 == pytest.approx(108.22, abs=0.01)
    assert speed == pytest.approx(3.152727e-10, rel=0.02)


@pytest.mark.parametrize(
    ("temperatures_c", "weights", "expected_c", "within_c"),
    [
        # Repository zelti/mkt, usage example, result 6.25.
        ([2, 2, 5, 8, 8, 8, 8], None, 6.25, 0.005),
        # USP 29 <1160>, evaluated with mpmath at 40 digits.
        ([20, 20, 20, 20], None, 20.0, 1e-6),
        ([20, 25, 30, 40], None, 31.6208292216, 1e-6),
        ([15, 18, 21, 24, 27, 30, 27, 24, 21, 18, 15, 12], None, 22.4914367322, 1e-6),
        ([10, 35], [20, 4], 21.0295281953, 1e-6),
    ],
)
def test_mean_kinetic_temperature(
    temperatures_c: list[float], weights: list[float] | None, expected_c: float, within_c: float
) -> None:
    # delta H over gas constant is 10,000 K in the worked cases.
    found = mean_kinetic_c(
        temperatures_c, weights=weights, activation_j_per_mol=1e4 * GAS_CONSTANT_J_PER_MOL_K
    )

    assert found == pytest.approx(expected_c, abs=within_c)


readings_c = st.lists(st.floats(min_value=-20, max_value=60), min_size=1, max_size=20)


@given(readings_c)
def test_mean_kinetic_temperature_lies_between_mean_and_warmest(temps_c: list[float]) -> None:
    found = mean_kinetic_c(temps_c, activation_j_per_mol=USP_J_PER_MOL)

    assert sum(temps_c) / len(temps_c) - 1e-6 <= found <= max(temps_c) + 1e-6
    assert found == pytest.approx(
        mean_kinetic_c(sorted(temps_c) * 2, activation_j_per_mol=USP_J_PER_MOL), abs=1e-6
    )


def test_mean_kinetic_temperature_does_as_much_as_its_series() -> None:
    temps_c = [4.0, 11.0, 23.0]

    def surplus(steady_c: float) -> float:
        def speed(c: float) -> float:
            return exp(-USP_J_PER_MOL / GAS_CONSTANT_J_PER_MOL_K / (c + 273.15))

        return log(sum(map(speed, temps_c)) / 3) - log(speed(steady_c))

    # scipy finds the same steady warmth by a root search.
    steady_c = brentq(surplus, 0, 40, xtol=1e-12)
    assert mean_kinetic_c(temps_c, activation_j_per_mol=USP_J_PER_MOL) == pytest.approx(steady_c)
