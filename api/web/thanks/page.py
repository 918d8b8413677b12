"""A thank-you to one source to be printed, the totals of all, and both as files."""

from __future__ import annotations

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse

from api.question import Question, question_of
from api.thanks_asked import MORE, since_asked
from api.thanks_csv import hand_overs_csv, totals_csv
from api.web.page import page, refused, shown
from api.web.thanks.view import slip_of, totals_of
from inventory.science.saying import say
from sourcing.errors import NoSourceThere
from sourcing.thanks import Thanks, thanks_at

WHAT = say("The thank-you")


@page
def thanks_page(request: HttpRequest, source: int) -> HttpResponse:
    """What one source gave and what became of it, on a slip."""
    question, thanks = _asked(request, source)
    if isinstance(thanks, HttpResponse):
        return thanks
    slip = slip_of(thanks, thanks.givers[0], carried=question.carried)
    return shown("thanks/slip.html", question, here="totals", slip=slip, hidden=question.said)


@page
def thanks_file(request: HttpRequest, source: int) -> HttpResponse:
    """One source's hand-overs as a file: description, quantity, parties, date."""
    _, thanks = _asked(request, source)
    if isinstance(thanks, HttpResponse):
        return thanks
    return _file(hand_overs_csv(thanks), f"hand-overs-{source}-{thanks.since}.csv")


@page
def totals_page(request: HttpRequest) -> HttpResponse:
    """What every source gave and what became of it."""
    question, thanks = _asked(request, None)
    assert isinstance(thanks, Thanks), "only a source can be missing"
    totals = totals_of(thanks, carried=question.carried)
    return shown("thanks/totals.html", question, here="totals", totals=totals,
                 hidden=question.said)  # fmt: skip


@page
def totals_file(request: HttpRequest) -> HttpResponse:
    """The totals as a file."""
    _, thanks = _asked(request, None)
    assert isinstance(thanks, Thanks), "only a source can be missing"
    return _file(totals_csv(thanks), f"totals-{thanks.since}.csv")


@page
def hand_overs_file(request: HttpRequest) -> HttpResponse:
    """Every source's hand-overs as a file."""
    _, thanks = _asked(request, None)
    assert isinstance(thanks, Thanks), "only a source can be missing"
    return _file(hand_overs_csv(thanks), f"hand-overs-{thanks.since}.csv")


def _asked(request: HttpRequest, source: int | None) -> tuple[Question, Thanks | HttpResponse]:
    """The question of an address with its answer, or a page that says why there is none."""
    question = question_of(request, what=WHAT, more=MORE)
    since = since_asked(request.GET, question)
    try:
        return question, thanks_at(question.studio, at=question.at, since=since, source=source)
    except NoSourceThere as error:
        return question, refused(HTTPStatus.NOT_FOUND, str(error))


def _file(content: bytes, name: str) -> HttpResponse:
    answer = HttpResponse(content, content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    answer["Cache-Control"] = "no-cache"
    return answer
