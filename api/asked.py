"""What somebody asks of the week, as text: a moment, a number of days, a studio by its name.

Shell and address read it the same way; what cannot be read is answered with one sentence.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from django.db.models import QuerySet

from inventory.models import Studio
from inventory.science.saying import kept, say
from sourcing.week.project import DAYS_AT_MOST
from sourcing.week.words import day_in_words, listed

DAYS = 7  # a week, where no number is asked for
FIRST_YEAR, LAST_YEAR = 1900, 2199
LONGEST_SHOWN = 60
LONGEST_NAME = 120  # of a studio, as the table has it
DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
# An offset's plus sign comes as a space where an address was not escaped.
MOMENT = re.compile(
    r"(?P<day>\d{4}-\d{2}-\d{2})[Tt ](?P<clock>\d{2}:\d{2})(?P<seconds>:\d{2}(?:\.\d{1,9})?)?"
    r"(?P<offset>[Zz]|[+\- ]\d{2}:\d{2})?",
    re.ASCII,
)


class Unreadable(ValueError):
    """Something asked for cannot be read or lies outside its range."""

    code = "unreadable"

    def __init__(self, name: str, text: str, detail: str) -> None:
        self.name, self.text, self.detail = name, text, detail
        super().__init__(detail)


class MomentUnreadable(Unreadable):
    """Not a day with a time."""

    code = "moment_unreadable"


class MomentSkipped(Unreadable):
    """A time of day over which the clocks went forward."""

    code = "moment_skipped"


class MomentTwice(Unreadable):
    """A time of day that comes twice as the clocks go back."""

    code = "moment_twice"


class DaysUnreadable(Unreadable):
    """Not a number of days, or one outside its range."""

    code = "days_unreadable"


class DayUnreadable(Unreadable):
    """Not a day of the calendar."""

    code = "day_unreadable"


class PageUnknown(Unreadable):
    """A number of a page of a list that cannot be read, or lies outside its range."""

    code = "page_unknown"


class StudioUnknown(LookupError):
    """No studio of that name, or none at all."""

    code = "studio_unknown"

    def __init__(self, name: str | None) -> None:
        self.name = name
        self.detail = (
            say("No studio is called {shown}.", shown=shown(name))
            if name is not None
            else "No studio is written down yet. Load a notebook: python3 manage.py load FOLDER"
        )
        super().__init__(self.detail)


class StudioNotNamed(Unreadable):
    """Several studios, and none was named."""

    code = "studio_not_named"


def moment_asked(text: str, zone: ZoneInfo) -> datetime:
    """The moment that a text names; without an offset it is the studio's local time.

    Raises
    ------
    MomentUnreadable, MomentSkipped, MomentTwice
        The message says what to write instead.
    """
    found = MOMENT.fullmatch(text.strip())
    if found is None:
        raise _unreadable(text)
    offset = (found["offset"] or "").replace(" ", "+").upper()
    try:
        moment = datetime.fromisoformat(
            f"{found['day']}T{found['clock']}{found['seconds'] or ''}{offset}"
        )
    except ValueError:
        raise _unreadable(text) from None
    if not FIRST_YEAR <= moment.year <= LAST_YEAR:
        raise _unreadable(text)
    if moment.tzinfo is not None:
        return moment.astimezone(zone)
    return _local(moment, text, zone)


def day_asked(name: str, text: str) -> date:
    """A day of the calendar; `name` is the word that it was asked for with."""
    plain = text.strip()
    try:
        day = date.fromisoformat(plain) if DAY.fullmatch(plain) else None
    except ValueError:
        day = None
    if day is None or not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise DayUnreadable(
            name, text, say("{shown} is no day. Write it such as 2026-11-26.", shown=shown(text))
        )
    return day


def days_asked(text: str | None) -> int:
    """A number of days, 1 to 28; a week where none is asked for."""
    if text is None:
        return DAYS
    if not re.fullmatch(r"\d{1,9}", text.strip(), re.ASCII):
        detail = say(
            "{shown} is no number of days. Write a whole number, 1 to {days_at_most}.",
            shown=shown(text),
            days_at_most=DAYS_AT_MOST,
        )
        raise DaysUnreadable("days", text, detail)
    days = int(text)
    if not 1 <= days <= DAYS_AT_MOST:
        detail = say(
            "{days} days asked for; a period has 1 to {days_at_most} days.",
            days=days,
            days_at_most=DAYS_AT_MOST,
        )
        raise DaysUnreadable("days", text, detail)
    return days


def studio_asked(name: str | None, among: QuerySet[Studio] | None = None) -> Studio:
    """The studio of a name; the only one where none is named."""
    studios = Studio.objects.all() if among is None else among
    if name is None:
        first = list(studios.order_by("name")[:2])
        if not first:
            raise StudioUnknown(None)
        if len(first) > 1:
            detail = say("Several studios are written down. Say which one by its name.")
            raise StudioNotNamed("studio", "", detail)
        return first[0]
    found = studio_called(name, studios)
    if found is None:
        raise StudioUnknown(name)
    return found


def studio_called(name: str, among: QuerySet[Studio] | None = None) -> Studio | None:
    """The studio of that name, in any case of letters where none is written just so."""
    studios = Studio.objects.all() if among is None else among
    if (wanted := studio_name(name)) is not None:
        for match in ("name", "name__iexact"):
            found = studios.filter(**{match: wanted}).order_by("name").first()
            if found is not None:
                return found
    return None


def studio_name(text: str) -> str | None:
    """A name that a studio could have; None for one that none has."""
    wanted = text.strip()
    # No name is so long or holds what cannot be printed, and a database may choke on it.
    return wanted if wanted.isprintable() and 0 < len(wanted) <= LONGEST_NAME else None


def shown(text: str) -> str:
    """What was asked, safe to print and not too long, in quotes."""
    plain = "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in text)
    cut = plain if len(plain) <= LONGEST_SHOWN else f"{plain[:LONGEST_SHOWN]}…"
    return say("“{text}”", text=kept(cut))


def _local(moment: datetime, text: str, zone: ZoneInfo) -> datetime:
    """A time on the studio's clock that comes once on its day."""
    first, second = moment.replace(tzinfo=zone), moment.replace(tzinfo=zone, fold=1)
    if first.utcoffset() == second.utcoffset():
        return first
    clock, day = (
        f"{moment:%H:%M}",
        say("{date} {year}", date=day_in_words(moment.date()), year=moment.year),
    )
    if first.astimezone(UTC).astimezone(zone).replace(tzinfo=None) != moment:
        raise MomentSkipped(
            "at",
            text,
            say(
                "There is no {clock} on {day} in {key}: the clocks go forward over it. Give an "
                "earlier or a later time.",
                clock=clock,
                day=day,
                key=zone.key,
            ),
        )
    choices = listed(each.isoformat(timespec="minutes") for each in (first, second))
    raise MomentTwice(
        "at",
        text,
        say(
            "{clock} on {day} comes twice in {key}: the clocks go back. Say which with its "
            "offset: {replace}.",
            clock=clock,
            day=day,
            key=zone.key,
            replace=choices.replace(" and ", " or "),
        ),
    )


def _unreadable(text: str) -> MomentUnreadable:
    return MomentUnreadable(
        "at",
        text,
        say(
            "{shown} is no moment. Write day and time such as 2026-11-23T07:30, by the "
            "studio's clock, or with an offset such as 2026-11-23T07:30+00:00.",
            shown=shown(text),
        ),
    )
