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


@dataclass(slots=True)
class Factors:
    """What came on each kind of day beside what the habit let expect, (streams, kinds)."""

    kept: float
    came: Floats
    expected: Floats
    rows: NDArray[np.intp]

    @classmethod
    def begin(cls, many: int, kinds: int, *, kept: float) -> Factors:
        nothing = np.zeros((2, many, kinds))
        return cls(kept, nothing[0], nothing[1], np.arange(many))

    def learn(self, kind: NDArray[np.intp], came: Floats, expected: Floats) -> None:
        """Take in one agreed day a stream; both 0 where nothing is known."""
        self.came *= self.kept
        self.expected *= self.kept
        self.came[self.rows, kind] += came
        self.expected[self.rows, kind] += expected

    def all(self, worth: Floats | float) -> Floats:
        """Factor of each kind, 1 where nothing came yet: shrunk as a gamma rate is.

        Parameters
        ----------
        worth : above 0, in the unit of `expected`; what "all alike" counts for
        """
        wide = np.asarray(worth)[..., None]
        return np.asarray((wide + self.came) / (wide + self.expected))

    def of(self, kind: NDArray[np.intp], worth: Floats | float) -> Floats:
        """Factor of one kind for each stream."""
        return np.asarray(self.all(worth)[self.rows, kind])
