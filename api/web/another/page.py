"""*Another week*: look for one, watch how far it has come, stop it, take it or leave it."""

from __future__ import annotations

from datetime import timedelta
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from api.models.seeks import FOUND, Seek
from api.question import Question, question_of
from api.seeking import start
from api.seeking.asked import (
    LEFT,
    TAKEN,
    ask_seek,
    last_seek,
    settle_seek,
    stop_seek,
    words_found,
)
from api.visitor import Right, visitor_of
from api.web.another.view import APART, another_shown
from api.web.forms import REFUSALS, enter, entry_sent, form_view, on_to, sentences_of, with_form
from inventory.models import Studio
from inventory.science.days import day_begins, local_day
from inventory.science.saying import say
from sourcing.outlook import facts_at

TEMPLATE = "another/page.html"
RUNS_AT_MOST = 400


@form_view
def another_page(request: HttpRequest) -> HttpResponse:
    """What another week would change, and what becomes of it."""
    question = question_of(request, what=say("The page of another week"))
    faults: tuple[str, ...] = ()
    if request.method == "POST":
        visitor_of(request, least=Right.DYER)
        try:
            return _done(request, question)
        except REFUSALS as error:
            faults = sentences_of(error)
    seek = last_seek(question.studio)
    if seek is not None and not seek.ended_at:
        start.begin()  # where the one that had it in hand is gone
    facts = facts_at(question.studio, at=question.at, days=question.days)
    return with_form(request, TEMPLATE, question, here="another", faults=faults,
                     another=another_shown(seek, facts, question))  # fmt: skip


def _done(request: HttpRequest, question: Question) -> HttpResponse:
    """Carry out what was pressed, and show the page anew."""
    what = request.POST.get("do", "")
    studio, seek = question.studio, _seek_sent(request)
    if what == "look":
        visitor = visitor_of(request)
        ask_seek(
            studio, entry=entry_sent(request), at=question.at, days=question.days,
            stays=request.POST.getlist("stays")[:RUNS_AT_MOST], steps=_steps_sent(request),
            near=request.POST.get("near") == "yes", by_whom=visitor.name,
        )  # fmt: skip
        start.begin()
    elif what == "stop" and seek is not None:
        stop_seek(studio, seek, at=timezone.now())
    elif what == "leave" and seek is not None:
        settle_seek(studio, seek, LEFT, at=timezone.now())
    elif what == "take" and seek is not None:
        _take(request, studio, seek, question)
        return on_to(reverse("week") + question.carried)
    elif what == "plain":
        enter(request, "take-week", _said(question))
        return on_to(reverse("week") + question.carried)
    return on_to(reverse("another") + question.carried)


def _steps_sent(request: HttpRequest) -> list[tuple[str, str]]:
    """Steps that are to stay at their hour; what is not of that form was not sent by our page."""
    rows = (row.partition(APART) for row in request.POST.getlist("steps")[:RUNS_AT_MOST])
    return [(run, step) for run, apart, step in rows if apart]


def _take(request: HttpRequest, studio: Studio, entry: UUID, question: Question) -> None:
    found = Seek.objects.of(studio).filter(entry=entry, state=FOUND).first()
    if found is None:
        return
    enter(request, "take-week", {**_said(question), **words_found(found)})
    settle_seek(studio, entry, TAKEN, at=timezone.now())


def _said(question: Question) -> dict[str, Any]:
    """From the moment that is looked at, not from one to come, up to the end of the week."""
    zone = ZoneInfo(question.studio.zone)
    end = local_day(question.at, zone=zone) + timedelta(days=question.days)
    at = min(question.at, timezone.now()).isoformat(timespec="seconds")
    return {"occurred_at": at, "until": day_begins(end, zone=zone).isoformat()}


def _seek_sent(request: HttpRequest) -> UUID | None:
    try:
        return UUID(request.POST.get("seek", ""))
    except ValueError:
        return None
