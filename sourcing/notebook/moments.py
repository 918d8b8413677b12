"""Days and moments as people write them in a notebook, in the studio's own time.

A day: `Mon 23 Nov 2026`, `23 November 2026`, `2026-11-23`. A moment adds `17:00`.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta, timezone, tzinfo
from zoneinfo import ZoneInfo

from sourcing.notebook.problem import Unclear
from sourcing.notebook.saying import say

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
WEEKDAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
MONTH_NAMES = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
FIRST_YEAR, LAST_YEAR = 1900, 2199
CENTURY = 2000  # of a year in two digits
WRITE_DAY = say("Write a day such as Mon 23 Nov 2026 or 2026-11-23.")
WRITE_MOMENT = say("Write day and time, such as Mon 23 Nov 2026 17:00.")
WRITE_CLOCK = say("Write a time of day such as 09:00.")

_DAY = (
    r"(?:(?P<weekday>[a-z]+)\.?,? )?(?P<day>\d{1,2})\.?[ -](?P<month>[a-z]+)\.?,?[ -]"
    r"(?P<year>\d{4}|\d{2})"
    r"|(?P<iso>\d{4}-\d{2}-\d{2})"
)
_OFFSET = r" ?(?P<offset>z|[+-]\d{2}:\d{2})"
_DAY_ONLY = re.compile(_DAY, re.IGNORECASE | re.ASCII)
_MOMENT = re.compile(
    rf"(?:{_DAY})(?:t| |, )(?P<hour>\d{{1,2}}):(?P<minute>\d{{2}})"
    rf"(?::(?P<second>\d{{2}})(?:\.(?P<part>\d{{1,6}}))?)?(?:{_OFFSET})?",
    re.IGNORECASE | re.ASCII,
)
_CLOCK = re.compile(r"(?P<hour>\d{1,2}):(?P<minute>\d{2})(?::00)?", re.ASCII)


def read_day(text: str) -> date:
    """The day that a text names."""
    found = _DAY_ONLY.fullmatch(text)
    if found is None:
        raise Unclear(WRITE_DAY)
    return _day(found)


def read_clock(text: str) -> time:
    """The time of day that a text names."""
    found = _CLOCK.fullmatch(text)
    if found is None:
        raise Unclear(WRITE_CLOCK)
    return _clock(found)


def read_moment(text: str, zone: ZoneInfo) -> datetime:
    """The moment that a text names, in the studio's zone.

    In the hour that comes twice when clocks go back the first one is meant, unless an offset
    such as +00:00 follows; a time in the hour that is skipped is refused.
    """
    found = _MOMENT.fullmatch(text)
    if found is None:
        raise Unclear(WRITE_MOMENT)
    wall = datetime.combine(_day(found), _clock(found))
    if found["second"]:
        part = int((found["part"] or "").ljust(6, "0"))
        wall = wall.replace(second=_second(found), microsecond=part)
    if found["offset"]:
        aware = wall.replace(tzinfo=_offset(found["offset"])).astimezone(zone)
        if not FIRST_YEAR <= aware.year <= LAST_YEAR:
            raise Unclear(
                say(
                    "Write a year from {first_year} to {last_year}.",
                    first_year=FIRST_YEAR,
                    last_year=LAST_YEAR,
                )
            )
        return aware
    moment = wall.replace(tzinfo=zone)
    if skipped(moment):
        later = moment.astimezone(UTC).astimezone(zone)
        raise Unclear(
            say(
                "The clocks go forward on {write_day}: {wall:%H:%M} does not exist in {key}. "
                "Write {later:%H:%M}.",
                write_day=write_day(wall.date()),
                wall=wall,
                key=zone.key,
                later=later,
            )
        )
    return moment


def skipped(moment: datetime) -> bool:
    """Whether a local time falls into the hour that a clock change skips."""
    there_and_back = moment.astimezone(UTC).astimezone(moment.tzinfo)
    return there_and_back.replace(tzinfo=None) != moment.replace(tzinfo=None)


def read_weekday(text: str) -> int | None:
    """0 Monday to 6 Sunday, or None when the word names no day of the week."""
    word = text.casefold().rstrip(".")
    for number, name in enumerate(WEEKDAY_NAMES):
        full = name.casefold()
        if word in (full, full + "s") or (len(word) >= 2 and word == full[: len(word)]):
            return number if len(word) > 1 else None
    return None


def write_day(day: date) -> str:
    """A day in the form that a notebook shows."""
    return f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"


def write_clock(clock: time) -> str:
    """A time of day in the form that a notebook shows."""
    return f"{clock:%H:%M}"


def write_moment(moment: datetime, zone: ZoneInfo) -> str:
    """A moment in the form that a notebook shows; the second of a doubled hour with its offset."""
    local = moment.astimezone(zone)
    clock = f"{local:%H:%M}"
    if local.second or local.microsecond:
        clock = f"{local:%H:%M:%S}.{local.microsecond:06}".rstrip("0").removesuffix(".")
    text = f"{write_day(local.date())} {clock}"
    if not local.fold:
        return text
    minutes = int((local.utcoffset() or timedelta(0)).total_seconds() // 60)
    sign = "-" if minutes < 0 else "+"
    return f"{text} {sign}{abs(minutes) // 60:02}:{abs(minutes) % 60:02}"


def _day(found: re.Match[str]) -> date:
    if found["iso"]:
        year, month, day = (int(part) for part in found["iso"].split("-"))
    else:
        year, month, day = int(found["year"]), _month(found["month"]), int(found["day"])
        if len(found["year"]) == 2:  # a spreadsheet makes 23-Nov-26 of 23 Nov 2026
            year += CENTURY
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise Unclear(
            say(
                "Write a year from {first_year} to {last_year}.",
                first_year=FIRST_YEAR,
                last_year=LAST_YEAR,
            )
        )
    try:
        named = date(year, month, day)
    except ValueError:
        raise Unclear(say("There is no such day. {write_day}", write_day=WRITE_DAY)) from None
    if found["weekday"]:
        _check_weekday(found["weekday"], named)
    return named


def _month(word: str) -> int:
    folded = word.casefold()
    for number, name in enumerate(MONTH_NAMES, start=1):
        if len(folded) >= 3 and name.casefold().startswith(folded):
            return number
    raise Unclear(say("“{word}” is no month. {write_day}", word=word, write_day=WRITE_DAY))


def _check_weekday(word: str, day: date) -> None:
    named = read_weekday(word)
    if named is None:
        raise Unclear(
            say("“{word}” is no day of the week. {write_day}", word=word, write_day=WRITE_DAY)
        )
    if named != day.weekday():
        actual = WEEKDAY_NAMES[day.weekday()]
        raise Unclear(
            say(
                "{day} {months} {year} is a {actual}. Write {write_day}, or the day that is meant.",
                day=day.day,
                months=MONTHS[day.month - 1],
                year=day.year,
                actual=actual,
                write_day=write_day(day),
            )
        )


def _clock(found: re.Match[str]) -> time:
    try:
        return time(int(found["hour"]), int(found["minute"]))
    except ValueError:
        raise Unclear(
            say("There is no such time of day. {write_clock}", write_clock=WRITE_CLOCK)
        ) from None


def _second(found: re.Match[str]) -> int:
    second = int(found["second"])
    if second > 59:
        raise Unclear(
            say("There is no such time of day. {write_moment}", write_moment=WRITE_MOMENT)
        )
    return second


def _offset(text: str) -> tzinfo:
    if text.casefold() == "z":
        return UTC
    minutes = int(text[1:3]) * 60 + int(text[4:6])
    if minutes >= 24 * 60:
        raise Unclear(say("The offset is too far. Write one such as +00:00 or +01:00."))
    return timezone(timedelta(minutes=-minutes if text[0] == "-" else minutes))
