"""The door of these pages: who comes in, what was sent, and the frame round the answer."""

from __future__ import annotations

from collections.abc import Iterable
from functools import wraps
from http import HTTPStatus
from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect, QueryDict
from django.template.loader import render_to_string
from django.views.decorators.csrf import csrf_protect
from django.views.decorators.http import require_http_methods

from api.question import Question
from api.web.note.ask import Fields
from api.web.page import View, answering, frame_of

CARRIED = ("studio", "at")  # hidden in a form where its address named them
BESIDE = ("id", "when", "occurred_at")


def note_door(view: View) -> View:
    """A view that takes a form of ours; a phone may keep the page and asks anew when it can."""

    @wraps(view)
    def kept_by_a_phone(request: HttpRequest, *args: object, **named: object) -> HttpResponse:
        if request.method == "POST":
            carry(request, request.POST)
        answer = view(request, *args, **named)
        answer["Cache-Control"] = "no-cache"
        return answer

    return require_http_methods(["GET", "HEAD", "POST"])(csrf_protect(answering(kept_by_a_phone)))


def carry(request: HttpRequest, sent: QueryDict) -> None:
    """Read the studio and the moment of a form as if its address had named them."""
    asked = request.GET.copy()
    for name in CARRIED:
        if name not in asked and sent.get(name):
            asked[name] = str(sent[name])
    there: Any = request
    there.GET = asked


def note_shown(
    request: HttpRequest,
    template: str,
    question: Question,
    *,
    status: HTTPStatus = HTTPStatus.OK,
    **context: object,
) -> HttpResponse:
    """A template in its frame, with what a form of it needs to be taken."""
    hidden = tuple((name, text) for name, text in question.said if name in CARRIED)
    frame = frame_of(question, "notes")
    text = render_to_string(template, {"frame": frame, "hidden": hidden, **context}, request)
    return HttpResponse(text, status=status)


def see(address: str) -> HttpResponse:
    """On to another page by GET, so that a reload sends no form once more."""
    return HttpResponseRedirect(address, status=HTTPStatus.SEE_OTHER)


def fields_of(sent: QueryDict, names: Iterable[str]) -> Fields:
    """What was sent under these names, outer spaces taken off."""
    return {name: text for name in names if (text := str(sent.get(name, "")).strip())}
