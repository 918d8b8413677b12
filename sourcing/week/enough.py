"""How likely is it that pick-ups bring what a run is short of, and by when?

A forecast beside the answer: a yes rests on what is on the shelf and what is confirmed.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

from inventory.science.catalogue import figure, find_figure
from inventory.science.days import local_day
from inventory.science.saying import say
from sourcing.forecast.arriving import Arriving, arriving
from sourcing.forecast.facts import NoPieceMass, PieceMass
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer, Enough, Shortage
from sourcing.week.words import day_in_words, grams, listed

MG_PER_GRAM = 1_000
SURELY = (0.8, 0.95)  # chances for which the day is told beside that of the period


def with_chances(
    facts: WeekFacts, answers: tuple[Answer, ...], *, until: datetime
) -> tuple[Answer, ...]:
    """The answers; those that are short of a dyestuff with the chance that enough comes.

    Parameters
    ----------
    until : end of the period
    """
    known: dict[str, Arriving | None] = {}
    last = local_day(until, zone=facts.zone) - timedelta(days=1)
    return tuple(_with_chances(facts, answer, known, last) for answer in answers)


def _with_chances(
    facts: WeekFacts, answer: Answer, known: dict[str, Arriving | None], last: date
) -> Answer:
    found = []
    for row in answer.short:
        if row.kind != "dyestuff":
            continue
        if row.what not in known:
            known[row.what] = coming_of(facts, row.what)
        coming = known[row.what]
        if coming is not None:
            found.append(_enough(row, coming, last))
    return replace(answer, enough=tuple(found)) if found else answer


def coming_of(facts: WeekFacts, dyestuff: str) -> Arriving | None:
    """What all sources of a dyestuff bring; None where none is agreed or no piece has a mass."""
    streams = [stream for stream in facts.streams if stream.gives == dyestuff]
    today = local_day(facts.at, zone=facts.zone)
    if not streams:
        return None
    horizon = figure(facts.figures, "studio", "horizon_days", on=today)
    until = today + timedelta(days=int(horizon.value))
    try:
        return arriving(streams, since=today, until=until, piece=piece_of(facts, dyestuff, today))
    except NoPieceMass:
        return None


def piece_of(facts: WeekFacts, dyestuff: str, today: date) -> PieceMass | None:
    """What is known of the mass of one piece; None where nobody has said."""
    found = find_figure(facts.figures, dyestuff, "piece_mass_g", on=today)
    if found is None or found.value <= 0:
        return None
    low = found.value if found.low is None else min(found.low, found.value)
    high = found.value if found.high is None else max(found.high, found.value)
    typical, least, most = (float(value) * MG_PER_GRAM for value in (found.value, low, high))
    return PieceMass(typical, least, most)


def _enough(row: Shortage, coming: Arriving, last: date) -> Enough:
    by = max((day for day in coming.days if day <= last), default=last)
    chance = coming.chance(row.amount, by=by)
    days = tuple((surely, coming.day_of(surely, need=row.amount)) for surely in SURELY)
    later = [
        say("{percent} by {day}", percent=percent(surely), day=day_in_words(day))
        for surely, day in days
        if day is not None and day > by
    ]
    text = say(
        "{what}: a chance of {percent} that {amount} come by {by}",
        what=row.what,
        percent=percent(chance),
        amount=grams(row.amount),
        by=day_in_words(by),
    )
    if later:
        text += say("; {later}", later=listed(later))
    return Enough(row.what, row.amount, by, chance, days, text)


def percent(chance: float) -> str:
    """A chance in whole per cent; never 0 or 100, as neither is known.

    >>> percent(0.503), percent(0.001), percent(0.999)
    ('50 %', 'under 1 %', 'over 99 %')
    """
    if chance < 0.01:
        return say("under 1 %")
    return say("over 99 %") if chance > 0.99 else say("{chance:.0f} %", chance=chance * 100)
