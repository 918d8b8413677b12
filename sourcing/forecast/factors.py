"""How one kind of day differs from the others, drawn towards "all alike" while little is known.

Kinds are weekdays, or what happened the time before.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sourcing.forecast.gamma import Floats

WEEKDAYS = 7
AFTER = 2  # after a pick-up that was made, 0, or missed, 1


MOST_ODDS = 30.0  # natural logarithm; keeps an exponential finite
MOST = 0.99  # a chance that a factor may lead to, so that no logarithm runs away


@dataclass(slots=True)
class Factors:
    """What came on each kind of day beside what the habit let expect, (streams, kinds).

    The factors are trusted as far as they foretold better than "all alike" did.
    """

    kept: float
    came: Floats
    expected: Floats
    log_odds: Floats  # (streams,) of the factors against "all alike"
    rows: NDArray[np.intp]

    @classmethod
    def begin(cls, many: int, kinds: int, *, kept: float) -> Factors:
        nothing = np.zeros((2, many, kinds))
        return cls(kept, nothing[0], nothing[1], np.zeros(many), np.arange(many))

    def learn(self, kind: NDArray[np.intp], came: Floats, expected: Floats, better: Floats) -> None:
        """Take in one agreed day a stream; all 0 where nothing is known.

        `better` is by how much log chance the factor foretold the day better than 1 would have.
        """
        self.log_odds = np.clip(self.kept * self.log_odds + better, -MOST_ODDS, MOST_ODDS)
        self.came *= self.kept
        self.expected *= self.kept
        self.came[self.rows, kind] += came
        self.expected[self.rows, kind] += expected

    def seen(self, worth: Floats | float) -> Floats:
        """Factor of each kind, 1 where nothing came yet: shrunk as a gamma rate is.

        Parameters
        ----------
        worth : above 0, in the unit of `expected`; what "all alike" counts for
        """
        wide = np.asarray(worth)[..., None]
        return np.asarray((wide + self.came) / (wide + self.expected))

    def on(self, kind: NDArray[np.intp], worth: Floats | float) -> tuple[Floats, Floats]:
        """Factor of one kind of day a stream, as seen and as trusted, both (streams,)."""
        came, expected = self.came[self.rows, kind], self.expected[self.rows, kind]
        seen = (worth + came) / (worth + expected)
        return np.asarray(seen), np.asarray(1 + self._trust() * (seen - 1))

    def trusted(self, worth: Floats | float) -> Floats:
        """Factor of each kind, drawn towards 1 by how little they are trusted."""
        return np.asarray(1 + self._trust()[:, None] * (self.seen(worth) - 1))

    def _trust(self) -> Floats:
        return np.asarray(1 / (1 + np.exp(-self.log_odds)))


def better_amount(above: Floats, factor: Floats, evenness: Floats) -> Floats:
    """By how much log chance an amount, in parts of the habit, is likelier with a factor: gamma."""
    return np.asarray(evenness * (above - above / factor - np.log(factor)))


def better_miss(missed: Floats, made: Floats, chance: Floats, factor: Floats) -> Floats:
    """By how much log chance a day, missed or made, is likelier with a factor of the chance."""
    plain, moved = np.minimum(chance, MOST), np.minimum(chance * factor, MOST)
    return np.asarray(missed * np.log(moved / plain) + made * np.log((1 - moved) / (1 - plain)))
