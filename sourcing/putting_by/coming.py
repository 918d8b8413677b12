"""What may still come of a dyestuff before runs want it: pick-ups with likely, worst and chance.

A guess, and called one: the forecast's quantiles, never part of what is there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property

from inventory.science.days import local_day
from sourcing.forecast.arriving import Arriving, arriving
from sourcing.forecast.facts import NoPieceMass, PieceMass, Stream
from sourcing.putting_by.facts import Use
from sourcing.putting_by.gaps import may_come, pick_up_days, season_of
from sourcing.putting_by.turning import Turning
from sourcing.week.enough import piece_of
from sourcing.week.facts import WeekFacts

LIKELY = 0.5
AHEAD_AT_MOST_DAYS = 730  # two years; a wish that lies further off waits
ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class PickUp:
    """One day on which something may come, from all sources together."""

    day: date
    sources: tuple[str, ...]
    said_mg: int | None = None  # what its sources said it would bring; None: one said nothing


@dataclass(frozen=True)
class Coming:
    """Everything that may come of one dyestuff up to a day."""

    streams: tuple[Stream, ...]
    today: date
    until: date  # not in it
    pick_ups: tuple[PickUp, ...]  # by day
    lasts: Mapping[date, date]  # last good day of what is put by on a pick-up's day
    piece: PieceMass | None
    spoken_mg: int = 0  # fresh: what another plan puts by before this one

    @cached_property
    def forecast(self) -> Arriving | None:
        """Worked out when it is asked for; None: no pick-up, or no piece has a mass."""
        if not self.pick_ups:
            return None
        try:
            return arriving(self.streams, since=self.today, until=self.until, piece=self.piece)
        except NoPieceMass:
            return None

    @cached_property
    def likely_by_day(self) -> Mapping[date, int]:
        """What each pick-up likely brings, fresh; empty where nobody knows."""
        forecast, before = self.forecast, 0
        found: dict[date, int] = {}
        for row in self.pick_ups if forecast is not None else ():
            assert forecast is not None
            by_then = self._left(forecast, LIKELY, row.day)
            found[row.day], before = by_then - before, by_then
        return found

    def last_for(self, use: Use) -> date | None:
        """The last pick-up that is in time for a run and whose material still keeps then."""
        fit = [row.day for row in self.pick_ups if self._serves(row.day, use)]
        return max(fit, default=None)

    def _serves(self, day: date, use: Use) -> bool:
        return day <= use.since and self.lasts[day] >= use.last

    @property
    def one_likely_mg(self) -> int:
        """What one pick-up likely brings, the mean of those that are agreed."""
        known = self.likely_by_day.values()
        return sum(known) // len(known) if known else 0

    def likely(self) -> tuple[tuple[date, int], ...]:
        """What likely comes on each day, fresh: as often more as less by then."""
        return self.at_least(LIKELY)

    def at_least(self, chance: float) -> tuple[tuple[date, int], ...]:
        """What has come by each day in all but so many cases, as the part of each day, fresh."""
        forecast, before = self.forecast, 0
        found: list[tuple[date, int]] = []
        if forecast is None:
            return ()
        for row in self.pick_ups:
            by_then = self._left(forecast, chance, row.day)
            if by_then > before:
                found.append((row.day, by_then - before))
                before = by_then
        return tuple(found)

    def _left(self, forecast: Arriving, chance: float, day: date) -> int:
        return max(0, int(forecast.quantile(chance, by=day)) - self.spoken_mg)

    def chance(self, fresh_mg: int | None, *, by: date) -> float | None:
        """Chance that so much fresh comes by the end of a day."""
        if self.forecast is None or fresh_mg is None:
            return None
        return self.forecast.chance(fresh_mg + self.spoken_mg, by=by)

    def open_till(self, *, before: date) -> date | None:
        """The last day, agreed or not, on which a source could give before a day."""
        day = before
        while day >= self.today:
            if any(may_come(stream, day) for stream in self.streams):
                return day
            day -= ONE_DAY
        return None


def coming_of(facts: WeekFacts, turning: Turning, *, until: date, spoken_mg: int = 0) -> Coming:
    """What may come from today to a day, that day in it."""
    today = local_day(facts.at, zone=facts.zone)
    streams = tuple(_in_season(row) for row in facts.streams if row.gives == turning.dyestuff)
    end = min(until, today + timedelta(days=AHEAD_AT_MOST_DAYS)) + ONE_DAY
    by_day: dict[date, list[Stream]] = {}
    for stream in streams:
        for day in pick_up_days(stream, today, end):
            by_day.setdefault(day, []).append(stream)
    rows = [
        PickUp(day, tuple(sorted({stream.source for stream in by_day[day]})), _said_mg(by_day[day]))
        for day in sorted(by_day)
    ]
    lasts = {day: turning.good_to(day).day for day in by_day}
    piece = piece_of(facts, turning.dyestuff, today)
    return Coming(streams, today, end, tuple(rows), lasts, piece, spoken_mg)


def _said_mg(streams: Sequence[Stream]) -> int | None:
    """What the sources of a day said in all, where each gave a weight."""
    said = [stream.promised_mg for stream in streams]
    return None if None in said else sum(mg for mg in said if mg is not None)


def _in_season(stream: Stream) -> Stream:
    """A stream that brings nothing in the months in which the plant is not to be had."""
    season = season_of(stream.gives)
    factors = (each if month in season else 0.0 for month, each in enumerate(stream.season, 1))
    return replace(stream, season=tuple(factors))
