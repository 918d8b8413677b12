"""What the record of a source teaches about its habit: how much, how even, how often missed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sourcing.forecast.factors import AFTER, WEEKDAYS, Factors, better_amount, better_miss
from sourcing.forecast.figures import ForecastFigures
from sourcing.forecast.gamma import Floats
from sourcing.forecast.record import MADE, MISSED, Record
from sourcing.forecast.trials import AmountTrials, MissedTrials


@dataclass(frozen=True, slots=True)
class Habit:
    """What some streams are believed to do from now on; arrays, one row a stream.

    The amount of a made pick-up has the mean `evenness * d / (c - 1)` times the weekday's factor;
    for counts that is what comes beyond the first piece, as a made pick-up brings at least one.
    """

    counted: bool
    evenness: Floats  # (streams,)
    c: Floats  # (streams,) above 2
    d: Floats  # (streams,) in pieces, or in the unit of the weights
    missed: Floats  # (streams,) Beta shapes of the chance that a pick-up is missed
    made: Floats
    amount_by_weekday: Floats  # (streams, 7) factors
    missed_by_weekday: Floats  # (streams, 7) factors of the odds
    missed_after: Floats  # (streams, 2) factors of the odds: after a made one, after a missed one
    last_missed: NDArray[np.intp]  # (streams,): 1 where the last pick-up was missed, else 0

    @property
    def mean(self) -> Floats:
        """Mean of a made pick-up on a day like all others, (streams,)."""
        return np.asarray(self.evenness * self.d / (self.c - 1) + self.counted)

    @property
    def chance_missed(self) -> Floats:
        """Chance that the next pick-up is missed, on a day like all others, (streams,)."""
        rows = np.arange(len(self.missed))
        odds = self.missed / self.made * self.missed_after[rows, self.last_missed]
        return np.asarray(odds / (1 + odds))


def learn(record: Record, figures: ForecastFigures) -> Habit:
    """The habit as it stands after the whole record."""
    learning = _Learning.begin(record, figures)
    for day in range(record.days):
        learning.take_in(day)
    return learning.habit()


def learn_along(record: Record, figures: ForecastFigures) -> Iterator[Habit]:
    """The habit before each day of the record, then after its last: days + 1 of them.

    What the habit starts from is read off the whole record where nothing was promised.
    """
    learning = _Learning.begin(record, figures)
    yield learning.habit()
    for day in range(record.days):
        learning.take_in(day)
        yield learning.habit()


@dataclass(slots=True)
class _Learning:
    """A record half read; the sums are already as old as they will be on the next agreed day."""

    record: Record
    figures: ForecastFigures
    amounts: AmountTrials
    misses: MissedTrials
    amount_days: Factors
    missed_days: Factors
    missed_after: Factors
    last_missed: NDArray[np.intp]  # (streams,): 1 where the last pick-up was missed, else 0

    @classmethod
    def begin(cls, record: Record, figures: ForecastFigures) -> _Learning:
        many, kept = record.streams, figures.weekday_kept.typical
        return cls(
            record=record,
            figures=figures,
            amounts=AmountTrials.begin(record.centre(), counted=record.counted, figures=figures),
            misses=MissedTrials.begin(many, figures=figures),
            amount_days=Factors.begin(many, WEEKDAYS, kept=kept),
            missed_days=Factors.begin(many, WEEKDAYS, kept=kept),
            missed_after=Factors.begin(many, AFTER, kept=figures.after_kept.typical),
            last_missed=np.zeros(many, dtype=np.intp),
        )

    def take_in(self, day: int) -> None:
        """One agreed day more."""
        happened = self.record.happened[:, day]
        made, missed = (happened == MADE) * 1.0, (happened == MISSED) * 1.0
        self._take_amounts(day, made)
        self._take_misses(day, made, missed)
        self.amounts.fade()
        self.misses.fade()

    def _take_amounts(self, day: int, made: Floats) -> None:
        weekday, season = self.record.weekday[:, day], self.record.season[:, day]
        amount = made * np.maximum(self.record.amount[:, day] - self.record.counted, 0.0)
        days = self.amount_days
        seen, trusted = days.on(weekday, self._alike())
        level, evenness = self.amounts.level()
        above = amount / (level * season)
        self.amounts.learn(amount, trusted * season, made)
        days.learn(weekday, above, made, made * better_amount(above, seen, evenness))

    def _take_misses(self, day: int, made: Floats, missed: Floats) -> None:
        """Each of the two factors learns from what the other leaves open."""
        weekday, chance = self.record.weekday[:, day], self.misses.chance()
        kinds = ((self.missed_days, weekday, self._missed_alike()),
                 (self.missed_after, self.last_missed, self._unconnected()))  # fmt: skip
        found = [each.on(kind, worth * chance) for each, kind, worth in kinds]
        for (each, kind, _), (seen, _), (_, other) in zip(kinds, found, found[::-1], strict=True):
            left = np.minimum(chance * other, 1.0)
            better = better_miss(missed, made, left, seen)
            each.learn(kind, missed, left * (made + missed), better)
        self.misses.learn(missed, made)
        self.last_missed = np.where(made + missed > 0, missed, self.last_missed).astype(np.intp)

    def _alike(self) -> float:
        return self.figures.weekday_visits.typical

    def _missed_alike(self) -> float:
        return self.figures.missed_weekday_visits.typical

    def _unconnected(self) -> float:
        return self.figures.after_visits.typical

    def habit(self) -> Habit:
        """All beliefs drawn together, and known a little less well: a habit changes unannounced."""
        known = self.figures.ahead_known.typical
        evenness, c, d = self.amounts.drawn_together(known=known)
        missed, made = self.misses.drawn_together(known=known)
        chance = self.misses.chance()
        return Habit(
            counted=self.record.counted,
            evenness=evenness,
            c=c,
            d=d,
            missed=missed,
            made=made,
            amount_by_weekday=self.amount_days.trusted(self._alike()),
            missed_by_weekday=self.missed_days.trusted(self._missed_alike() * chance),
            missed_after=self.missed_after.trusted(self._unconnected() * chance),
            last_missed=self.last_missed,
        )
