"""How far a source can be relied on: its last six hand-overs, all of them, and which days went by.

A missed hand-over counts as one that brought nothing. A day on which one was due and nobody said
what became of it is not counted at all: it is shown, so that somebody says.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

LAST = 6  # hand-overs that "lately" rests on
LOOKED_BACK_DAYS = 28  # for days of which nobody has said anything
DAYS_AT_MOST = 3 * 366


@dataclass(frozen=True, slots=True)
class Came:
    """One hand-over that was made or missed; a missed one brought nothing."""

    on: date
    mg: int  # what it weighed, or came to by the mass of a piece
    pieces: int | None = None  # where it was counted
    lot: str = ""
    missed: bool = False


@dataclass(frozen=True, slots=True)
class Tally:
    """Hand-overs of one kind, as the database sums them."""

    made: int = 0
    missed: int = 0
    mg: int = 0
    pieces: int | None = None  # all that were counted; None where some were weighed instead


@dataclass(frozen=True, slots=True)
class Record:
    """What so many hand-overs brought, the missed ones counted as none."""

    times: int
    missed: int
    total_mg: int
    least_mg: int | None  # None: not asked
    most_mg: int | None
    total_pieces: int | None = None  # where all were counted
    least_pieces: int | None = None

    @property
    def mean_mg(self) -> Fraction:
        """Mass of one, missed ones too; 0 where there were none."""
        return Fraction(self.total_mg, self.times) if self.times else Fraction(0)

    @property
    def mean_pieces(self) -> Fraction | None:
        """Pieces of one, missed ones too."""
        if self.total_pieces is None or not self.times:
            return None
        return Fraction(self.total_pieces, self.times)


@dataclass(frozen=True, slots=True)
class OnWeekday:
    """How often it came and did not come on one day of the week."""

    weekday: int  # 0 Monday
    made: int
    missed: int


@dataclass(frozen=True, slots=True)
class Reliability:
    """What a source has shown so far of one thing that it gives."""

    lately: Record
    ever: Record
    weekdays: tuple[OnWeekday, ...]
    last_made: date | None
    nobody_said: tuple[date, ...] = ()  # days of late on which one was due, oldest first


def reliability(
    came: Iterable[Came],
    tallies: Iterable[Tally],
    *,
    weekdays: Iterable[OnWeekday] = (),
    last_made: date | None = None,
    nobody_said: Sequence[date] = (),
) -> Reliability:
    """The record of the last six and of all.

    Parameters
    ----------
    came : the latest hand-overs, six or more where there are so many, in any order
    tallies : all hand-overs, those of `came` too; in any order
    weekdays : how often it came and did not on days of the week; in any order, a day more than once
    last_made : the last day on which something came; None: it is looked for in `came`
    nobody_said : days that went by without a word

    Examples
    --------
    The café of the worked week gave 62, 55, 70, 48, 0 and 65 stones of 42 g each.

    >>> days = [date(2026, 11, day) for day in (19, 16, 12, 9, 5, 2)]
    >>> gave = (62, 55, 70, 48, 0, 65)
    >>> cafe = [
    ...     Came(day, 42_000 * n, pieces=n, missed=not n) for day, n in zip(days, gave, strict=True)
    ... ]
    >>> found = reliability(cafe, []).lately
    >>> found.mean_pieces, found.mean_mg, found.least_pieces, (found.missed, found.times)
    (Fraction(50, 1), Fraction(2100000, 1), 0, (1, 6))
    """
    latest = sorted(came, key=lambda row: row.on, reverse=True)
    sums = list(tallies)
    made = (row.on for row in latest if not row.missed)
    return Reliability(
        lately=_lately(latest[:LAST]),
        ever=_ever(sums),
        weekdays=_weekdays(weekdays),
        last_made=last_made or next(made, None),
        nobody_said=tuple(sorted(nobody_said)),
    )


def days_gone_by(due: Iterable[date], known: Iterable[date], *, since: date) -> tuple[date, ...]:
    """Days on which a hand-over was due and nobody has said what became of it.

    Parameters
    ----------
    due : days on which something could have been fetched, past their hour
    known : days of which something is on record
    since : the first hand-over, or the first day of the window: nothing was due before

    Examples
    --------
    >>> monday, thursday = date(2026, 11, 16), date(2026, 11, 19)
    >>> days_gone_by([monday, thursday], [monday], since=monday)
    (datetime.date(2026, 11, 19),)
    """
    told = set(known)
    return tuple(sorted(day for day in set(due) - told if day >= since))


def days_back(until: date, *, days: int = LOOKED_BACK_DAYS) -> tuple[date, ...]:
    """The days before one and the day itself, oldest first."""
    assert 0 <= days <= DAYS_AT_MOST, days
    return tuple(until - timedelta(days=n) for n in range(days, -1, -1))


def _lately(rows: Sequence[Came]) -> Record:
    weights = [0 if row.missed else row.mg for row in rows]
    # A missed one was neither counted nor weighed; it is none of either.
    pieces = [0 if row.missed else row.pieces for row in rows]
    counted = [each for each in pieces if each is not None]
    all_counted = len(counted) == len(rows) and any(row.pieces is not None for row in rows)
    return Record(
        times=len(rows),
        missed=sum(row.missed for row in rows),
        total_mg=sum(weights),
        least_mg=min(weights, default=None),
        most_mg=max(weights, default=None),
        total_pieces=sum(counted) if all_counted else None,
        least_pieces=min(counted) if all_counted else None,
    )


def _ever(tallies: Sequence[Tally]) -> Record:
    made = [row for row in tallies if row.made]
    counted = [row.pieces for row in made if row.pieces is not None]
    return Record(
        times=sum(row.made + row.missed for row in tallies),
        missed=sum(row.missed for row in tallies),
        total_mg=sum(row.mg for row in tallies),
        least_mg=None,
        most_mg=None,
        total_pieces=sum(counted) if made and len(counted) == len(made) else None,
    )


def _weekdays(rows: Iterable[OnWeekday]) -> tuple[OnWeekday, ...]:
    found: dict[int, OnWeekday] = {}
    for row in rows:
        had = found.get(row.weekday, OnWeekday(row.weekday, 0, 0))
        found[row.weekday] = OnWeekday(row.weekday, had.made + row.made, had.missed + row.missed)
    return tuple(found[day] for day in sorted(found))
