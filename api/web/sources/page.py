"""*Sources*: who saves material, by whose leave, how far each can be relied on; and one of them."""

from __future__ import annotations

import re
from http import HTTPStatus

from django.http import HttpRequest, HttpResponse, QueryDict

from api.asked import PageUnknown
from api.asked import shown as quoted
from api.question import question_of
from api.web.page import page, refused, shown
from api.web.sources.view import sources_shown
from inventory.science.saying import say
from sourcing.sources_seen import source_at, sources_at

WHAT = say("The page of sources")
PAGES_AT_MOST = 10_000
PAGE = re.compile(r"[0-9]{1,5}")


@page
def sources_page(request: HttpRequest) -> HttpResponse:
    """All sources by name, so many on a page."""
    question = question_of(request, what=WHAT, more=("page",))
    facts = sources_at(question.studio, at=question.at, page=page_asked(request.GET))
    view = sources_shown(facts, question)
    return shown("sources/list.html", question, here="sources", sources=view)


@page
def source_page(request: HttpRequest, source: int) -> HttpResponse:
    """One source: what it gives and gave, leave and carrying note, tubs, reliability."""
    question = question_of(request, what=say("The page of a source"))
    facts = source_at(question.studio, at=question.at, key=source)
    if not facts.sources:
        return refused(HTTPStatus.NOT_FOUND, no_such(source, question.studio.name))
    view = sources_shown(facts, question)
    return shown("sources/page.html", question, here="sources", sources=view, source=view.rows[0])


def no_such(source: int, studio: str) -> str:
    """The sentence for a number that no source of the studio has."""
    return say(
        "{studio} has no source with the number {source}. Look through all sources.",
        studio=studio,
        source=source,
    )


def page_asked(query: QueryDict) -> int:
    """The page that an address asks for, from 1."""
    text = query.get("page", "1")
    number = int(text) if PAGE.fullmatch(text) else 0
    if not 1 <= number <= PAGES_AT_MOST:
        detail = say(
            "{text} is no page here. Ask for one from 1 to {pages_at_most:,}.",
            text=quoted(text),
            pages_at_most=PAGES_AT_MOST,
        )
        raise PageUnknown("page", text, detail)
    return number
