"""What a list of records is asked: filters, how many, and where to go on."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, time
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.http import QueryDict

from api.asked import DAY, LONGEST_SHOWN, Unreadable, day_asked, moment_asked, shown
from api.question import check_words
from api.records.cursors import cells_after
from api.records.noun import Filter, Noun
from inventory.models import Studio
from inventory.science.saying import kept, say
from sourcing.week.words import listed

LIMIT, LIMIT_AT_MOST = 50, 200
LONGEST_WORD = 200
WORDS = ("studio", "limit", "cursor", "backwards")
YES_NO = {"yes": True, "true": True, "no": False, "false": False}
WHOLE = re.compile(r"\d{1,9}", re.ASCII)


class LimitUnreadable(Unreadable):
    """Not a number of records, or more than one answer holds."""

    code = "limit_unreadable"


class WordUnreadable(Unreadable):
    """A list is narrowed by something that cannot be read."""

    code = "word_unreadable"


@dataclass(frozen=True, slots=True)
class Asked:
    """One list that is asked for."""

    wanted: Mapping[Filter, Any]
    limit: int = LIMIT
    after: tuple[Any, ...] = ()  # cells of the last row that was shown
    backwards: bool = False  # from the end of the list
    question: tuple[object, ...] = ()  # what its cursors hold for


def asked_of(query: QueryDict, noun: Noun, studio: Studio) -> Asked:
    """What an address asks of the records of a noun.

    Raises
    ------
    UnknownParameter, LimitUnreadable, WordUnreadable, CursorUnreadable, MomentUnreadable, …
        The message says what to write instead.
    """
    names = (*(each.name for each in noun.filters), *WORDS)
    check_words(query, names, what=say("The list of {name}", name=noun.name))
    zone = ZoneInfo(studio.zone)
    wanted = {
        each: _value(each, text, zone)
        for each in noun.filters
        if (text := query.get(each.name)) is not None
    }
    said = sorted((each.name, query[each.name]) for each in wanted)
    backwards = _one_of("backwards", query.get("backwards", "no"), YES_NO)
    question = (noun.name, studio.pk, said, backwards)
    cursor = query.get("cursor")
    after = () if cursor is None else cells_after(cursor, question=question)
    return Asked(wanted, _limit(query.get("limit")), after, backwards, question)


def _limit(text: str | None) -> int:
    if text is None:
        return LIMIT
    number = int(text) if WHOLE.fullmatch(text) else 0
    if not 1 <= number <= LIMIT_AT_MOST:
        detail = say(
            "{text} is no number of records. Write one from 1 to {limit_at_most}.",
            text=shown(text),
            limit_at_most=LIMIT_AT_MOST,
        )
        raise LimitUnreadable("limit", text, detail)
    return number


def _value(each: Filter, text: str, zone: ZoneInfo) -> Any:
    """What a word of the address stands for."""
    if each.kind in ("since", "until"):
        return _moment(each.name, text, zone)
    if each.kind in ("since day", "until day"):
        return day_asked(each.name, text)
    if each.kind == "uuid":
        return uuid_asked(each.name, text)
    if each.kind == "yes":
        return _one_of(each.name, text, YES_NO)
    if each.kind == "number":
        return number_asked(each.name, text)
    if each.choices:
        return _one_of(each.name, text, dict(zip(each.choices, each.choices, strict=True)))
    return text_asked(each.name, text)


def text_asked(name: str, text: str) -> str:
    """A code or a name, as far as any could be written so."""
    if len(text) > LONGEST_WORD or not text.isprintable():
        detail = say(
            "{text} is no {name}. Write it in at most {longest_word} signs, all printable.",
            text=shown(text),
            name=kept(name),
            longest_word=LONGEST_WORD,
        )
        raise WordUnreadable(name, text[:LONGEST_SHOWN], detail)
    return text


def uuid_asked(name: str, text: str) -> UUID:
    """The UUID of an entry."""
    try:
        return UUID(text_asked(name, text))
    except ValueError:
        detail = say(
            "{text} is no {name}. Write a UUID such as 6f0f3c1e-8d3f-4f43-9d0e-2f6a1c9b7a10.",
            text=shown(text),
            name=kept(name),
        )
        raise WordUnreadable(name, text[:LONGEST_SHOWN], detail) from None


def number_asked(name: str, text: str) -> int:
    """A whole number such as that of an order."""
    if not WHOLE.fullmatch(text):
        detail = say(
            "{text} is no {name}. Write a whole number.", text=shown(text), name=kept(name)
        )
        raise WordUnreadable(name, text[:LONGEST_SHOWN], detail)
    return int(text)


def _one_of(name: str, text: str, choices: Mapping[str, Any]) -> Any:
    if text not in choices:
        known = listed(choices).replace(" and ", " or ")
        detail = say(
            "{text} is no {name} that we know. Write {known}.",
            text=shown(text),
            name=kept(name),
            known=known,
        )
        raise WordUnreadable(name, text[:LONGEST_SHOWN], detail)
    return choices[text]


def _moment(name: str, text: str, zone: ZoneInfo) -> datetime:
    """A moment; a day stands for its beginning."""
    if DAY.fullmatch(text.strip()):
        return datetime.combine(day_asked(name, text), time(), tzinfo=zone)
    try:
        return moment_asked(text, zone)
    except Unreadable as wrong:
        raise type(wrong)(name, wrong.text, wrong.detail) from None
