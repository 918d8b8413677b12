"""When does nothing come of a dyestuff: sources shut, a window over, the plant out of season?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache

from inventory.science.library import library
from inventory.science.saying import joined, say
from sourcing.forecast.facts import MONTHS, Stream
from sourcing.week.words import MONTHS as MONTH_WORDS
from sourcing.week.words import day_in_words, listed

BEGINS_WITHIN_DAYS = 365  # gaps that begin later are none yet
LOOKED_AHEAD_DAYS = 2 * 366  # and within a year more any season begins again
CLOSINGS_NAMED = 3
ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Gap:
    """Days on which nothing of a dyestuff may be fetched."""

    dyestuff: str
    since: date
    until: date | None  # first day on which something may come again; None: nobody knows
    why: str
    anew: bool = False  # only if somebody agrees to it again

    def holds(self, day: date) -> bool:
        return self.since <= day and (self.until is None or day < self.until)


@cache
def season_of(dyestuff: str) -> frozenset[int]:
    """The months in which a plant is to be had, 1 to 12; all where nothing is known.

    References
    ----------
    The catalogue's rows `season_start` and `season_end`, each with its source.

    Examples
    --------
    >>> sorted(season_of("privet")), len(season_of("avocado stones"))
    ([1, 2, 9, 10, 11, 12], 12)
    """
    starts = library().look_up(dyestuff, "season_start")
    ends = library().look_up(dyestuff, "season_end")
    if not starts or not ends or starts[0].typical is None or ends[0].typical is None:
        return frozenset(range(1, MONTHS + 1))
    first, last = int(starts[0].typical), int(ends[0].typical)
    many = (last - first) % MONTHS + 1
    return frozenset((first - 1 + n) % MONTHS + 1 for n in range(many))


def may_come(stream: Stream, day: date) -> bool:
    """Whether something could be fetched on a day, agreed or not: window, closing, season."""
    in_season = day.month in season_of(stream.gives) and stream.season[day.month - 1] > 0
    return in_season and stream.is_open(day) and day <= _last_day(stream)


def pick_up_days(stream: Stream, since: date, until: date) -> Iterator[date]:
    """Agreed days of a period on which something may come and nothing is on record yet."""
    known = {visit.on for visit in stream.visits}
    return (
        day for day in stream.agreed(since, until) if day not in known and may_come(stream, day)
    )


def gaps_of(streams: Sequence[Stream], *, today: date, at_least_days: int) -> tuple[Gap, ...]:
    """The gaps of one dyestuff from today on, in order.

    Parameters
    ----------
    streams : what sources give of it, at least one
    at_least_days : shorter ones are none
    """
    dyestuff = streams[0].gives
    till = today + timedelta(days=BEGINS_WITHIN_DAYS)
    found: list[Gap] = []
    begun: date | None = None
    for day in (today + timedelta(days=n) for n in range(LOOKED_AHEAD_DAYS)):
        if begun is None and day > till:
            break
        comes = any(may_come(stream, day) for stream in streams)
        if comes and begun is not None:
            found.append(Gap(dyestuff, begun, day, _why(streams, begun)))
            begun = None
        elif not comes and begun is None:
            begun = day
    if begun is not None:
        found.append(_last_gap(dyestuff, streams, begun))
    return tuple(row for row in found if row.until is None or _long(row, at_least_days))


def _long(gap: Gap, at_least_days: int) -> bool:
    return gap.until is not None and (gap.until - gap.since).days >= at_least_days


def _last_day(stream: Stream) -> date:
    """The last day on which a source of single days gives; others give for ever."""
    if any(isinstance(day, int) for day in stream.days) or stream.last_on is not None:
        return date.max
    single = [day for day in stream.days if isinstance(day, date)]
    return max(single, default=date.max)


def _last_gap(dyestuff: str, streams: Sequence[Stream], since: date) -> Gap:
    """A gap that no agreement ends: to the next season, if somebody agrees to it then."""
    season, why = season_of(dyestuff), _why(streams, since)
    if len(season) == MONTHS:
        return Gap(dyestuff, since, None, why, anew=True)
    day = since
    while day.month in season:  # what is left of the season in which the window closed
        day += ONE_DAY
    while day.month not in season:
        day += ONE_DAY
    return Gap(dyestuff, since, day, why, anew=True)


def _why(streams: Sequence[Stream], day: date) -> str:
    """What shuts every source on a day."""
    said: list[str] = []
    season = season_of(streams[0].gives)
    for stream in streams:
        closed = next((pair for pair in stream.closed if pair[0] <= day <= pair[1]), None)
        last = stream.last_on if stream.last_on is not None else _last_day(stream)
        if stream.since is not None and day < stream.since:
            said.append(
                say(
                    "{source}: window opens {dated}",
                    source=stream.source,
                    dated=_dated(stream.since),
                )
            )
        elif last < day:
            said.append(
                say("{source}: window closes {dated}", source=stream.source, dated=_dated(last))
            )
        elif closed is not None:
            said.append(
                say("{source}: closed till {dated}", source=stream.source, dated=_dated(closed[1]))
            )
    more = len(said) - CLOSINGS_NAMED
    named = said[:CLOSINGS_NAMED] + ([say("{more} more", more=more)] if more > 0 else [])
    if len(season) < MONTHS:
        named.append(say("season {season_in_words}", season_in_words=season_in_words(season)))
    return joined("; ", named)


def _dated(day: date) -> str:
    return say("{day} {year}", day=day_in_words(day), year=day.year)


def season_in_words(season: frozenset[int]) -> str:
    """Months of a season, the turn of the year inside.

    >>> season_in_words(frozenset({9, 10, 11, 12, 1, 2}))
    'Sep to Feb'
    """
    firsts = [m for m in sorted(season) if (m - 2) % MONTHS + 1 not in season]
    spans = []
    for first in firsts:
        last = first
        while last % MONTHS + 1 in season:
            last = last % MONTHS + 1
        spans.append(_span(first, last))
    return listed(spans)


def _span(first: int, last: int) -> str:
    a, b = MONTH_WORDS[first - 1], MONTH_WORDS[last - 1]
    return a if first == last else say("{a} to {b}", a=a, b=b)
