"""Days, spans and amounts as the shelves say them."""

from __future__ import annotations

from datetime import date, datetime
from functools import lru_cache
from zoneinfo import ZoneInfo

from inventory.science.counting import Counted
from inventory.science.days import local_day
from inventory.science.saying import say
from sourcing.week.words import MONTHS, WORDS_KEPT, day_in_words, days_in_words

NEAR_DAYS = 90  # within these a weekday helps, beyond them the year does
SOON_DAYS = 3
# The colour of a word by how near the end is; its mark and the word itself say the same.
TONES = {"fine": "yes", "soon": "wait", "today": "see", "past": "no"}


@lru_cache(maxsize=WORDS_KEPT)
def day_said(day: date, today: date) -> str:
    """A day near at hand with its weekday, one further off with its year.

    >>> day_said(date(2026, 11, 24), date(2026, 11, 23))
    'Tue 24 Nov'
    >>> day_said(date(2027, 9, 11), date(2026, 11, 23))
    '11 Sep 2027'
    """
    if day == today:
        return say("today")
    if abs((day - today).days) <= NEAR_DAYS:
        return day_in_words(day)
    return say("{day} {months} {year}", day=day.day, months=MONTHS[day.month - 1], year=day.year)


@lru_cache(maxsize=WORDS_KEPT)
def moment_said(at: datetime | date, today: date, zone: ZoneInfo) -> str:
    """A moment with its hour on the studio's clock, or a day where no hour is known."""
    if not isinstance(at, datetime):
        return day_said(at, today)
    day = local_day(at, zone=zone)
    if abs((day - today).days) > NEAR_DAYS:
        return day_said(day, today)
    return say(
        "{day_said} {astimezone:%H:%M}",
        day_said=day_said(day, today),
        astimezone=at.astimezone(zone),
    )


def mood_of(days_left: int) -> str:
    """How near the end is: fine, soon, today, past."""
    if days_left < 0:
        return "past"
    if days_left == 0:
        return "today"
    return "soon" if days_left <= SOON_DAYS else "fine"


def life_said(row: Counted, today: date) -> str:
    """What is left of a lot's life, in words.

    `last good day today`, `past by 11 days`, `good to Thu 26 Nov, 3 days`, `good to 11 Sep 2027`.
    """
    text = last_good_said(row.good.day, today)
    if row.good.by_eye:
        text += say(" (looked {by_eye})", by_eye=row.good.by_eye)
    if row.good.too_late:
        text += say(" (put by too late)")
    return text


def last_good_said(day: date, today: date) -> str:
    """A last good day seen from today.

    >>> last_good_said(date(2026, 11, 12), date(2026, 11, 23))
    'past by 11 days'
    >>> last_good_said(date(2026, 11, 26), date(2026, 11, 23))
    'good to Thu 26 Nov, 3 days'
    """
    days = (day - today).days
    if days < 0:
        return say("past by {days}", days=days_in_words(-days))
    if days == 0:
        return say("last good day today")
    if days > NEAR_DAYS:
        return say("good to {day_said}", day_said=day_said(day, today))
    return say(
        "good to {day_said}, {days}", day_said=day_said(day, today), days=days_in_words(days)
    )


def one_or(count: int, one: str, many: str) -> str:
    """`1 lot`, `7 lots`."""
    return say("{count:,} {which}", count=count, which=one if count == 1 else many)


def quantity(number: float) -> str:
    """A measured number in about three figures.

    >>> quantity(13.54), quantity(4.802), quantity(0.0), quantity(2720.6)
    ('13.5', '4.8', '0', '2,721')
    """
    if number >= 100:
        return f"{number:,.0f}"
    return f"{number:.1f}".removesuffix(".0")
