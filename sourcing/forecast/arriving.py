"""What will have come by a day, from all sources of a thing together: likely, worst, how surely.

The way in. `arriving` takes frozen facts; its answer is asked for amounts, chances and days.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from inventory.science.unclear import OutOfRange
from sourcing.forecast.facts import PieceMass, Stream, Unit

if TYPE_CHECKING:
    from sourcing.forecast.gamma import Floats


@dataclass(frozen=True)
class Arriving:
    """What will have come by each day on which something may come; before the first, nothing.

    Amounts are in `unit`. Sources are taken as independent of each other, days of one source as
    alike in what is not known of its habit.
    """

    unit: Unit
    days: tuple[date, ...]  # in order
    sure: tuple[float, ...]  # reported by their sources: comes in full, at the end of each day
    step: float  # width of a cell
    chances: Floats  # (days, cells) of the rest; cell k is k steps

    def quantile(self, chance: float, *, by: date) -> float:
        """Amount that will have come by the end of a day at most, with a chance.

        Parameters
        ----------
        chance : 0 < chance < 1; 0.1 is "nine times in ten there is more", 0.5 is likely
        by : that day's pick-up is in it

        Returns
        -------
        amount [unit], 0 or more; it never falls from one day to the next

        Raises
        ------
        OutOfRange
            If the chance lies outside its range.
        """
        if not 0 < chance < 1:
            raise OutOfRange("chance", chance, "above 0 and below 1")
        row = self._row(by)
        if row < 0:
            return 0.0
        return self.sure[row] + _quantile(self.chances[row], chance) * self.step

    def likely(self, *, by: date) -> float:
        """Mean of what will have come by the end of a day [unit]."""
        row = self._row(by)
        if row < 0:
            return 0.0
        cells = range(self.chances.shape[1])
        return self.sure[row] + self.step * float(self.chances[row] @ list(cells))

    def chance(self, need: float, *, by: date) -> float:
        """Chance, 0 to 1, that at least so much will have come by the end of a day.

        Parameters
        ----------
        need : amount [unit]; what is 0 or less is there for certain
        by : that day's pick-up is in it
        """
        row = self._row(by)
        if row < 0:
            return float(need <= 0)
        rest = need - self.sure[row]
        return 1.0 if rest <= 0 else _at_least(self.chances[row], rest / self.step, self.unit)

    def day_of(self, chance: float, *, need: float) -> date | None:
        """First day by whose end so much will have come with a chance; None: not in the period.

        Parameters
        ----------
        chance : 0 < chance < 1, as 0.5, 0.8, 0.95
        need : amount [unit]

        Raises
        ------
        OutOfRange
            If the chance lies outside its range.
        """
        if not 0 < chance < 1:
            raise OutOfRange("chance", chance, "above 0 and below 1")
        return next((day for day in self.days if self.chance(need, by=day) >= chance), None)

    def _row(self, by: date) -> int:
        return bisect_right(self.days, by) - 1


def arriving(
    streams: Sequence[Stream],
    *,
    since: date,
    until: date,
    unit: Unit = "mg",
    piece: PieceMass | None = None,
) -> Arriving:
    """What some streams of one dyestuff will bring in a period, together.

    Parameters
    ----------
    streams : in any order, may be empty; of the same dyestuff
        A pick-up on record for a day of the period decides that day: reported, it comes in full;
        made or missed, it brings nothing more.
    since, until : days of the period, the first in it and the last not
    unit : what amounts are in; pieces only where every stream is counted
    piece : mass of one piece; needed for a weight where a stream is counted

    Returns
    -------
    Arriving
        Its days are those on which something may come.

    Raises
    ------
    NoPieceMass
        If a weight is asked for, a stream is counted, and no mass of a piece is known.
    NotByPiece
        If pieces are asked for and a stream is weighed.
    OutOfRange
        If the period is longer than three years.

    References
    ----------
    The model: Gamma–Poisson, Beta and normal–gamma with older pick-ups discounted (Harvey &
    Fernandes, J. Bus. Econ. Stat. 7:407, 1989; Smith & Miller, J. R. Stat. Soc. B 48:79, 1986).
    Figures: tables/forecast.csv.
    """
    from sourcing.forecast.together import together  # numpy is read when it is needed, not before

    return together(streams, since=since, until=until, unit=unit, piece=piece)


def _quantile(chances: Floats, chance: float) -> int:
    """First cell at which so much of all chance is reached."""
    reached = chances.cumsum()
    return int((reached < chance * reached[-1] - 1e-12).sum())


def _at_least(chances: Floats, cells: float, unit: Unit) -> float:
    """Chance of so many cells or more; a weight lies anywhere in its cell, a count does not."""
    whole = int(-(-cells // 1))
    if unit == "pieces":
        return float(chances[whole:].sum()) if whole < len(chances) else 0.0
    below = int(cells + 0.5)
    if below >= len(chances):
        return 0.0
    if below == 0:
        return float(chances[1:].sum())
    return float(chances[below + 1 :].sum() + chances[below] * (below + 0.5 - cells))
