"""Every figure as JSON under stable names: those of the sums, and all rows of the catalogue.

A row of the sums has its unit at the end of its property's name; numbers are decimal strings.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from urllib.parse import urlencode

from django.http import QueryDict
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.asked import Unreadable
from api.contract.answers.sources import FIGURES
from api.contract.shapes import NAME, one_of, or_empty
from api.question import Question, question_of
from api.rest.contract import PAGE, QUESTION, Word, said
from inventory.science.figures import Figure
from inventory.science.library import KINDS, Row, library, reach_of
from inventory.science.saying import counted, say
from sourcing.figures import Standing, figures_at
from sourcing.week.words import decimal_string, listed

ROWS_AT_MOST = 100  # in one answer; the next page has the next
LONGEST = 120
SUMS = "sums"
FILTERS = ("kind", "item", "property")
Json = dict[str, object]


class FigureFilterUnreadable(Unreadable):
    """A filter that fits nothing, or a page that is not there."""

    code = "filter_unreadable"


@dataclass(frozen=True, slots=True)
class Asked:
    """Which rows, and which page of them; an empty filter lets every row through."""

    kind: str = ""
    item: str = ""
    name: str = ""
    page: int = 1

    @property
    def narrows(self) -> bool:
        return bool(self.kind or self.item or self.name)

    def lets_through(self, row: Found) -> bool:
        return (
            self.kind in ("", row.kind)
            and self.item in ("", row.item)
            and self.name in ("", row.name)
        )


@dataclass(frozen=True, slots=True)
class OfSums:
    """A figure of the sums: the studio's own or the shipped one, and which of them is in use."""

    figure: Figure
    in_use: bool
    note: str = ""
    kind = SUMS

    @property
    def item(self) -> str:
        return self.figure.item

    @property
    def name(self) -> str:
        return self.figure.name


Found = Row | OfSums

WORDS = (
    Word("kind", or_empty(one_of(SUMS, *KINDS)), "Only figures of this kind.", SUMS),
    Word("item", or_empty(NAME), "Only those of this thing.", "weld"),
    Word("property", or_empty(NAME), "Only those of this property.", "keeps_dried_days"),
)


class FiguresView(APIView):
    """GET: figures by kind, item and property, a page at a time."""

    @said(
        "figures",
        summary="Every figure of the sums and every row of the catalogue, with basis and source",
        asks=(*QUESTION, *WORDS, PAGE),
        answer=FIGURES,
    )
    def get(self, request: Request) -> Response:
        query = request.query_params
        question = question_of(request, what="The list of figures", more=(*FILTERS, "page"))
        return Response(figures_as_json(question, asked_of(query)))


def asked_of(query: QueryDict) -> Asked:
    """The filters and the page that an address names."""
    kind = query.get("kind", "")
    if kind and kind not in (SUMS, *KINDS):
        detail = say(
            "Figures are of the kind {listed}; not “{kind}”.",
            listed=listed((SUMS, *KINDS)),
            kind=kind[:40],
        )
        raise FigureFilterUnreadable("kind", kind, detail)
    return Asked(kind, _short(query, "item"), _short(query, "property"), _page(query))


def figures_as_json(question: Question, asked: Asked) -> Json:
    """One page of rows, how many there are, and where the next page is.

    The catalogue has thousands of rows, so only those of the page are put into words.
    """
    rows = list(_all(question, asked.kind))
    if asked.narrows:
        rows = [row for row in rows if asked.lets_through(row)]
    _must_fit(asked, rows)
    first, last = (asked.page - 1) * ROWS_AT_MOST, asked.page * ROWS_AT_MOST
    return {
        "studio": question.studio.name,
        "at": question.at.isoformat(timespec="seconds"),
        "page": asked.page,
        "rows_at_most": ROWS_AT_MOST,
        "count": len(rows),
        "next": _next(question, asked) if last < len(rows) else None,
        "rows": [_shown(row) for row in rows[first:last]],
        "ranges": list(_ranges(asked)),
    }


def _all(question: Question, kind: str) -> Iterator[Found]:
    """The figures of the sums, then the catalogue in the order of its tables."""
    if kind in ("", SUMS):
        for standing in figures_at(question.studio, at=question.at):
            yield from _standing(standing)
    if kind != SUMS:
        for thing in library().things:
            yield from thing.rows


def _standing(row: Standing) -> Iterator[OfSums]:
    """The studio's own figure where it has one, and the shipped one, which of them is in use."""
    for figure in (row.own, row.shipped):
        if figure is not None:
            yield OfSums(figure, figure is row.used, row.note if figure.own else "")


def _shown(row: Found) -> Json:
    return _figure(row) if isinstance(row, OfSums) else _row(row)


def _figure(of: OfSums) -> Json:
    row = of.figure
    return {
        "kind": SUMS,
        "item": row.item,
        "property": row.name,
        "low": _number(row.low),
        "typical": _number(row.value),
        "high": _number(row.high),
        "words": of.note or None,
        "unit": None,
        "case": None,
        "basis": row.basis,
        "source": row.source or None,
        "known_on": None,
        "own": row.own,
        "since": _day(row.since),
        "in_use": of.in_use,
    }


def _row(row: Row) -> Json:
    return {
        "kind": row.kind,
        "item": row.item,
        "property": row.name,
        "low": _number(row.low),
        "typical": _number(row.typical),
        "high": _number(row.high),
        "words": row.words or None,
        "unit": row.unit or None,
        "case": row.case or None,
        "basis": row.basis,
        "source": row.source or None,
        "known_on": _day(row.known_on),
        "own": False,
        "since": None,
        "in_use": None,
    }


def _ranges(asked: Asked) -> Iterator[Json]:
    """Over all rows of one property of one item, the range in each unit."""
    if not (asked.item and asked.name) or asked.kind == SUMS:
        return
    found = [
        row
        for row in library().look_up(asked.item, asked.name)
        if not asked.kind or row.kind == asked.kind
    ]
    for unit in dict.fromkeys(row.unit for row in found if row.numbers):
        reach = reach_of(row for row in found if row.unit == unit)
        assert reach is not None
        yield {"unit": unit, "low": _number(reach.low), "high": _number(reach.high)}


def _must_fit(asked: Asked, rows: Sequence[Found]) -> None:
    """Filters that fit no row, and a page past the last, are said, not answered with nothing."""
    count = len(rows)
    if not count:
        wanted = {"kind": asked.kind, "item": asked.item, "property": asked.name}
        said = listed(f"{key} “{value}”" for key, value in wanted.items() if value)
        detail = say(
            "No figure has {said}. Ask without one of them to see what there is.", said=said
        )
        name = "property" if asked.name else "item"
        raise FigureFilterUnreadable(name, wanted[name], detail)
    pages = -(-count // ROWS_AT_MOST)
    if asked.page > pages:
        detail = counted(
            "Page {page} was asked for; there is {count}.",
            "Page {page} was asked for; there are {count}.",
            count=pages,
            page=asked.page,
        )
        raise FigureFilterUnreadable("page", str(asked.page), detail)


def _next(question: Question, asked: Asked) -> str:
    filters = (("kind", asked.kind), ("item", asked.item), ("property", asked.name))
    said = [*question.said, *((key, value) for key, value in filters if value)]
    return f"/api/v1/figures/?{urlencode([*said, ('page', asked.page + 1)])}"


def _short(query: QueryDict, name: str) -> str:
    text = query.get(name, "")
    if len(text) > LONGEST:
        detail = say(
            "{name} has {count} letters; the longest has {longest}.",
            name=name,
            count=len(text),
            longest=LONGEST,
        )
        raise FigureFilterUnreadable(name, text, detail)
    return text


def _page(query: QueryDict) -> int:
    text = query.get("page", "1")
    if not re.fullmatch(r"[1-9]\d{0,3}", text, re.ASCII):
        detail = say("page is a whole number from 1 on; “{text}” is not.", text=text[:20])
        raise FigureFilterUnreadable("page", text, detail)
    return int(text)


def _number(value: Decimal | None) -> str | None:
    return None if value is None else decimal_string(value)


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
