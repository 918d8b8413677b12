"""The addresses of the records: for each noun a list, and one by its key."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import partial
from typing import Any

from django.http import HttpResponse
from django.urls import URLPattern, path
from rest_framework.request import Request
from rest_framework.views import APIView

from api.asked import Unreadable, day_asked, shown
from api.contract.shapes import ref
from api.question import check_words
from api.records.answers import listed_records, single_record
from api.records.asked import LONGEST_WORD, asked_of, number_asked, uuid_asked
from api.records.cells import Json
from api.records.contract import (
    BACKWARDS,
    example_list,
    example_of,
    key_column,
    key_of,
    listed_shape,
    shape_name,
    words_of,
)
from api.records.noun import Noun
from api.records.nouns import NOUNS
from api.rest.conditional import answered_raw, tag_of
from api.rest.contract import CURSOR, LIMIT, STUDIO, said
from api.rest.going_on import next_address
from api.rest.refused import Refused
from api.visitor import Right, visitor_of
from inventory.science.saying import say


class NoSuchRecord(Refused):
    """No record of the studio has that key."""

    code = "record_unknown"

    def __init__(self, noun: Noun, key: str) -> None:
        super().__init__(
            say(
                "There is no {one} {key} here. /api/v1/{name}/ lists those that are.",
                one=noun.one,
                key=shown(key),
                name=noun.name,
            ),
            noun=noun.name,
            key=key[:LONGEST_WORD],
        )


class RecordsView(APIView):
    """The records of a noun, so many at a time."""

    noun: Noun
    least: Right

    def listed(self, request: Request) -> HttpResponse:
        noun = self.noun
        studio = visitor_of(request, least=self.least).studio
        asked = asked_of(request.GET, noun, studio)
        records, cursor = listed_records(noun, studio, asked)
        following = None if cursor is None else next_address(request, cursor)
        return _answer(request, {"records": records, "next": following})


class RecordView(APIView):
    """One record of a noun by its key."""

    noun: Noun
    least: Right

    def single(self, request: Request, key: str) -> HttpResponse:
        noun = self.noun
        check_words(request.GET, ("studio",), what=f"A {noun.one}")
        studio = visitor_of(request, least=self.least).studio
        record = single_record(noun, studio, _key(noun, key))
        if record is None:
            raise NoSuchRecord(noun, key)
        return _answer(request, record)


def record_addresses() -> Iterator[URLPattern]:
    """The addresses of all nouns, below `/api/v1/`."""
    for noun in NOUNS:
        yield path(f"{noun.name}/", _list_of(noun).as_view())
        # Codes are the studio's own words, and may hold a slash.
        yield path(f"{noun.name}/<path:key>/", _one_of(noun).as_view())


def _list_of(which: Noun) -> type[RecordsView]:
    """The view of a noun's list, with its own part of the contract."""

    class View(RecordsView):
        noun = which
        least = which.least

        @said(
            which.name.replace("-", "_"),
            summary=f"The records of {which.name}, so many at a time",
            about=which.about,
            tag=which.name,
            asks=(*words_of(which), BACKWARDS, STUDIO, LIMIT, CURSOR),
            answer=listed_shape(which),
            example=partial(example_list, which),
            fresh=True,
            leads_to=(_one(which), f"/records/0/{key_column(which)}"),
        )
        def get(self, request: Request) -> HttpResponse:
            return self.listed(request)

    return View


def _one_of(which: Noun) -> type[RecordView]:
    """The view of a single record of a noun, with its own part of the contract."""

    class View(RecordView):
        noun = which
        least = which.least

        @said(
            _one(which),
            summary=f"One record of {which.name}, by its key",
            about=which.about,
            tag=which.name,
            asks=(key_of(which), STUDIO),
            answer=ref(shape_name(which)),
            example=partial(example_of, which),
            fresh=True,
        )
        def get(self, request: Request, key: str) -> HttpResponse:
            return self.single(request, key)

    return View


def _one(noun: Noun) -> str:
    """The operation that reads a single record."""
    return f"one_{noun.one.replace(' ', '_').replace('-', '_')}"


def _key(noun: Noun, text: str) -> Any:
    """The key of an address as the table has it."""
    try:
        if noun.key_kind == "uuid":
            return uuid_asked("UUID", text)
        if noun.key_kind == "number":
            return number_asked("number", text)
        if noun.key_kind == "day":
            return day_asked("day", text)
    except Unreadable:
        raise NoSuchRecord(noun, text) from None
    if len(text) > LONGEST_WORD or not text.isprintable():
        raise NoSuchRecord(noun, text)
    return text


def _answer(request: Request, found: Json) -> HttpResponse:
    text = json.dumps(found, ensure_ascii=False, separators=(",", ":"))
    body = text.encode()
    return answered_raw(request, body, kind="application/json", tag=tag_of(body))
