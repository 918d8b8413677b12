"""What the pages and the JSON say of a source: its days, its leave, how it stands with each."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from inventory.science.saying import joined, say
from inventory.science.seasons import Season
from sourcing.arrivals import Promise, why_closed
from sourcing.reliability import Record
from sourcing.sources_seen import GiftFacts
from sourcing.week.words import day_in_words, grams, listed
from sourcing.week.words import pieces as pieces_in_words

WEEKDAYS = (say("Mon"), say("Tue"), say("Wed"), say("Thu"), say("Fri"), say("Sat"), say("Sun"))
DAYS_SHOWN = 6


def full_day(day: date) -> str:
    """A day with its year.

    Examples
    --------
    >>> full_day(date(2026, 11, 23))
    'Mon 23 Nov 2026'
    """
    return say("{day} {year}", day=day_in_words(day), year=day.year)


def days_said(promise: Promise, today: date) -> str:
    """On which days something is agreed: weekdays, and single days that are not over."""
    weekdays = [WEEKDAYS[day] for day in promise.days if not isinstance(day, date)]
    single = [day for day in promise.days if isinstance(day, date) and day >= today]
    shown = [full_day(day) for day in sorted(single)[:DAYS_SHOWN]]
    more = [say("{count} more", count=len(single) - DAYS_SHOWN)] if len(single) > DAYS_SHOWN else []
    return listed([*weekdays, *shown, *more]) or say("no day agreed")


def window_said(promise: Promise) -> str:
    """The window in one phrase; empty where it is always open."""
    since, until = promise.since, promise.last_on
    if since is not None and until is not None:
        return say(
            "{full_day} to {full_day_2}", full_day=full_day(since), full_day_2=full_day(until)
        )
    if since is not None:
        return say("from {full_day} on", full_day=full_day(since))
    return say("until {full_day}", full_day=full_day(until)) if until is not None else ""


def closed_said(promise: Promise, today: date) -> tuple[str, ...]:
    """Stretches of days on which nothing is given, those that are not over."""
    ahead = sorted(stretch for stretch in promise.closed if stretch[1] >= today)
    return tuple(
        full_day(first)
        if first == last
        else say("{full_day} to {full_day_2}", full_day=full_day(first), full_day_2=full_day(last))
        for first, last in ahead[:DAYS_SHOWN]
    )


def permission_said(gift: GiftFacts) -> str:
    """Who said yes and when, and whether that was taken back."""
    promise = gift.promise
    if not promise.permission:
        return say("nobody has said yes yet") if gift.foraged else say("not written down")
    if promise.permission_ended is not None:
        return say(
            "{permission}; withdrawn from {full_day} on",
            permission=promise.permission,
            full_day=full_day(promise.permission_ended),
        )
    return promise.permission


def state_of(gift: GiftFacts, today: date) -> tuple[str, str]:
    """Whether it may be fetched today, as a word and its tone: yes, wait or no."""
    promise = gift.promise
    foraged = frozenset((promise.gives,)) if gift.foraged else frozenset[str]()
    why = why_closed(promise, today, foraged)
    if why:
        waits = why.startswith((say("window opens"), say("closed till")))
        return (
            (say("not yet: {why}", why=why), "wait")
            if waits
            else (say("not to be fetched: {why}", why=why), "no")
        )
    if gift.nesting is not None and gift.nesting.holds(today):
        return say("look for nests before each cut"), "wait"
    return say("may be fetched"), "yes"


def amount_said(gift: GiftFacts, mg: int, pieces: int | None) -> str:
    """A count with what it comes to, or a mass.

    A count that nobody knows the mass of stays a count.
    """
    if pieces is None:
        return grams(mg)
    said = pieces_in_words(pieces, gift.promise.gives)
    return say("{said}, {mg}", said=said, mg=grams(mg)) if mg else said


def record_said(gift: GiftFacts, record: Record, *, least: bool = True) -> str:
    """A record in one phrase: mean, least, how often it did not come."""
    if not record.times:
        return ""
    mean = record.mean_pieces
    said = amount_said(gift, round(record.mean_mg), None if mean is None else _nearest(mean))
    parts = [say("mean {said}", said=said)]
    if least and record.least_mg is not None:
        parts.append(
            say(
                "least {amount_said}",
                amount_said=amount_said(gift, record.least_mg, record.least_pieces),
            )
        )
    parts.append(say("missed {missed:,} in {times:,}", missed=record.missed, times=record.times))
    return joined("; ", parts)


def weekdays_said(gift: GiftFacts) -> str:
    """On which days of the week it came, out of how often it was due there."""
    rows = gift.record.weekdays
    return listed(
        say(
            "{weekdays} {made:,} of {made_2:,}",
            weekdays=WEEKDAYS[row.weekday],
            made=row.made,
            made_2=row.made + row.missed,
        )
        for row in rows
    )


def season_said(season: Season, today: date) -> str:
    """When a part can be gathered, and whether that is now."""
    part = say("{part}: ", part=season.part) if season.part else ""
    if season.all_year:
        return say("{part}all year", part=part)
    if season.holds(today):
        return say(
            "{part}{dates}; now, until {full_day}",
            part=part,
            dates=season.dates,
            full_day=full_day(season.ends(today)),
        )
    return say(
        "{part}{dates}; again from {full_day}",
        part=part,
        dates=season.dates,
        full_day=full_day(season.begins(today)),
    )


def nesting_said(gift: GiftFacts) -> str:
    """When birds nest in what it is cut from; empty where it is cut from no hedge or tree."""
    if gift.nesting is None:
        return ""
    return say("birds nest in it {said}", said=gift.nesting.said)


def grounds_said(gift: GiftFacts) -> tuple[str, ...]:
    """What each season rests on: its basis, its source, from when it holds."""
    nesting = (gift.nesting,) if gift.nesting is not None else ()
    found = []
    for season in (*gift.seasons, *nesting):
        what = say("nesting season") if season is gift.nesting else season.part or "season"
        since = (
            say("; holds from {full_day} on", full_day=full_day(season.since))
            if season.since
            else ""
        )
        source = say(": {source}", source=season.source) if season.source else ""
        basis = say("the studio's own rule") if season.own else season.basis
        found.append(
            say(
                "{what}, {basis}{source}{since}", what=what, basis=basis, source=source, since=since
            )
        )
    return tuple(found)


def carrying_said(note: str, until: date | None, today: date) -> tuple[str, str]:
    """Why it may be carried and until when, as words and their tone."""
    if not note:
        return say("no carrying note on record"), "no"
    if until is None:
        return note, "yes"
    if until < today:
        return say("{note}; ran out {full_day}", note=note, full_day=full_day(until)), "no"
    days = (until - today).days
    when = (
        "today"
        if not days
        else say("in {days:,} day", days=days)
        if days == 1
        else say("in {days:,} days", days=days)
    )
    return say(
        "{note}; runs out {full_day}, {when}", note=note, full_day=full_day(until), when=when
    ), "yes"


def tubs_said(tubs: int) -> str:
    """How many of our tubs stand there."""
    return say("{tubs:,} tub", tubs=tubs) if tubs == 1 else say("{tubs:,} tubs", tubs=tubs)


def silent_said(days: Iterable[date]) -> str:
    """Days that went by without a word."""
    said = listed(day_in_words(day) for day in days)
    return (
        say("Nobody has said what became of {said}: not counted as missed.", said=said)
        if said
        else ""
    )


def _nearest(number: Fraction) -> int:
    return int(number + Fraction(1, 2))
