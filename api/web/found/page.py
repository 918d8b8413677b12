"""The way from a printed code to its thing: a jar, a bag, a skein on the shelves, a run."""

from __future__ import annotations

from http import HTTPStatus
from urllib.parse import quote, urlencode

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse

from api.asked import shown as quoted
from api.question import Question, question_of
from api.web.page import page, shown
from api.web.shelves.where import place_of
from inventory.science.saying import say
from sourcing.shelves import shelves_at


@page
def found_page(request: HttpRequest) -> HttpResponse:
    """On to where a thing is shown; a code that is smudged can be typed."""
    question = question_of(request, what=say("What was found"), more=("code", "run"))
    code, run = request.GET.get("code", "").strip(), request.GET.get("run", "")
    if run:
        return _on_to(f"{reverse('week')}{question.carried}#run-{quote(run, safe='')}")
    if not code:
        return _form(question, code, "")
    place = place_of(shelves_at(question.studio, at=question.at), code)
    if place is None:
        detail = say(
            "No {code} stands on the shelves now: used up, tipped out or never there.",
            code=quoted(code),
        )
        return _form(question, code, detail)
    said = urlencode((*question.said, *place.words))
    return _on_to(f"{reverse('shelves')}{f'?{said}' if said else ''}#{place.anchor}")


def _form(question: Question, code: str, detail: str) -> HttpResponse:
    """A field for what stands on the label, and why what was asked for is not there."""
    answer = shown(
        "found/page.html", question, here="found", code=code, detail=detail, hidden=question.said
    )
    if detail:
        answer.status_code = HTTPStatus.NOT_FOUND
    return answer


def _on_to(way: str) -> HttpResponse:
    answer = HttpResponseRedirect(way, status=HTTPStatus.SEE_OTHER)
    # What stands where changes; the label does not.
    answer["Cache-Control"] = "no-store"
    return answer
