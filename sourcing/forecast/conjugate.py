"""The closed forms that the forecast stands on, in plain numbers: one update, one prediction each.

Gamma–Poisson for counts, Beta for misses, normal–gamma for the mass of a piece.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, lgamma, log, log1p, sqrt

from inventory.science.unclear import OutOfRange
from sourcing.forecast.facts import PieceMass


@dataclass(frozen=True, slots=True)
class GammaRate:
    """A rate of counts per exposure that is believed to be Gamma(shape, rate)."""

    shape: float  # above 0
    rate: float  # above 0, in exposures

    def __post_init__(self) -> None:
        _above_zero(shape=self.shape, rate=self.rate)

    @property
    def mean(self) -> float:
        return self.shape / self.rate

    @property
    def spread(self) -> float:
        return sqrt(self.shape) / self.rate

    def after(self, count: int, *, exposure: float) -> GammaRate:
        """The rate once so many came in so much exposure.

        References
        ----------
        Gelman et al., Bayesian Data Analysis, 3rd ed., s. 2.6.

        Examples
        --------
        >>> GammaRate(3, 5).after(3, exposure=2)
        GammaRate(shape=6, rate=7)
        """
        return GammaRate(self.shape + count, self.rate + exposure)

    def chance_of(self, count: int, *, exposure: float) -> float:
        """Chance that exactly so many come: negative binomial.

        Examples
        --------
        >>> round(GammaRate(6, 7).chance_of(0, exposure=1), 6)
        0.448795
        """
        a, part = self.shape, exposure / (self.rate + exposure)
        ways = lgamma(a + count) - lgamma(a) - lgamma(count + 1)
        return exp(ways + a * log1p(-part) + count * log(part))


@dataclass(frozen=True, slots=True)
class BetaChance:
    """A chance of a miss that is believed to be Beta(missed, made)."""

    missed: float  # above 0
    made: float  # above 0

    def __post_init__(self) -> None:
        _above_zero(missed=self.missed, made=self.made)

    @property
    def mean(self) -> float:
        return self.missed / (self.missed + self.made)

    def after(self, *, missed: int, made: int) -> BetaChance:
        """The chance once so many were missed and so many made (Gelman et al., BDA3, s. 2.4)."""
        return BetaChance(self.missed + missed, self.made + made)


@dataclass(frozen=True, slots=True)
class NormalMass:
    """The mass of one piece: its mean and its spread, normal–gamma.

    A piece is normal about `mean` with precision t; t is Gamma(shape, rate), and the mean itself is
    known as well as from `pieces` pieces.
    """

    mean: float  # mg
    pieces: float  # above 0
    shape: float  # above 0
    rate: float  # above 0, mg²

    def __post_init__(self) -> None:
        _above_zero(mean=self.mean, pieces=self.pieces, shape=self.shape, rate=self.rate)

    def after(self, pieces: int, *, mean_mg: float) -> NormalMass:
        """What is known once a count was weighed as one; only its mean shows.

        References
        ----------
        K. Murphy, Conjugate Bayesian analysis of the Gaussian distribution (2007), s. 3, with one
        weighed mean of variance 1/(n t) in place of n single masses.

        Examples
        --------
        >>> NormalMass(40.0, 10, 2, 100).after(10, mean_mg=44.0)
        NormalMass(mean=42.0, pieces=20, shape=2.5, rate=140.0)
        """
        both = self.pieces + pieces
        off = (mean_mg - self.mean) ** 2
        return NormalMass(
            mean=(self.pieces * self.mean + pieces * mean_mg) / both,
            pieces=both,
            shape=self.shape + 0.5,
            rate=self.rate + 0.5 * self.pieces * pieces / both * off,
        )

    def scale_of_mean(self, pieces: float) -> float:
        """Scale of Student's t, with twice the shape as freedom, of the mean of so many pieces."""
        return sqrt(self.rate / self.shape * (1 / self.pieces + 1 / pieces))


def mass_of(piece: PieceMass, *, worth_pieces: float, shape: float) -> NormalMass:
    """The mass of a piece from its figure, then from every count that was weighed.

    Parameters
    ----------
    worth_pieces : above 0; pieces weighed here that the figure counts for
    shape : above 0; how firmly the figure's range is believed, in half weighings

    The figure's range is taken as four spreads of single pieces (95 % of a normal).
    """
    spread = max((piece.high_mg - piece.low_mg) / 4, 1e-3 * piece.typical_mg)
    mass = NormalMass(piece.typical_mg, worth_pieces, shape, shape * spread**2)
    for weighing in piece.weighings:
        mass = mass.after(weighing.pieces, mean_mg=weighing.weight_mg / weighing.pieces)
    return mass


def _above_zero(**values: float) -> None:
    for name, value in values.items():
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
