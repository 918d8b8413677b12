"""Closed forms against printed values and against scipy, which sums or integrates on its own.

Gamma–Poisson: cases/poisson_gamma.json (PG1: Gelman et al., BDA3, s. 2.6; its published figures are
from memory and reproduced by scipy; PG2: scipy).
"""

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy import integrate, stats

from inventory.science.unclear import OutOfRange
from sourcing.forecast.conjugate import BetaChance, GammaRate, NormalMass, mass_of
from sourcing.forecast.facts import PieceMass, Weighing

CASES = json.loads((Path(__file__).parent / "cases" / "poisson_gamma.json").read_text("utf-8"))
RATES = pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])


def updated(case: dict[str, Any]) -> GammaRate:
    before = GammaRate(case["prior_shape"], case["prior_rate"])
    return before.after(case["count"], exposure=case["exposure"])


@RATES
def test_rate_after_a_count_is_the_printed_one(case: dict[str, Any]) -> None:
    rate, expected = updated(case), case["expected"]

    assert (rate.shape, rate.rate) == (expected["posterior_shape"], expected["posterior_rate"])
    assert rate.mean == pytest.approx(expected["mean"], abs=case["tolerance"])
    assert rate.spread == pytest.approx(expected["sd"], abs=case["tolerance"])


@RATES
def test_chances_of_the_next_count_are_the_printed_ones(case: dict[str, Any]) -> None:
    found = [updated(case).chance_of(k, exposure=1.0) for k in range(6)]

    assert found == pytest.approx(case["expected"]["predictive_pmf_0_to_5"], abs=case["tolerance"])


def test_a_missed_pick_up_moves_the_chance_as_bayes_rule_does() -> None:
    prior = BetaChance(0.6, 3.4)

    found = prior.after(missed=1, made=5)

    top = integrate.quad(lambda p: p * stats.beta.pdf(p, 0.6, 3.4) * p * (1 - p) ** 5, 0, 1)[0]
    whole = integrate.quad(lambda p: stats.beta.pdf(p, 0.6, 3.4) * p * (1 - p) ** 5, 0, 1)[0]
    assert found.mean == pytest.approx(top / whole, rel=1e-6)


def test_a_weighed_count_moves_the_mass_as_bayes_rule_does() -> None:
    prior = NormalMass(40.0, 4, 3, 60)

    found = prior.after(9, mean_mg=46.0)

    mean, precision = np.meshgrid(np.linspace(20, 70, 1501), np.linspace(1e-4, 0.4, 1500))
    log = stats.norm.logpdf(mean, 40, 1 / np.sqrt(4 * precision))
    log += stats.gamma.logpdf(precision, 3, scale=1 / 60)
    log += stats.norm.logpdf(46.0, mean, 1 / np.sqrt(9 * precision))
    weight = np.exp(log - log.max())
    assert found.mean == pytest.approx((mean * weight).sum() / weight.sum(), rel=1e-4)
    assert found.shape / found.rate == pytest.approx(
        (precision * weight).sum() / weight.sum(), rel=1e-3
    )


def test_many_weighed_pieces_outweigh_the_figure() -> None:
    piece = PieceMass(42.0, 28.0, 60.0, (Weighing(1000, 50_000),))

    found = mass_of(piece, worth_pieces=5, shape=2)

    assert found.mean == pytest.approx((5 * 42 + 50_000) / 1005)
    assert found.scale_of_mean(100) < mass_of(PieceMass(42, 28, 60), worth_pieces=5,
                                              shape=2).scale_of_mean(100)  # fmt: skip


def test_the_mean_of_more_pieces_is_known_more_closely() -> None:
    mass = NormalMass(42.0, 50, 3, 300)

    assert mass.scale_of_mean(100) < mass.scale_of_mean(10)


@pytest.mark.parametrize("made", [lambda: GammaRate(0, 1), lambda: BetaChance(1, 0.0),
                                  lambda: NormalMass(42, 1, 1, -1)])  # fmt: skip
def test_shapes_must_be_above_zero(made: Any) -> None:
    with pytest.raises(OutOfRange, match="must be above 0"):
        made()
