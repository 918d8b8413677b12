"""How much faster or slower things go at another warmth: spoiling, and acid at work on metal."""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log

GAS_CONSTANT_J_PER_MOL_K = 8.314462618  # CODATA 2018, exact by the SI of 2019
ZERO_C_K = 273.15


def q10_factor(temperature_c: float, *, reference_c: float, q10: float) -> float:
    """Speed at a temperature, the speed at the reference being 1.

    Parameters
    ----------
    temperature_c, reference_c : temperature [°C]
    q10 : number, above 0
        Speed for 10 degrees more. Exactly 1 comes back at the reference.

    References
    ----------
    Definition of the temperature coefficient; OpenStax, Chemistry 2e (2019), section 12.5.

    Examples
    --------
    >>> q10_factor(45, reference_c=25, q10=2)
    4.0
    """
    return float(q10 ** ((temperature_c - reference_c) / 10))


def arrhenius_factor(
    temperature_c: float, *, reference_c: float, activation_j_per_mol: float
) -> float:
    """Speed at a temperature by Arrhenius, the speed at the reference being 1.

    Parameters
    ----------
    temperature_c, reference_c : temperature [°C], above -273.15
    activation_j_per_mol : activation energy [J/mol]

    References
    ----------
    OpenStax, Chemistry 2e (2019), section 12.5 Collision Theory.

    Examples
    --------
    >>> round(arrhenius_factor(47, reference_c=37, activation_j_per_mol=108_220), 2)
    3.71
    """
    inverse_k = 1 / (temperature_c + ZERO_C_K) - 1 / (reference_c + ZERO_C_K)
    return exp(-activation_j_per_mol / GAS_CONSTANT_J_PER_MOL_K * inverse_k)


def activation_energy(first: tuple[float, float], second: tuple[float, float]) -> float:
    """Activation energy [J/mol] from two speeds, each `(temperature [K], speed)`.

    References
    ----------
    OpenStax, Chemistry 2e (2019), section 12.5, example Determination of Ea.

    Examples
    --------
    >>> round(activation_energy((555, 3.52e-7), (781, 3.95e-2)))
    185431
    """
    (first_k, first_speed), (second_k, second_speed) = first, second
    return GAS_CONSTANT_J_PER_MOL_K * log(second_speed / first_speed) / (1 / first_k - 1 / second_k)


def mean_kinetic_c(
    temperatures_c: Sequence[float],
    *,
    weights: Sequence[float] | None = None,
    activation_j_per_mol: float,
) -> float:
    """The steady temperature [°C] at which as much would have gone on as at those recorded.

    Parameters
    ----------
    temperatures_c : temperatures [°C], any order, at least one
    weights : hours at each, same length; None: equal
    activation_j_per_mol : activation energy [J/mol]

    References
    ----------
    USP 29 <1160> Pharmaceutical Calculations, mean kinetic temperature.

    Examples
    --------
    >>> readings_c = [2, 2, 5, 8, 8, 8, 8]
    >>> round(mean_kinetic_c(readings_c, activation_j_per_mol=83_144), 2)
    6.25
    """
    shares = weights if weights is not None else [1.0] * len(temperatures_c)
    assert len(shares) == len(temperatures_c) > 0
    per_k = activation_j_per_mol / GAS_CONSTANT_J_PER_MOL_K
    warmest_k = max(temperatures_c) + ZERO_C_K
    # Counted from the warmest reading, so that no exponential is too small to add.
    speeds = sum(
        share * exp(-per_k * (1 / (t + ZERO_C_K) - 1 / warmest_k))
        for t, share in zip(temperatures_c, shares, strict=True)
    )
    return 1 / (1 / warmest_k - log(speeds / sum(shares)) / per_k) - ZERO_C_K
