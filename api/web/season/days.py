"""Stretches of the year as numbers: days of a leap year from 0, none over New Year but in two."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from inventory.science.seasons import LEAP_YEAR, DayOfYear, Season

YEAR = 366
Stretch = tuple[int, int]  # first day and the day after the last; 0 to YEAR


def number_of(day: DayOfYear) -> int:
    """Which day of the year it is, 0 the first of January.

    >>> number_of((1, 1)), number_of((3, 1)), number_of((12, 31))
    (0, 60, 365)
    """
    month, number = day
    return date(LEAP_YEAR, month, number).timetuple().tm_yday - 1


def stretch_of(season: Season) -> Stretch:
    """A season as a stretch; one over New Year ends beyond YEAR.

    >>> stretch_of(Season("privet", (9, 1), (2, 29)))
    (244, 426)
    """
    first, last = number_of(season.first), number_of(season.last) + 1
    return (first, last) if first < last else (first, last + YEAR)


def within_year(stretch: Stretch) -> Iterator[Stretch]:
    """The same days, cut at New Year.

    >>> list(within_year((244, 426)))
    [(244, 366), (0, 60)]
    """
    first, after = stretch
    if after - first >= YEAR:
        yield 0, YEAR
    elif after <= YEAR:
        yield stretch
    else:
        yield first, YEAR
        yield 0, after - YEAR


def shared(one: Stretch, other: Stretch) -> tuple[Stretch, ...]:
    """Days that lie in both.

    >>> shared((0, 100), (90, 120)), shared((244, 426), (60, 244))
    (((90, 100),), ())
    """
    return tuple(
        (max(a, c), min(b, d))
        for a, b in within_year(one)
        for c, d in within_year(other)
        if max(a, c) < min(b, d)
    )


def packed(stretches: Iterable[Stretch], *, apart: int = 3) -> tuple[int, ...]:
    """On which ring each stretch lies so that none touches another; rings from 0.

    Parameters
    ----------
    apart : days between two on one ring
    """
    rings: list[list[Stretch]] = []
    found = []
    for stretch in stretches:
        room = (stretch[0] - apart, stretch[1] + apart)
        place = next(
            (n for n, ring in enumerate(rings) if not any(shared(room, row) for row in ring)),
            len(rings),
        )
        if place == len(rings):
            rings.append([])
        rings[place].append(stretch)
        found.append(place)
    return tuple(found)
