"""What sources brought, agreed day by agreed day, as arrays: one row a stream, the latest last."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sourcing.forecast.gamma import Floats

NONE, MADE, MISSED = 0, 1, 2  # an agreed day without a pick-up only lets what is known grow older


@dataclass(frozen=True, slots=True)
class Record:
    """The past of some streams that are all counted, or all weighed.

    Streams of unequal length are filled up in front with days on which nothing happened.
    """

    counted: bool  # amounts are pieces; else a weight in any unit
    happened: NDArray[np.int8]  # (streams, days): NONE, MADE or MISSED
    amount: Floats  # (streams, days): what a made pick-up brought, above 0
    weekday: NDArray[np.intp]  # (streams, days): 0 Monday to 6 Sunday
    season: Floats  # (streams, days): factor of the season, above 0
    promised: Floats  # (streams,): what one pick-up was said to bring, above 0; NaN: nothing said

    @property
    def streams(self) -> int:
        return int(self.happened.shape[0])

    @property
    def days(self) -> int:
        return int(self.happened.shape[1])

    @property
    def says_something(self) -> bool:
        """Whether anything is known of what a pick-up brings: a promise, or one that was made."""
        return bool((~np.isnan(self.promised)).any() or (self.happened == MADE).any())

    def centre(self) -> Floats:
        """Mean that each habit starts from: the promise, else the first pick-up that was made.

        Without either it is one piece, or one of the unit: somebody has still to say.
        """
        if not self.days:
            return np.where(np.isnan(self.promised), 1.0, self.promised)
        made = self.happened == MADE
        seen = self.amount[np.arange(self.streams), made.argmax(axis=1)]
        start = np.where(made.any(axis=1), seen, 1.0)
        return np.where(np.isnan(self.promised), start, self.promised)


def scatters_by_piece(amounts: Floats, *, up_to: float) -> bool:
    """Whether counts are few enough for single pieces to matter in how they scatter.

    A tub of sixty stones is filled to a mark, and is more even than stones that fall in one by one;
    Poisson about anything is too wide for it. Large counts are therefore learnt as weights.
    """
    made = amounts[amounts > 0]
    return bool(not len(made) or made.mean() <= up_to)
