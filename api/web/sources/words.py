"""What the pages and the JSON say of a source: its days, its leave, how it stands with each."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from inventory.science.seasons import Season
from sourcing.arrivals import Promise, why_closed
from sourcing.reliability import Record
from sourcing.sources_seen import GiftFacts
from sourcing.week.words import day_in_words, grams, listed
from sourcing.week.words import pieces as pieces_in_words

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
DAYS_SHOWN = 6


def full_day(day: date) -> str:
    """A day with its year.

    Examples
    --------
    >>> full_day(date(2026, 11, 23))
    'Mon 23 Nov 2026'
    """
    return f"{day_in_words(day)} {day.year}"


def days_said(promise: Promise, today: date) -> str:
    """On which days something is agreed: weekdays, and single days that are not over."""
    weekdays = [WEEKDAYS[day] for day in promise.days if not isinstance(day, date)]
    single = [day for day in promise.days if isinstance(day, date) and day >= today]
    shown = [full_day(day) for day in sorted(single)[:DAYS_SHOWN]]
    more = [f"{len(single) - DAYS_SHOWN} more"] if len(single) > DAYS_SHOWN else []
    return listed([*weekdays, *shown, *more]) or "no day agreed"


def window_said(promise: Promise) -> str:
    """The window in one phrase; empty where it is always open."""
    since, until = promise.since, promise.last_on
    if since is not None and until is not None:
        return f"{full_day(since)} to {full_day(until)}"
    if since is not None:
        return f"from {full_day(since)} on"
    return f"until {full_day(until)}" if until is not None else ""


def closed_said(promise: Promise, today: date) -> tuple[str, ...]:
    """Stretches of days on which nothing is given, those that are not over."""
    ahead = sorted(stretch for stretch in promise.closed if stretch[1] >= today)
    return tuple(
        full_day(first) if first == last else f"{full_day(first)} to {full_day(last)}"
        for first, last in ahead[:DAYS_SHOWN]
    )


def permission_said(gift: GiftFacts) -> str:
    """Who said yes and when, and whether that was taken back."""
    promise = gift.promise
    if not promise.permission:
        return "nobody has said yes yet" if gift.foraged else "not written down"
    if promise.permission_ended is not None:
        return f"{promise.permission}; withdrawn from {full_day(promise.permission_ended)} on"
    return promise.permission


def state_of(gift: GiftFacts, today: date) -> tuple[str, str]:
    """Whether it may be fetched today, as a word and its tone: yes, wait or no."""
    promise = gift.promise
    foraged = frozenset((promise.gives,)) if gift.foraged else frozenset[str]()
    why = why_closed(promise, today, foraged)
    if why:
        waits = why.startswith(("window opens", "closed till"))
        return (f"not yet: {why}", "wait") if waits else (f"not to be fetched: {why}", "no")
    if gift.nesting is not None and gift.nesting.holds(today):
        return "look for nests before each cut", "wait"
    return "may be fetched", "yes"


def amount_said(gift: GiftFacts, mg: int, pieces: int | None) -> str:
    """A count with what it comes to, or a mass.

    A count that nobody knows the mass of stays a count.
    """
    if pieces is None:
        return grams(mg)
    said = pieces_in_words(pieces, gift.promise.gives)
    return f"{said}, {grams(mg)}" if mg else said


def record_said(gift: GiftFacts, record: Record, *, least: bool = True) -> str:
    """A record in one phrase: mean, least, how often it did not come."""
    if not record.times:
        return ""
    mean = record.mean_pieces
    said = amount_said(gift, round(record.mean_mg), None if mean is None else _nearest(mean))
    parts = [f"mean {said}"]
    if least and record.least_mg is not None:
        parts.append(f"least {amount_said(gift, record.least_mg, record.least_pieces)}")
    parts.append(f"missed {record.missed:,} in {record.times:,}")
    return "; ".join(parts)


def weekdays_said(gift: GiftFacts) -> str:
    """On which days of the week it came, out of how often it was due there."""
    rows = gift.record.weekdays
    return listed(
        f"{WEEKDAYS[row.weekday]} {row.made:,} of {row.made + row.missed:,}" for row in rows
    )


def season_said(season: Season, today: date) -> str:
    """When a part can be gathered, and whether that is now."""
    part = f"{season.part}: " if season.part else ""
    if season.all_year:
        return f"{part}all year"
    if season.holds(today):
        return f"{part}{season.dates}; now, until {full_day(season.ends(today))}"
    return f"{part}{season.dates}; again from {full_day(season.begins(today))}"


def nesting_said(gift: GiftFacts) -> str:
    """When birds nest in what it is cut from; empty where it is cut from no hedge or tree."""
    if gift.nesting is None:
        return ""
    return f"birds nest in it {gift.nesting.said}"


def grounds_said(gift: GiftFacts) -> tuple[str, ...]:
    """What each season rests on: its basis, its source, from when it holds."""
    nesting = (gift.nesting,) if gift.nesting is not None else ()
    found = []
    for season in (*gift.seasons, *nesting):
        what = "nesting season" if season is gift.nesting else season.part or "season"
        since = f"; holds from {full_day(season.since)} on" if season.since else ""
        source = f": {season.source}" if season.source else ""
        basis = "the studio's own rule" if season.own else season.basis
        found.append(f"{what}, {basis}{source}{since}")
    return tuple(found)


def carrying_said(note: str, until: date | None, today: date) -> tuple[str, str]:
    """Why it may be carried and until when, as words and their tone."""
    if not note:
        return "no carrying note on record", "no"
    if until is None:
        return note, "yes"
    if until < today:
        return f"{note}; ran out {full_day(until)}", "no"
    days = (until - today).days
    when = "today" if not days else f"in {days:,} day" if days == 1 else f"in {days:,} days"
    return f"{note}; runs out {full_day(until)}, {when}", "yes"


def tubs_said(tubs: int) -> str:
    """How many of our tubs stand there."""
    return f"{tubs:,} tub" if tubs == 1 else f"{tubs:,} tubs"


def silent_said(days: Iterable[date]) -> str:
    """Days that went by without a word."""
    said = listed(day_in_words(day) for day in days)
    return f"Nobody has said what became of {said}: not counted as missed." if said else ""


def _nearest(number: Fraction) -> int:
    return int(number + Fraction(1, 2))
