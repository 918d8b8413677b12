"""The gamma function's logarithm beside scipy's."""

import numpy as np
from scipy import special

from sourcing.forecast.gamma import log_gamma, rough_log_gamma


def test_log_gamma_is_scipys_over_eight_decades() -> None:
    x = np.logspace(-3, 5, 4001)
    expected = special.gammaln(x)

    off = np.abs(log_gamma(x) - expected)

    assert (off <= 1e-11 * np.maximum(1, np.abs(expected))).all()


def test_the_rough_one_keeps_its_promise() -> None:
    x = np.logspace(np.log10(0.3), 4, 2000).astype(np.float32)
    expected = special.gammaln(x.astype(float))

    off = np.abs(rough_log_gamma(x) - expected)

    assert (off <= np.maximum(2e-3, 1e-6 * np.abs(expected))).all()
