"""A notebook moved by whole weeks, with the codes that carry a date written anew.

A lot called AV-1116 was gathered on 16 November; four weeks later it is AV-1214, everywhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from sourcing.notebook.moments import MONTHS, skipped, write_day
from sourcing.notebook.notebook import Notebook
from sourcing.notebook.page import Row, Value
from sourcing.notebook.problem import Unclear
from sourcing.notebook.yard_pages import BY_NAME

MOST_WEEKS = 52 * 50
DATED = re.compile(r"(?P<what>.*?)(?P<month>\d\d)(?P<day>\d\d)", re.ASCII)
_MONTH = "|".join(MONTHS)
IN_WORDS = re.compile(
    rf"(?P<weekday>(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun)[a-z]* )?"
    rf"(?P<day>\d{{1,2}}) (?P<month>{_MONTH})[a-z]* (?P<year>\d{{4}})\b|"
    rf"\b(?P<iso>\d{{4}}-\d{{2}}-\d{{2}})\b",
    re.ASCII,
)


def moved(notebook: Notebook, *, weeks: int) -> Notebook:
    """The same notebook so many whole weeks later (before: below 0).

    Every day and moment moves and keeps its weekday and its hour on the wall; days named in words
    move too. A code whose last four digits are the month and day of its own lot moves with it, in
    every cell and sentence that names it; other codes stay.
    """
    if abs(weeks) > MOST_WEEKS:
        raise ValueError(f"{weeks} weeks are too many; at most {MOST_WEEKS}.")
    by = timedelta(weeks=weeks)
    codes = new_codes(notebook, by)
    zone = notebook.setting.zone
    rows = {
        page: tuple(_moved_row(row, by, codes, zone) for row in rows)
        for page, rows in notebook.rows.items()
    }
    return Notebook(notebook.setting, rows)


def new_codes(notebook: Notebook, by: timedelta) -> dict[str, str]:
    """Codes that carry their own lot's date, with the code that they get."""
    taken = {
        name
        for page in ("lots", "jars", "baths", "supplies", "fibre")
        for name in notebook.named(page).values()
    }
    dated = {code: day for code, day in _days_of_lots(notebook) if _carries(code, day)}
    new = {code: code[:-4] + f"{day + by:%m%d}" for code, day in dated.items()}
    free = taken - set(new)
    for code in sorted(new, key=lambda code: dated[code]):
        while new[code] in free:  # only where a leap day brings two dates together
            new[code] += "b"
        free.add(new[code])
    return new


def _days_of_lots(notebook: Notebook) -> Iterable[tuple[str, date]]:
    """Each lot's code with the day that it was gathered, handed over, or put there."""
    zone = notebook.setting.zone
    for row in notebook.page("pickups"):
        at = row.moment("at")
        if row.has("lot") and at is not None:
            yield row.text("lot"), at.astimezone(zone).date()
    for row in notebook.page("lots"):
        since = row.moment("since")
        day = row.day("gathered") or (since.astimezone(zone).date() if since else None)
        if day is not None:
            yield row.text("lot"), day


def _carries(code: str, day: date) -> bool:
    found = DATED.fullmatch(code)
    if found is None or found["what"][-1:].isdigit():
        return False
    return (int(found["month"]), int(found["day"])) == (day.month, day.day)


def _moved_row(row: Row, by: timedelta, codes: Mapping[str, str], zone: ZoneInfo) -> Row:
    values = {
        name: _moved_value(value, by, codes, zone, dated=_is_dated(row, name))
        for name, value in row.values.items()
    }
    return replace(row, values=values)


def _is_dated(row: Row, name: str) -> bool:
    """Whether a text may name days: sentences and names, not rules or choices."""
    return BY_NAME[row.page].column(name).kind in ("text", "name")


def _moved_value(
    value: Value, by: timedelta, codes: Mapping[str, str], zone: ZoneInfo, *, dated: bool
) -> Value:
    if isinstance(value, datetime):
        return _later(value, by, zone)
    if isinstance(value, date):
        return value + by
    if isinstance(value, str):
        text = recoded(value, codes)
        return IN_WORDS.sub(lambda found: _later_in_words(found, by), text) if dated else text
    if isinstance(value, tuple) and not hasattr(value, "_fields"):
        return tuple(_moved_value(part, by, codes, zone, dated=dated) for part in value)
    return value


def _later(moment: datetime, by: timedelta, zone: ZoneInfo) -> datetime:
    """The same hour on the wall on a later day; in a skipped hour, the hour after it."""
    wall = moment.astimezone(zone)
    later = wall.replace(tzinfo=None, fold=0) + by
    there = later.replace(tzinfo=zone)
    return there.astimezone(UTC).astimezone(zone) if skipped(there) else there


def recoded(text: str, codes: Mapping[str, str]) -> str:
    """A text with every code that stands in it as a word of its own written anew."""
    if not codes:
        return text
    whole = "|".join(re.escape(code) for code in sorted(codes, key=len, reverse=True))
    return re.sub(rf"(?<![\w-])(?:{whole})(?![\w-])", lambda found: codes[found.group()], text)


def _later_in_words(found: re.Match[str], by: timedelta) -> str:
    try:
        if found["iso"]:
            return (date.fromisoformat(found["iso"]) + by).isoformat()
        month = MONTHS.index(found["month"]) + 1
        day = date(int(found["year"]), month, int(found["day"])) + by
    except (ValueError, OverflowError, Unclear):
        return found.group()
    words = write_day(day)
    return words if found["weekday"] else words.partition(" ")[2]
