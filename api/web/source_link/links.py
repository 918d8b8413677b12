"""The studio's own page about the links of one source: made, renewed, ended, and what came by them.

A link is shown once, in the answer to making it, with a card for a kitchen's wall.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from http import HTTPStatus

from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.utils import timezone

from api.question import Question, question_of
from api.rest.refused import Refused
from api.rights import Right
from api.source_links.links import end_link, make_link, renew_link
from api.source_links.words import see_words
from api.visitor import visitor_of
from api.web.accounts.frame import private_page, see, way_on
from api.web.page import frame_of, refused
from api.web.source_link.card import CardShown, card_of
from api.web.source_link.listed import links_shown
from api.web.sources.page import no_such
from inventory.science.saying import say
from sourcing.models import Source

NOT_PRESSED = say("No button of this page sends that. Open the page again and press it there.")


@private_page
def source_links_page(request: HttpRequest, source: int) -> HttpResponse:
    """The links of one source, for a dyer."""
    visitor = visitor_of(request, least=Right.DYER)
    question = question_of(request, what=say("The page of links"))
    row = Source.objects.of(visitor.studio).select_related("studio").filter(pk=source).first()
    if row is None:
        return refused(HTTPStatus.NOT_FOUND, no_such(source, visitor.studio.name))
    if request.method != "POST":
        return _page(request, question, row)
    try:
        if request.POST.get("do") == "make":
            return _page(request, question, row, card=_make(request, row, visitor.name))
        if request.POST.get("do") == "seen":
            see_words(visitor.studio, row.pk, up_to=_key(request, "word"), at=timezone.now())
            return see(way_on(request))
        _change(request, row)
    except Refused as error:
        return _page(request, question, row, fault=str(error))
    return see(request.get_full_path())


def _make(request: HttpRequest, row: Source, who: str) -> CardShown:
    link, secret = make_link(
        row,
        asks=request.POST.get("asks", ""),
        wish=request.POST.get("wish", ""),
        made_by=who,
        at=timezone.now(),
    )
    return card_of(request, link, secret)


def _change(request: HttpRequest, row: Source) -> None:
    verb = CHANGES.get(request.POST.get("do", ""))
    if verb is None:
        raise Refused(NOT_PRESSED)
    verb(row, _key(request, "link"), timezone.now())


def _key(request: HttpRequest, name: str) -> int:
    """The number of a row that a button of the page sends."""
    key = request.POST.get(name, "")
    if not (key.isascii() and key.isdecimal() and len(key) <= 18):
        raise Refused(NOT_PRESSED)
    return int(key)


def _renew(row: Source, key: int, at: datetime) -> None:
    renew_link(row.studio, row.pk, key, at=at)


def _end(row: Source, key: int, at: datetime) -> None:
    end_link(row.studio, row.pk, key, at=at)


CHANGES: dict[str, Callable[[Source, int, datetime], None]] = {"renew": _renew, "end": _end}


def _page(
    request: HttpRequest,
    question: Question,
    row: Source,
    *,
    card: CardShown | None = None,
    fault: str = "",
) -> HttpResponse:
    context = {
        "frame": frame_of(question, "sources"),
        "links": links_shown(row, question, at=timezone.now()),
        "card": card,
        "fault": fault,
        "asks": request.POST.get("asks", "") if fault else _first_name(question.who),
        "wish": request.POST.get("wish", "") if fault else None,
        "address": request.get_full_path(),
    }
    text = render_to_string("source_link/links.html", context, request)
    status = HTTPStatus.UNPROCESSABLE_ENTITY if fault else HTTPStatus.OK
    return HttpResponse(text, status=status)


def _first_name(name: str) -> str:
    return name.split()[0] if name.split() else ""
