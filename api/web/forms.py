"""Pages that take a form: sent from our own pages only, refused in sentences, on by GET.

    @form_view
    def ask_page(request: HttpRequest) -> HttpResponse: ...

What was typed stands in the form again when it is refused, with the sentences above it. A form
that writes carries an `entry`, made when the form was shown: sent twice it counts once.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from http import HTTPStatus
from typing import Any
from uuid import UUID, uuid4

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.template.loader import render_to_string
from django.utils import timezone
from django.views.decorators.csrf import csrf_protect
from django.views.decorators.http import require_http_methods
from rest_framework.exceptions import ValidationError

from api.asked import Unreadable
from api.entries.clock import Clock
from api.entries.reading import read_entry
from api.entries.record import Answered, find, record
from api.entries.registry import VERBS
from api.question import Question
from api.rest.fields import FieldsUnclear, pointed
from api.rest.refused import Refused
from api.visitor import visitor_of
from api.web.page import View, answering, frame_of
from inventory.errors import LarderError, NotNow
from inventory.science.saying import say
from sourcing.notebook.problem import NotebookRefused, printable
from sourcing.week.what_if import CannotBe

# What refuses a form with a sentence; a larder that is busy is answered by the page as such.
REFUSALS = (
    LarderError, NotebookRefused, CannotBe, FieldsUnclear, ValidationError, Refused, Unreadable,
)  # fmt: skip
SENTENCES_AT_MOST = 12


def form_view(view: View) -> View:
    """A view that also takes a form, and our errors as pages."""
    return require_http_methods(["GET", "HEAD", "POST"])(csrf_protect(answering(view)))


def with_form(
    request: HttpRequest,
    template: str,
    question: Question,
    *,
    here: str,
    faults: tuple[str, ...] = (),
    **context: object,
) -> HttpResponse:
    """A template with a form in its frame; `faults` are the sentences that refuse what was sent."""
    shown = {"frame": frame_of(question, here), "faults": faults, "entry": uuid4(), **context}
    status = HTTPStatus.UNPROCESSABLE_ENTITY if faults else HTTPStatus.OK
    text = render_to_string(template, shown, request)
    return HttpResponse(text, status=status, headers={"Cache-Control": "no-cache"})


def on_to(address: str) -> HttpResponse:
    """On to another page by GET, so that a reload sends no form once more."""
    return HttpResponseRedirect(address, status=HTTPStatus.SEE_OTHER)


def sentences_of(error: Exception) -> tuple[str, ...]:
    """What is wrong, a sentence each.

    Raises
    ------
    NotNow
        Handed on: nothing is wrong with what was sent.
    """
    if isinstance(error, NotNow):
        raise error
    return tuple(dict.fromkeys(_sentences(error)))[:SENTENCES_AT_MOST]


def _sentences(error: Exception) -> list[str]:
    if isinstance(error, NotebookRefused):
        stands = ((printable(row.stands), row.write) for row in error.problems)
        return [
            say("{shown} stands there. {write}", shown=shown, write=write) if shown else write
            for shown, write in stands
        ]
    if isinstance(error, CannotBe):
        return [fault.text for _, fault in error.faults]
    if isinstance(error, FieldsUnclear):
        return [sentence for _, sentence in error.errors]
    if isinstance(error, ValidationError):
        return [sentence for _, sentence in pointed(error.detail)]
    return [str(error)]


def entry_sent(request: HttpRequest) -> UUID:
    """The mark of the form that was sent; a form without one gets a new one."""
    try:
        return UUID(request.POST.get("entry", ""))
    except ValueError:
        return uuid4()


def enter(request: HttpRequest, verb: str, said: Mapping[str, Any]) -> Answered:
    """An entry of a verb from a form, the same as a program would send it; once for one form."""
    what, entry, now = VERBS[verb], entry_sent(request), timezone.now()
    visitor = visitor_of(request, least=what.least)
    if (before := find(visitor, entry)) is not None:
        return Answered(before, again=True)
    body = {"id": str(entry), "occurred_at": _to_the_second(now), **said}
    read = read_entry(what, body, visitor.studio)
    return record(what, read, body, visitor=visitor, clock=Clock(now))


def _to_the_second(at: datetime) -> str:
    return at.isoformat(timespec="seconds")
