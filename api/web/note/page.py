"""*Write down*: what can be written down, and the form of each verb."""

from __future__ import annotations

from dataclasses import dataclass
from http import HTTPStatus
from uuid import UUID, uuid4

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from api.entries.clock import Clock
from api.entries.reading import read_entry
from api.entries.record import record
from api.hindered import AGAIN_AFTER_S
from api.models.entries import NEEDS_A_LOOK, Entry
from api.question import Question, question_of
from api.rest.framework_words import NOTHING
from api.visitor import Right, Visitor, visitor_of
from api.web.note.ask import Fields, Shown
from api.web.note.body import Written, body_of
from api.web.note.door import BESIDE, fields_of, note_door, note_shown, see
from api.web.note.faults import REFUSALS, faults_of, is_passing
from api.web.note.form import Button, Form
from api.web.note.hand import Hand
from api.web.note.registry import FORMS, GROUPS
from api.web.page import page, refused, shown
from inventory.errors import CodeTaken, EntryUsed
from inventory.science.cautions import Caution
from inventory.science.saying import say

LOOKS_COUNTED = 100
TRIES = 3  # of a code made here that somebody else took meanwhile


@dataclass(frozen=True, slots=True)
class Way:
    """A link to one form."""

    verb: str
    words: str
    address: str


@dataclass(frozen=True, slots=True)
class Group:
    """Forms under one heading."""

    heading: str
    ways: tuple[Way, ...]


@dataclass(frozen=True, slots=True)
class FormShown:
    """One form, ready to be put on the page."""

    verb: str
    address: str
    heading: str
    button: str
    also: tuple[Button, ...]
    entry: str
    when: str
    occurred_at: str
    settles: str  # when it happened, of one that needed a look; empty: a new one
    asks: tuple[Shown, ...]
    more: tuple[Shown, ...]
    tells_more: bool  # something of that is said already, or refused
    cautions: tuple[Caution, ...]
    reminder: str
    faults: tuple[str, ...]


@page
def notes_page(request: HttpRequest) -> HttpResponse:
    """What can be written down by whoever asks."""
    visitor = visitor_of(request, least=Right.HELPER)
    question = question_of(request, what=say("This page"))
    groups = tuple(
        Group(heading, ways)
        for heading, verbs in GROUPS
        if (ways := tuple(_way(name, question) for name in verbs if _may(visitor, name)))
    )
    front, others = groups[:1], groups[1:]
    looks = Entry.objects.of(visitor.studio).filter(state=NEEDS_A_LOOK)[:LOOKS_COUNTED].count()
    return shown("note/page.html", question, here="notes", front=front, groups=others, looks=looks)


@note_door
def note_page(request: HttpRequest, verb: str) -> HttpResponse:
    """The form of one verb; sent, it is recorded or comes back with why not."""
    form = FORMS.get(verb)
    visitor = visitor_of(request, least=Right.HELPER if form is None else form.entry.least)
    if form is None:
        return refused(HTTPStatus.NOT_FOUND, NOTHING)
    names = (*form.names, *BESIDE, *(button.name for button in form.also))
    question = question_of(request, what=say("This form"), more=(*names, "csrfmiddlewaretoken"))
    if request.method != "POST":
        fields = fields_of(request.GET, names)
        return _shown(request, form, question, fields, entry=uuid4())
    fields = fields_of(request.POST, names)
    try:
        entry = record_form(form, fields, visitor)
    except REFUSALS as error:
        return _refused(request, form, question, fields, error)
    return see(reverse("note-said", args=[entry]) + question.carried)


def record_form(form: Form, fields: Fields, visitor: Visitor) -> UUID:
    """The id of the entry that a form says, recorded as a program's would be."""
    for attempt in range(TRIES):
        written = body_of(form, fields, visitor, now=timezone.now())
        try:
            return _record(form, written, visitor)
        except CodeTaken:
            if attempt == TRIES - 1 or not written.made:
                raise
    raise AssertionError("the last attempt returns or raises")


def _record(form: Form, written: Written, visitor: Visitor) -> UUID:
    read = read_entry(form.entry, written.body, visitor.studio)
    clock = Clock(timezone.now(), read.sent_at)
    return record(form.entry, read, written.body, visitor=visitor, clock=clock).row.entry


def _refused(
    request: HttpRequest, form: Form, question: Question, fields: Fields, error: Exception
) -> HttpResponse:
    """The form again with all that was written, and why it was not taken."""
    passing = is_passing(error)
    status = HTTPStatus.SERVICE_UNAVAILABLE if passing else HTTPStatus.UNPROCESSABLE_ENTITY
    entry = uuid4() if isinstance(error, EntryUsed) else _number(fields)
    answer = _shown(
        request, form, question, fields, entry=entry, faults=faults_of(form, error), status=status
    )
    if passing:
        answer["Retry-After"] = str(AGAIN_AFTER_S)
    return answer


def _number(fields: Fields) -> UUID:
    try:
        return UUID(fields.get("id", ""))
    except ValueError:
        return uuid4()


def _shown(
    request: HttpRequest,
    form: Form,
    question: Question,
    fields: Fields,
    *,
    entry: UUID,
    faults: tuple[str, ...] = (),
    status: HTTPStatus = HTTPStatus.OK,
) -> HttpResponse:
    ready = form_shown(form, question, fields, entry=entry, faults=faults)
    return note_shown(request, "note/form.html", question, status=status, form=ready)


def form_shown(
    form: Form,
    question: Question,
    fields: Fields,
    *,
    entry: UUID | None,
    faults: tuple[str, ...] = (),
    address: str = "",
    also: tuple[Button, ...] = (),
    when: str = "",
    hand: Hand | None = None,
) -> FormShown:
    """A form with its choices and what is known of its answers.

    Parameters
    ----------
    entry : None: a phone makes it when the form is opened
    address, also, when : of an entry that needed a look, whose moment is known
    hand : what there is to choose from, where several forms share it
    """
    hand = hand or Hand(question.studio, question.at)
    at = f"{question.at:%Y-%m-%dT%H:%M}" if "at" in dict(question.said) else ""
    return FormShown(
        verb=form.verb,
        address=address or reverse("note", args=[form.verb]),
        heading=form.heading,
        button=form.button,
        also=also or form.also,
        entry="" if entry is None else str(entry),
        when=fields.get("when", at),
        occurred_at=fields.get("occurred_at", ""),
        settles=when,
        asks=tuple(ask.shown(fields, hand) for ask in form.asks),
        more=tuple(ask.shown(fields, hand) for ask in form.more),
        tells_more=bool(faults) or any(fields.get(name) for ask in form.more for name in ask.names),
        cautions=form.cautions(form.said(fields)),
        reminder=form.reminder,
        faults=faults,
    )


def _way(name: str, question: Question) -> Way:
    return Way(name, FORMS[name].heading, reverse("note", args=[name]) + question.carried)


def _may(visitor: Visitor, name: str) -> bool:
    return visitor.right.covers(FORMS[name].entry.least)
