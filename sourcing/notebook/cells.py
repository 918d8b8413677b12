"""One cell of a notebook, read by the kind of its column, and written back the same way."""

from __future__ import annotations

import re
import zoneinfo
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any

from sourcing.notebook import moments, prices, quantities, step_words
from sourcing.notebook.page import Column, Value
from sourcing.notebook.problem import Unclear
from sourcing.notebook.quantities import Counted, DoseOf, FigureOf, Weighed
from sourcing.notebook.saying import say
from sourcing.reminding.address import is_address

LONGEST = {"text": 200, "name": 80, "code": 40}  # characters, as the tables keep them
LONGEST_LIST = 400  # characters of a list in one cell
YES, NO = ("yes", "y", "true", "x", "✓"), ("no", "n", "false", "-", "–")
LIST_MARK = re.compile(r" ?, ?| and ", re.IGNORECASE)
RANGE_MARK = re.compile(r" to | – ", re.IGNORECASE)
FORBIDDEN_IN_CODE = ',;"'


@dataclass(frozen=True, slots=True)
class Setting:
    """What the cells of a notebook are read by."""

    zone: zoneinfo.ZoneInfo
    country: str = ""


def read_cell(column: Column, text: str, setting: Setting) -> Value:
    """The value of a cell that is not empty.

    Raises
    ------
    Unclear
        If the text cannot be read; the message says what to write.
    """
    value = READERS[column.kind](text, column, setting)
    number = value if isinstance(value, int | Decimal) else None
    if number is not None and column.low is not None and column.high is not None:
        _within(column, number)
    return value


def write_cell(column: Column, value: Value, setting: Setting) -> str:
    """The text of a value, such that reading it gives the value again."""
    if value is None:
        return ""
    return WRITERS[column.kind](value, setting)


def _within(column: Column, number: int | Decimal) -> None:
    assert column.low is not None
    assert column.high is not None
    if not column.low <= number <= column.high:
        raise Unclear(
            say("Write a number from {low} to {high:,}.", low=column.low, high=column.high)
        )


def _text(text: str, column: Column, setting: Setting) -> str:
    words = " ".join(text.split())
    most = column.most or LONGEST.get(column.kind, LONGEST["code"])
    if len(words) > most:
        raise Unclear(
            say("It has {count} characters; write at most {most}.", count=len(words), most=most)
        )
    return words


def _code(text: str, column: Column, setting: Setting) -> str:
    code = _text(text, column, setting)
    for mark in FORBIDDEN_IN_CODE:
        if mark in code:
            raise Unclear(
                say(
                    "It may not hold {mark} since lists do. Write such as {example}.",
                    mark=mark,
                    example=column.example,
                )
            )
    return code


def _address(text: str, column: Column, setting: Setting) -> str:
    if not is_address(text):
        raise Unclear(
            say("It is no e-mail address. Write one such as {example}.", example=column.example)
        )
    return text


def _codes(text: str, column: Column, setting: Setting) -> tuple[str, ...]:
    if len(text) > LONGEST_LIST:
        raise Unclear(
            say(
                "The list has {count} characters; write at most {longest_list}.",
                count=len(text),
                longest_list=LONGEST_LIST,
            )
        )
    return _once(tuple(_code(part, column, setting) for part in _parts(text)))


def _parts(text: str) -> list[str]:
    return [part.strip() for part in LIST_MARK.split(text) if part.strip()]


def _once(words: tuple[str, ...]) -> tuple[str, ...]:
    for word in words:
        if words.count(word) > 1:
            raise Unclear(say("{word} stands there twice. Write it once.", word=word))
    return words


def _yes_or_no(text: str, column: Column, setting: Setting) -> bool:
    if text.casefold() in YES:
        return True
    if text.casefold() in NO:
        return False
    raise Unclear(say("Write yes or no."))


def _choice(text: str, column: Column, setting: Setting) -> str:
    word = " ".join(text.casefold().split())
    if word not in column.choices:
        raise Unclear(say("Write {choices}.", choices=_or(column.choices)))
    return word


def _choices(text: str, column: Column, setting: Setting) -> tuple[str, ...]:
    return _once(tuple(_choice(part, column, setting) for part in _parts(text)))


def _or(words: tuple[str, ...]) -> str:
    *most, last = words
    return f"{', '.join(most)} or {last}" if most else last


def _day(text: str, column: Column, setting: Setting) -> date:
    return moments.read_day(text)


def _days(text: str, column: Column, setting: Setting) -> tuple[tuple[date, date], ...]:
    """Stretches of days, first and last: `24 Dec 2026 to 4 Jan 2027, 2 Apr 2027`."""
    found = []
    for part in _parts(text):
        first, *last = RANGE_MARK.split(part)
        since = moments.read_day(first.strip())
        until = moments.read_day(last[0].strip()) if last else since
        if len(last) > 1 or until < since:
            raise Unclear(say("Write first and last day, such as 24 Dec 2026 to 4 Jan 2027."))
        found.append((since, until))
    return tuple(found)


def _moment(text: str, column: Column, setting: Setting) -> datetime:
    return moments.read_moment(text, setting.zone)


def _clock(text: str, column: Column, setting: Setting) -> time:
    return moments.read_clock(text)


def _weekday_or_day(text: str, column: Column, setting: Setting) -> int | date:
    weekday = moments.read_weekday(text)
    if weekday is not None:
        return weekday
    if text.isalpha():
        raise Unclear(
            say("“{text}” is no day of the week. Write such as Mon, or Mon 23 Nov 2026.", text=text)
        )
    return moments.read_day(text)


def _weekdays_or_days(text: str, column: Column, setting: Setting) -> tuple[int | date, ...]:
    return tuple(_weekday_or_day(part, column, setting) for part in _parts(text))


def _weekdays(text: str, column: Column, setting: Setting) -> tuple[int, ...]:
    found = tuple(moments.read_weekday(part) for part in _parts(text))
    if None in found or len(set(found)) < len(found):
        raise Unclear(say("Write days of the week, each once, such as Mon, Tue, Wed."))
    return tuple(day for day in found if day is not None)


def _minutes(text: str, column: Column, setting: Setting) -> int:
    return step_words.read_minutes(text)


def _days_long(text: str, column: Column, setting: Setting) -> int:
    minutes = step_words.read_minutes(text)
    if minutes % 1440:
        raise Unclear(say("Write whole days, such as 28 d."))
    return minutes // 1440


def _whole(text: str, column: Column, setting: Setting) -> int:
    if not (text.isascii() and text.isdigit() and len(text) <= 9):
        raise Unclear(say("Write a whole number such as {example}.", example=column.example))
    return int(text)


def _zone(text: str, column: Column, setting: Setting) -> str:
    if text not in zone_names():
        raise Unclear(
            say("There is no such time zone. Write its full name, such as Europe/London.")
        )
    return text


@cache
def zone_names() -> frozenset[str]:
    return frozenset(zoneinfo.available_timezones())


def _letters(text: str, column: Column, setting: Setting) -> str:
    folded = text.upper()
    if not (folded.isascii() and folded.isalpha() and len(folded) == len(column.example)):
        raise Unclear(
            say(
                "Write its {count} letters, such as {example}.",
                count=len(column.example),
                example=column.example,
            )
        )
    return folded


CURRENCY_MARKS = {"£": "GBP", "€": "EUR", "$": "USD"}


def _currency(text: str, column: Column, setting: Setting) -> str:
    return CURRENCY_MARKS.get(text) or _letters(text, column, setting)


def _rule(text: str, column: Column, setting: Setting) -> str:
    name = "_".join(text.casefold().replace("_", " ").split())
    if not re.fullmatch(r"[a-z][a-z0-9_]{0,79}", name):
        raise Unclear(say("Write the rule in plain words, such as scour loss fraction."))
    return name


Reader = Callable[[str, Column, Setting], Any]
READERS: dict[str, Reader] = {
    "text": _text,
    "name": _text,
    "code": _code,
    "place": _code,
    "codes": _codes,
    "address": _address,
    "yes or no": _yes_or_no,
    "choice": _choice,
    "choices": _choices,
    "day": _day,
    "days": _days,
    "moment": _moment,
    "clock": _clock,
    "weekday or day": _weekday_or_day,
    "weekdays or days": _weekdays_or_days,
    "weekdays": _weekdays,
    "money": lambda text, column, setting: prices.read_money(text),
    "prices": lambda text, column, setting: prices.read_prices(text, setting.country),
    "minutes": _minutes,
    "days long": _days_long,
    "whole": _whole,
    "zone": _zone,
    "country": _letters,
    "currency": _currency,
    "rule": _rule,
    "heats": lambda text, column, setting: step_words.read_heats(text),
    "stands": lambda text, column, setting: step_words.read_stands(text),
    "hands": lambda text, column, setting: step_words.read_hands(text),
    "number": lambda text, column, setting: quantities.read_number(text),
    "percent": lambda text, column, setting: quantities.read_percent(text),
    "figure": lambda text, column, setting: quantities.read_figure(text),
    "weight": lambda text, column, setting: quantities.read_weight(text, setting.country),
    "weight or count": lambda text, column, setting: quantities.read_weight_or_count(
        text, setting.country
    ),
    "weight or length": lambda text, column, setting: quantities.read_weight_or_length(
        text, setting.country
    ),
    "length": lambda text, column, setting: quantities.read_length(text),
    "per m2": lambda text, column, setting: quantities.read_per_m2(text),
    "volume": lambda text, column, setting: quantities.read_volume(text, setting.country),
    "power": lambda text, column, setting: quantities.read_power(text),
    "warmth": lambda text, column, setting: quantities.read_warmth(text),
    "ratio": lambda text, column, setting: quantities.read_ratio(text),
    "litres per kg": lambda text, column, setting: quantities.read_litres_per_kg(text),
    "grams per litre": lambda text, column, setting: quantities.read_grams_per_litre(text),
    "parts": lambda text, column, setting: quantities.read_parts(text),
    "mordant": lambda text, column, setting: quantities.read_mordant(text),
    "dose": lambda text, column, setting: quantities.read_dose(text),
}


def _list(value: tuple[str, ...], setting: Setting) -> str:
    return ", ".join(value)


def _write_days(value: tuple[tuple[date, date], ...], setting: Setting) -> str:
    day = moments.write_day
    return ", ".join(
        day(since) if since == until else f"{day(since)} to {day(until)}" for since, until in value
    )


def _write_weekday(value: int | date, setting: Setting) -> str:
    return moments.write_day(value) if isinstance(value, date) else moments.WEEKDAYS[value]


def _plain(value: object, setting: Setting) -> str:
    return str(value)


Writer = Callable[[Any, Setting], str]
WRITERS: dict[str, Writer] = {
    **dict.fromkeys(("text", "name", "code", "place", "choice", "whole", "zone"), _plain),
    **dict.fromkeys(("country", "currency", "address"), _plain),
    **dict.fromkeys(("codes", "choices"), _list),
    "yes or no": lambda value, setting: "yes" if value else "no",
    "day": lambda value, setting: moments.write_day(value),
    "days": _write_days,
    "moment": lambda value, setting: moments.write_moment(value, setting.zone),
    "clock": lambda value, setting: moments.write_clock(value),
    "weekday or day": _write_weekday,
    "weekdays or days": lambda value, setting: ", ".join(
        _write_weekday(part, setting) for part in value
    ),
    "weekdays": lambda value, setting: ", ".join(moments.WEEKDAYS[day] for day in value),
    "money": lambda value, setting: prices.write_money(value),
    "prices": lambda value, setting: prices.write_prices(value),
    "minutes": lambda value, setting: step_words.write_minutes(value),
    "days long": lambda value, setting: f"{value} d",
    "rule": lambda value, setting: str(value).replace("_", " "),
    "heats": lambda value, setting: step_words.write_heats(value),
    "stands": lambda value, setting: step_words.write_stands(*value),
    "hands": lambda value, setting: step_words.write_hands(*value),
    "number": lambda value, setting: format(value, "f"),
    "percent": lambda value, setting: f"{value:f} %",
    "figure": lambda value, setting: quantities.write_figure(value),
    "weight": lambda value, setting: quantities.write_weight(value),
    "weight or count": lambda value, setting: quantities.write_weight_or_count(value),
    "weight or length": lambda value, setting: quantities.write_weight(value),
    "length": lambda value, setting: quantities.write_length(value),
    "per m2": lambda value, setting: f"{value:f} g per m²",
    "volume": lambda value, setting: quantities.write_volume(value),
    "power": lambda value, setting: quantities.write_power(value),
    "warmth": lambda value, setting: f"{value:f} °C",
    "ratio": lambda value, setting: quantities.write_ratio(value),
    "litres per kg": lambda value, setting: quantities.write_litres_per_kg(value),
    "grams per litre": lambda value, setting: f"{value:f} g per L",
    "parts": lambda value, setting: quantities.write_parts(value),
    "mordant": lambda value, setting: quantities.write_mordant(value),
    "dose": lambda value, setting: quantities.write_dose(value),
}
__all__ = [
    "Counted",
    "DoseOf",
    "FigureOf",
    "Fraction",
    "Setting",
    "Weighed",
    "read_cell",
    "write_cell",
]
