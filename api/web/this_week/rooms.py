"""Freezer, fridge and trays ready to show: each evening in words and a mark, and what helps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from api.web.this_week.flags import begun_large
from inventory.science.saying import say
from sourcing.week.rooms import NAMES
from sourcing.week.words import day_in_words, day_within, grams

ROOMS_AT_MOST = 12


@dataclass(frozen=True, slots=True)
class EveningShown:
    """One evening of one room; parts that are nothing are empty."""

    day: str
    there: str
    put_by: str
    comes: str
    likely: str
    look: str
    word: str  # 2,034 g free, over by 966 g, likely over by 546 g


@dataclass(frozen=True, slots=True)
class Say:
    """One stretch of evenings that is over, told on its first: a guess where it rests on one."""

    look: str
    word: str
    todo: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RoomShown:
    """One room over the period."""

    name: str
    holds: str
    says: tuple[Say, ...]
    evenings: tuple[EveningShown, ...]


def rooms_shown(sums: dict[str, Any], *, today: date) -> tuple[RoomShown, ...]:
    """The rooms of a week's sums, freezers first."""
    return tuple(_room(room, today) for room in sums["rooms"][:ROOMS_AT_MOST])


def _room(room: dict[str, Any], today: date) -> RoomShown:
    site = say(" at {room}", room=room["site"]) if room["site"] else ""
    places = room["places"]
    count = say("{count} together, ", count=len(places)) if len(places) > 1 else ""
    holds = (
        say("without limit") if room["holds_g"] is None else say("for {g}", g=_g(room["holds_g"]))
    )
    evenings = tuple(_evening(row, today) for row in room["evenings"])
    says = tuple(_says(room["evenings"], today))
    return RoomShown(
        begun_large(NAMES[room["kind"]]) + site,
        count + holds,
        says or (Say("yes", _holds(room["evenings"]), ()),),
        evenings,
    )


def _evening(row: dict[str, Any], today: date) -> EveningShown:
    look, word = _word(row)
    parts = (row[name] for name in ("there_g", "put_by_g", "comes_g", "likely_g"))
    there, put_by, comes, likely = ("" if grams_ == "0" else _g(grams_) for grams_ in parts)
    day = begun_large(_day(row, today))
    return EveningShown(day, there or say("nothing"), put_by, comes, likely, look, word)


def _word(row: dict[str, Any]) -> tuple[str, str]:
    if _over(row):
        return "no", say("over by {g}", g=_g(row["over_g"]))
    if _likely_over(row):
        return "wait", say("likely over by {g}, a guess", g=_g(row["over_if_likely_g"]))
    if row["free_g"] is None:
        return "yes", say("holds")
    return "yes", say("{g} free", g=_g(row["free_g"]))


def _says(evenings: Iterable[dict[str, Any]], today: date) -> Iterator[Say]:
    """The first evening of each stretch that is over, for sure or likely."""
    before = (False, False)
    for row in evenings:
        now = _over(row), _likely_over(row)
        if now[0] and not before[0]:
            yield _say(row, "todo", today)
        elif now[1] and not (now[0] or before[0] or before[1]):
            yield _say(row, "todo_if_likely", today)
        before = now


def _say(row: dict[str, Any], name: str, today: date) -> Say:
    look, word = _word(row)
    when = _day(row, today)
    todo = tuple(begun_large(each["text"]) for each in row[name])
    when = say("tonight") if when == "today" else say("on {when}", when=when)
    return Say(
        look,
        say("{begun_large} {when}", begun_large=begun_large(word), when=when)
        if look == "no"
        else _guess(row, when),
        todo,
    )


def _guess(row: dict[str, Any], when: str) -> str:
    return say("Likely over by {g} {when}, a guess", g=_g(row["over_if_likely_g"]), when=when)


def _holds(evenings: list[dict[str, Any]]) -> str:
    """What is free on the fullest evening, likely arrivals aside."""
    free = [Decimal(row["free_g"]) for row in evenings if row["free_g"] is not None]
    return say("Holds; {g} free at the fullest", g=_g(str(min(free)))) if free else say("Holds")


def _over(row: dict[str, Any]) -> bool:
    return bool(row["over_g"] != "0")


def _likely_over(row: dict[str, Any]) -> bool:
    return bool(row["over_if_likely_g"] != "0")


def _day(row: dict[str, Any], today: date) -> str:
    day = date.fromisoformat(row["date"])
    return day_within(day, today) if day == today else day_in_words(day)


def _g(in_grams: str) -> str:
    return grams(int(Decimal(in_grams) * 1000))
