"""Entries that need a look: why each was not taken, and how it is settled."""

from __future__ import annotations

from dataclasses import dataclass
from http import HTTPStatus
from uuid import UUID
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from api.entries.record import find
from api.entries.registry import VERBS
from api.entries.settle import let_go, record_after_all
from api.models.entries import NEEDS_A_LOOK, Entry
from api.question import Question, question_of
from api.rights import NoRight, Right
from api.visitor import Visitor, visitor_of
from api.web.note.ask import Fields
from api.web.note.body import Written, filled
from api.web.note.door import fields_of, note_door, note_shown, see
from api.web.note.faults import REFUSALS, faults_of, is_passing
from api.web.note.form import Button, Form
from api.web.note.page import form_shown
from api.web.note.registry import FORMS
from api.web.note.said import UNKNOWN, lines_of, needs_words
from api.web.page import page, refused, shown
from inventory.models import Studio
from inventory.science.saying import say
from sourcing.week.words import moment_in_words

AT_MOST = 60
LET_GO = Button("let_go", say("Let it go"))
NO_FORM = say("There is no form for this. Let it go, or have a program settle it.")


@dataclass(frozen=True, slots=True)
class Look:
    """One entry that needs a look."""

    heading: str
    why: str
    lines: tuple[tuple[str, str], ...]
    when: str
    by: str
    address: str


def needing_a_look(studio: Studio) -> list[Entry]:
    """Entries of a studio that need a look, the oldest in front, so many at most."""
    rows = Entry.objects.of(studio).filter(state=NEEDS_A_LOOK).order_by("id")
    return list(rows[: AT_MOST + 1])


@page
def looks_page(request: HttpRequest) -> HttpResponse:
    """Every entry that needs a look."""
    visitor = visitor_of(request, least=Right.HELPER)
    question = question_of(request, what=say("This page"))
    rows = needing_a_look(visitor.studio)
    looks = tuple(_look(row, question) for row in rows[:AT_MOST])
    return shown("note/looks.html", question, here="notes", looks=looks, more=len(rows) > AT_MOST)


@note_door
def look_page(request: HttpRequest, entry: UUID) -> HttpResponse:
    """One of them in its form; sent, it is recorded after all, or let go."""
    visitor = visitor_of(request, least=Right.HELPER)
    question = question_of(request, what=say("This page"))
    row = find(visitor, entry)
    if row is None:
        return refused(HTTPStatus.NOT_FOUND, UNKNOWN)
    if row.state != NEEDS_A_LOOK:
        return see(reverse("note-said", args=[entry]) + question.carried)
    form = FORMS.get(row.verb)
    if form is None:
        return refused(HTTPStatus.CONFLICT, NO_FORM)
    if request.method != "POST":
        return _shown(request, question, form, row, form.fields(row.said), (needs_words(row),))
    fields = fields_of(request.POST, (*form.names, LET_GO.name))
    try:
        _settle(visitor, form, row, fields)
    except (*REFUSALS, NoRight) as error:
        status = (
            HTTPStatus.SERVICE_UNAVAILABLE
            if is_passing(error)
            else (
                HTTPStatus.FORBIDDEN
                if isinstance(error, NoRight)
                else HTTPStatus.UNPROCESSABLE_ENTITY
            )
        )
        faults = faults_of(form, error)
        return _shown(request, question, form, row, fields, faults, status=status)
    return see(reverse("note-said", args=[entry]) + question.carried)


def _settle(visitor: Visitor, form: Form, row: Entry, fields: Fields) -> None:
    """Have it recorded with what the form says now, or let it go."""
    if fields.get(LET_GO.name):
        if not visitor.right.covers(Right.DYER):
            raise NoRight(studio=visitor.studio.name, has=visitor.right, needs=Right.DYER)
        let_go(visitor, row.entry)
        return
    at = row.occurred_at.astimezone(ZoneInfo(visitor.studio.zone))
    written: Written = filled(form, form.said(fields), fields, visitor, at=at)
    record_after_all(visitor, row.entry, instead=written.body)


def _shown(
    request: HttpRequest,
    question: Question,
    form: Form,
    row: Entry,
    fields: Fields,
    faults: tuple[str, ...],
    *,
    status: HTTPStatus = HTTPStatus.OK,
) -> HttpResponse:
    ready = form_shown(
        form,
        question,
        fields,
        entry=row.entry,
        faults=faults,
        address=reverse("note-look", args=[row.entry]),
        also=(LET_GO,),
        when=moment_in_words(row.occurred_at, ZoneInfo(question.studio.zone)),
    )
    return note_shown(request, "note/form.html", question, status=status, form=ready)


def _look(row: Entry, question: Question) -> Look:
    form = FORMS.get(row.verb)
    return Look(
        heading=VERBS[row.verb].says if form is None else form.heading,
        why=needs_words(row),
        lines=lines_of(row, form),
        when=moment_in_words(row.occurred_at, ZoneInfo(question.studio.zone)),
        by=row.by_whom,
        address=reverse("note-look", args=[row.entry]) + question.carried,
    )
