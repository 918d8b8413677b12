"""Days and moments as a language writes them: the names of its days and months."""

from __future__ import annotations

import re
from datetime import date, datetime, time

from django.utils.dates import MONTHS, WEEKDAYS
from django.utils.translation import pgettext_lazy

SHORT_DAYS = (
    pgettext_lazy("short day", "Mon"),
    pgettext_lazy("short day", "Tue"),
    pgettext_lazy("short day", "Wed"),
    pgettext_lazy("short day", "Thu"),
    pgettext_lazy("short day", "Fri"),
    pgettext_lazy("short day", "Sat"),
    pgettext_lazy("short day", "Sun"),
)
SHORT_MONTHS = (
    pgettext_lazy("short month", "Jan"),
    pgettext_lazy("short month", "Feb"),
    pgettext_lazy("short month", "Mar"),
    pgettext_lazy("short month", "Apr"),
    pgettext_lazy("short month", "May"),
    pgettext_lazy("short month", "Jun"),
    pgettext_lazy("short month", "Jul"),
    pgettext_lazy("short month", "Aug"),
    pgettext_lazy("short month", "Sep"),
    pgettext_lazy("short month", "Oct"),
    pgettext_lazy("short month", "Nov"),
    pgettext_lazy("short month", "Dec"),
)
NAMED = re.compile(r"%([aAbB])")


def written(at: date | datetime | time, spec: str) -> str:
    """A moment in the form of a pattern, with days and months named by the reader's language."""
    if not isinstance(at, date):
        return format(at, spec)
    return format(at, NAMED.sub(lambda found: _name(at, found[1]), spec))


def _name(at: date, sign: str) -> str:
    if sign == "A":
        return str(WEEKDAYS[at.weekday()])
    if sign == "B":
        return str(MONTHS[at.month])
    return str(SHORT_DAYS[at.weekday()] if sign == "a" else SHORT_MONTHS[at.month - 1])
