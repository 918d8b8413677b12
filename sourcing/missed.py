"""A visit that is missed, asked of a studio: the facts gathered once, then pure sums."""

from __future__ import annotations

from datetime import date, datetime

from inventory.models import Studio
from inventory.science.saying import say
from sourcing.errors import NoSuchPickUp, NoSuchSource
from sourcing.models import Source
from sourcing.outlook import facts_at
from sourcing.week.facts import PickUpExpected, WeekFacts
from sourcing.week.ripple import Hardest, Ripple, hardest_first, pick_ups_of, ripple
from sourcing.week.words import day_in_words, listed

SHOWN_AT_MOST = 6  # pick-ups that a refusal names


def missed_at(
    studio: Studio, *, at: datetime, days: int, source: str, on: date, gives: str = ""
) -> Ripple:
    """All that moves when a source's visit on a day is missed.

    Parameters
    ----------
    at : aware; the moment from which the week is seen
    days : length of the period
    on : local day of the visit; it may lie behind the period, as far as the horizon goes
    gives : one thing that the source gives; empty: all that it would bring that day

    Raises
    ------
    NoSuchSource, NoSuchPickUp
        The message says which ones there are.
    """
    return missed_in(facts_at(studio, at=at, days=days), studio, days=days, source=source, on=on,
                     gives=gives)  # fmt: skip


def missed_in(
    facts: WeekFacts, studio: Studio, *, days: int, source: str, on: date, gives: str = ""
) -> Ripple:
    """The same where the facts have been gathered already."""
    rows = pick_ups_of(facts, source=source, on=on, gives=gives)
    if not rows:
        raise _none(facts, studio, source, on, gives)
    return ripple(facts, rows, days=days)


def hardest_missed_at(studio: Studio, *, at: datetime, days: int) -> Hardest:
    """The visits of the period that may be missed, the one that hurts most in front."""
    return hardest_first(facts_at(studio, at=at, days=days), days=days)


def _none(
    facts: WeekFacts, studio: Studio, source: str, on: date, gives: str
) -> NoSuchSource | NoSuchPickUp:
    known = any(row.source == source for row in facts.pick_ups)
    if not known and not Source.objects.of(studio).filter(name=source).exists():
        return NoSuchSource(source)
    found = sorted({row.at.astimezone(facts.zone).date() for row in _others(facts, source, gives)})
    days = [day_in_words(day) for day in found[:SHOWN_AT_MOST]]
    if len(found) > SHOWN_AT_MOST:
        days.append(say("{count} more", count=len(found) - SHOWN_AT_MOST))
    return NoSuchPickUp(
        source=source,
        gives=gives,
        on=say("{on} {year}", on=day_in_words(on), year=on.year),
        why=_why(facts, source, on, gives),
        expected=listed(days),
    )


def _others(facts: WeekFacts, source: str, gives: str) -> tuple[PickUpExpected, ...]:
    return pick_ups_of(facts, source=source, gives=gives)


def _why(facts: WeekFacts, source: str, on: date, gives: str) -> str:
    """Why an agreed day brings nothing: written down as missed, or closed."""
    for row in facts.pick_ups:
        same = row.source == source and gives in ("", row.dyestuff)
        if same and row.at.astimezone(facts.zone).date() == on:
            if row.missed:
                return say(": it is written down as missed already")
            if row.why_not:
                return say(": {why_not}", why_not=row.why_not)
    return ""
