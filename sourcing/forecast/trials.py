"""Amounts of made pick-ups learnt under several beliefs at once, each trusted as it foretold.

A belief is how fast a habit fades (kept fraction) and how even its pick-ups are (evenness). With
both fixed the sums stay closed: the count of a pick-up is Poisson about a rate of the day, which is
gamma about the habit, whose own uncertainty is conjugate; a weight is gamma about the habit.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sourcing.forecast.figures import ForecastFigures, Range
from sourcing.forecast.gamma import Floats, Halves, log_gamma, rough_log_beta_over, rough_log_gamma

LEAST_SHAPE = 0.5  # of a count's prior, Jeffreys' for a Poisson rate: Gelman et al., BDA3, s.2.8

SMALLEST_PART = 1e-9  # of the habit; keeps a logarithm finite where no pick-up was made
LEAST_BEYOND_ONE = 0.1  # pieces, where one was promised; assumed, not measured


@dataclass(slots=True)
class AmountTrials:
    """Running sums of the beliefs, each a kept fraction with an evenness."""

    counted: bool
    kept: Floats  # (kept,)
    evenness: Floats  # (evenness,)
    trust_kept: float
    worth: Floats  # (streams, 1, evenness): pick-ups that are taken for granted, however long ago
    made: Floats  # (streams, kept, 1): pick-ups beside those, older ones faded
    brought: Floats  # (streams, kept, evenness): the mean of the habit times both
    log_trust: Floats  # (streams, kept, evenness)

    @classmethod
    def begin(cls, centre: Floats, *, counted: bool, figures: ForecastFigures) -> AmountTrials:
        """Beliefs before the first pick-up."""
        if counted:  # a made pick-up brings a piece at least; the beliefs are about the rest
            centre = np.maximum(centre - 1, LEAST_BEYOND_ONE)
        kept, evenness = three(figures.amount_kept), five(figures.amount_evenness)
        worth = (1 + figures.promise_spread.typical**-2) / evenness[None, :]  # in pick-ups
        if counted:
            worth = np.maximum(worth, LEAST_SHAPE / centre[:, None])
        many = len(centre)
        return cls(
            counted=counted,
            kept=kept,
            evenness=evenness,
            trust_kept=figures.amount_trust_kept.typical,
            worth=np.broadcast_to(worth, (many, len(evenness)))[:, None, :],
            made=np.zeros((many, len(kept), 1)),
            brought=np.repeat((worth * centre[:, None])[:, None, :], len(kept), axis=1),
            log_trust=np.zeros((many, len(kept), len(evenness))),
        )

    def fade(self) -> None:
        """One agreed day goes by: the mean of the habit stays, and is known a little less well."""
        before = self.worth + self.made
        self.made *= self.kept[:, None]
        self.brought *= (self.worth + self.made) / before

    def learn(self, amount: Floats, factor: Floats, made: Floats) -> None:
        """Take in one amount a stream; `made` is 1 where there was one, else 0."""
        c, d = self.shapes()
        chance = self._log_chance(amount, factor, c, d)
        seen = made[:, None, None]
        self.log_trust = np.where(
            seen > 0, self.trust_kept * self.log_trust + chance, self.log_trust
        )
        self.made += made[:, None, None]
        self.brought += (made * amount / factor)[:, None, None]

    def shapes(self) -> tuple[Floats, Floats]:
        """Both shapes of the habit under each belief, (streams, kept, evenness)."""
        return 1 + self.evenness * (self.worth + self.made), self.brought

    def trust(self) -> Floats:
        """How far each belief is trusted; each stream's sum to 1."""
        weight = np.exp(self.log_trust - self.log_trust.max(axis=(1, 2), keepdims=True))
        return np.asarray(weight / _over_beliefs(weight)[:, None, None])

    def level(self) -> tuple[Floats, Floats]:
        """Mean of a pick-up over all beliefs, and how even it is believed to be, (streams,)."""
        c, d = self.shapes()
        trust = self.trust()
        mean = _over_beliefs(trust * self.evenness * d / (c - 1))
        unlike = _over_beliefs(trust * (1 / self.evenness + 1 / (c - 2)))
        return mean, 1 / unlike

    def drawn_together(self, *, known: float) -> tuple[Floats, Floats, Floats]:
        """Evenness and both shapes of the one belief with the same mean and the same spreads.

        What is known of the habit's mean then counts for a part only, above 0 to 1.

        Two spreads are kept apart: of the habit's mean, and of a pick-up about it (moment matching,
        as a multi-process model is collapsed: West & Harrison, Bayesian Forecasting and Dynamic
        Models, 2nd ed. (1997), ch. 12).
        """
        c, d = self.shapes()
        trust, mean = self.trust(), self.evenness * d / (c - 1)
        spread = (d + c - 1) / (d * (c - 2)) if self.counted else 1 / (c - 2)
        square = trust * mean**2 * (1 + spread)
        level, squares = (trust * mean).sum(axis=(1, 2)), square.sum(axis=(1, 2))
        even = squares / (square / self.evenness).sum(axis=(1, 2))
        wide = squares / level**2 - 1
        one_c = 2 + known * (1 + even / level * self.counted) / wide
        return even, one_c, level * (one_c - 1) / even

    def _log_chance(self, amount: Floats, factor: Floats, c: Floats, d: Floats) -> Halves:
        """Log chance of the amounts, but for what is the same under every belief."""
        chance = _log_count if self.counted else _log_weight
        fresh = log_gamma(self.evenness)
        if self.counted:
            fresh = log_gamma(amount[:, None] + self.evenness) - fresh
        found = chance(_half(amount)[:, None, None], _half(factor)[:, None, None],
                       _half(self.evenness), _half(c), _half(d))  # fmt: skip
        return found + _half(fresh)[:, None, :] if self.counted else found - _half(fresh)


def _log_count(x: Halves, factor: Halves, even: Halves, c: Halves, d: Halves) -> Halves:
    """Beta negative binomial but for what hangs on the count and the evenness alone."""
    return rough_log_beta_over(c, d * factor, even, x)


def _log_weight(x: Halves, factor: Halves, even: Halves, c: Halves, d: Halves) -> Halves:
    """Beta prime but for what hangs on the evenness alone."""
    x = np.maximum(x / factor, np.float32(SMALLEST_PART) * d)
    of_c = rough_log_gamma(c + even) - rough_log_gamma(c)
    return np.asarray((even - 1) * np.log(x) + c * np.log(d) - (c + even) * np.log(x + d) + of_c)


def _over_beliefs(x: Floats) -> Floats:
    """Sum of each stream; as a product, which is quicker over a few columns than a sum is."""
    columns = x.reshape(len(x), -1)
    return np.asarray(columns @ np.ones(columns.shape[1]))


def _half(x: Floats) -> Halves:
    return x.astype(np.float32)


@dataclass(slots=True)
class MissedTrials:
    """Running sums of misses, (streams, beliefs): each kept fraction with each kind of source.

    A source is of the kind that seldom misses or of the kind that gives now and then; the two are
    mixed so that the mean is the typical chance.
    """

    kept: Floats  # (beliefs,)
    trust_kept: float
    worth: float  # agreed days that are taken for granted, however long ago
    missed: Floats  # (streams, beliefs): Beta shapes
    made: Floats
    log_trust: Floats

    @classmethod
    def begin(cls, many: int, *, figures: ForecastFigures) -> MissedTrials:
        """Beliefs before the first agreed day."""
        tried, part = three(figures.missed_kept), figures.missed_fraction
        kinds = np.repeat([part.low, part.high], len(tried))
        often = (part.typical - part.low) / (part.high - part.low)
        trust = np.repeat(np.log([1 - often, often]), len(tried))
        worth = figures.missed_visits.typical
        return cls(
            kept=np.tile(tried, 2),
            trust_kept=figures.missed_trust_kept.typical,
            worth=worth,
            missed=np.tile(worth * kinds, (many, 1)),
            made=np.tile(worth * (1 - kinds), (many, 1)),
            log_trust=np.tile(trust, (many, 1)),
        )

    def fade(self) -> None:
        """One agreed day goes by: the chance stays, and is known a little less well."""
        before = self.missed + self.made
        part = (self.worth + (before - self.worth) * self.kept) / before
        self.missed *= part
        self.made *= part

    def learn(self, missed: Floats, made: Floats) -> None:
        """Take in one agreed day a stream: 1 in one of both, 0 in both where nothing is known."""
        a, b = self.missed, self.made
        chance = np.log(np.where(missed[:, None] > 0, a, b) / (a + b))
        seen = (missed + made)[:, None] > 0
        self.log_trust = np.where(seen, self.trust_kept * self.log_trust + chance, self.log_trust)
        self.missed = self.missed + missed[:, None]
        self.made = self.made + made[:, None]

    def trust(self) -> Floats:
        weight = np.exp(self.log_trust - self.log_trust.max(axis=1, keepdims=True))
        return np.asarray(weight / weight.sum(axis=1, keepdims=True))

    def chance(self) -> Floats:
        """Chance that the next pick-up is missed, over all beliefs, (streams,)."""
        a, b = self.missed, self.made
        return np.asarray((self.trust() * a / (a + b)).sum(axis=1))

    def drawn_together(self, *, known: float) -> tuple[Floats, Floats]:
        """The one Beta with the mean and the spread of all beliefs, of which a part counts."""
        a, b = self.missed, self.made
        trust, mean = self.trust(), a / (a + b)
        square = (trust * mean * (a + 1) / (a + b + 1)).sum(axis=1)
        chance = (trust * mean).sum(axis=1)
        strength = known * (chance - square) / (square - chance**2)
        return chance * strength, (1 - chance) * strength


def three(figure: Range) -> Floats:
    """The three values that are tried side by side."""
    return np.array([figure.low, figure.typical, figure.high])


def five(figure: Range) -> Floats:
    """Three values and what lies half way, as parts, between neighbours."""
    low, middle, high = three(figure)
    return np.array([low, (low * middle) ** 0.5, middle, (middle * high) ** 0.5, high])
