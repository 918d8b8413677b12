"""What a phone kept while it had no signal: each note alone, in the order in which it happened."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from http import HTTPStatus
from typing import Any
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.csrf import csrf_protect
from django.views.decorators.http import require_http_methods

from api.asked import Unreadable, moment_asked
from api.asker import asker_of
from api.entries.allowed import must
from api.entries.batch import AT_MOST, Outcome, Refused, record_all
from api.entries.clock import Clock
from api.entries.errors import NoSuchVerb, StillRecording
from api.models.entries import NEEDS_A_LOOK
from api.rest.problem_of import problem_of
from api.rights import NoRight, Right
from api.tongue.speaking import aloud
from api.visitor import Visitor, visitor_of
from api.web.note.ask import Body, Fields
from api.web.note.body import body_of
from api.web.note.door import BESIDE, see
from api.web.note.faults import REFUSALS, faults_of
from api.web.note.registry import FORMS
from api.web.note.said import done_words, needs_words
from api.web.page import answering
from api.whose import whose_of
from inventory.science.saying import say

LONGEST_FIELD, FIELDS_AT_MOST = 1_000, 80
UNREADABLE = (
    'Send JSON such as {"whose": "…", "sent_at": "2026-11-23T16:40:00Z", "notes": '
    '[{"verb": "dip", "fields": [["id", "…"], ["jar", "J1"]]}]}.'
)
ANOTHERS = say(
    "These notes were kept for somebody else or for another studio, so nothing of "
    "them was recorded. Sign in as whoever wrote them."
)


class NotNotes(ValueError):
    """A body that holds no notes of ours."""


@dataclass(frozen=True, slots=True)
class Note:
    """One note as a phone kept it."""

    verb: str
    fields: Fields


@dataclass(frozen=True, slots=True)
class Kept:
    """Everything that a phone sends at once."""

    whose: str
    sent_at: str
    notes: tuple[Note, ...]


@require_http_methods(["GET", "HEAD", "POST"])
@csrf_protect
@answering
def waiting_page(request: HttpRequest) -> HttpResponse:
    """Record what a phone kept; what the shelves refuse is kept and needs a look."""
    if request.method != "POST":
        visitor_of(request, least=Right.HELPER)
        return see(reverse("notes"))
    try:
        kept = kept_of(request.body)
    except NotNotes:
        visitor_of(request, least=Right.HELPER)
        return _answer({"words": aloud(UNREADABLE)}, HTTPStatus.BAD_REQUEST)
    visitor = _whose(request, kept.whose)
    if visitor is None:
        return _answer({"words": aloud(ANOTHERS)}, HTTPStatus.FORBIDDEN)
    must(visitor, Right.HELPER)
    now = timezone.now()
    answers = record_notes(kept, visitor, now=now)
    return _answer({"received_at": now.isoformat(), "answers": answers}, HTTPStatus.OK)


def record_notes(kept: Kept, visitor: Visitor, *, now: datetime) -> list[dict[str, Any]]:
    """Each note's own answer, in the order in which they were sent."""
    bodies: dict[int, Body] = {}
    answers: dict[int, dict[str, Any]] = {}
    for place, note in sorted(enumerate(kept.notes), key=lambda pair: _moment(pair[1])):
        try:
            bodies[place] = _body(note, visitor, now, [*bodies.values()])
        except (*REFUSALS, NoRight) as error:
            answers[place] = _refused(note, error)
    clock = Clock(now, _sent_at(kept.sent_at, visitor))
    places = sorted(bodies)
    outcomes = record_all([bodies[place] for place in places], visitor=visitor, clock=clock)
    for place, outcome in zip(places, outcomes, strict=True):
        answers[place] = _told(kept.notes[place], outcome)
    return [answers[place] for place in range(len(kept.notes))]


def kept_of(body: bytes) -> Kept:
    """The notes that a body holds.

    Raises
    ------
    NotNotes
    """
    try:
        said = json.loads(body)
        notes = said["notes"]
        if not isinstance(notes, list) or not 0 < len(notes) <= AT_MOST:
            raise NotNotes
        return Kept(str(said["whose"]), str(said.get("sent_at", "")), tuple(map(_note, notes)))
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise NotNotes from None


def _note(said: Mapping[str, Any]) -> Note:
    pairs = said["fields"]
    if len(pairs) > FIELDS_AT_MOST:
        raise NotNotes
    fields = {name: text.strip() for name, text in pairs if text.strip()}
    if any(len(text) > LONGEST_FIELD for text in fields.values()):
        raise NotNotes
    return Note(str(said["verb"]), fields)


def _whose(request: HttpRequest, whose: str) -> Visitor | None:
    """The visitor whose mark it is, among the studios that they belong to."""
    asker = asker_of(request)
    account = None if asker.account is None else asker.account.pk
    for studio, _ in asker.studios:
        if whose_of(account, studio) == whose:
            asked = request.GET.copy()
            asked["studio"] = studio.name
            there: Any = request
            there.GET = asked
            return visitor_of(request)
    return None


def _body(note: Note, visitor: Visitor, now: datetime, before: Sequence[Body]) -> Body:
    form = FORMS.get(note.verb)
    if form is None:
        raise NoSuchVerb(note.verb)
    must(visitor, form.entry.least)
    taken = {text for body in before for text in body.values() if isinstance(text, str)}
    written = body_of(form, note.fields, visitor, now=now, taken=taken)
    return {**written.body, "verb": note.verb}


def _refused(note: Note, error: Exception) -> dict[str, Any]:
    """A note that is not kept here: the phone keeps it, with the way to the form as it was."""
    form = FORMS.get(note.verb)
    words = (str(error),) if form is None else faults_of(form, error)
    return {
        "id": note.fields.get("id"),
        "status": problem_of(error)["status"],
        "state": "refused",
        "words": " ".join(aloud(text) for text in words),
        "address": _form_address(note),
    }


def _told(note: Note, outcome: Outcome) -> dict[str, Any]:
    if isinstance(outcome, Refused):
        problem = outcome.problem
        each = [aloud(row["detail"]) for row in problem.get("errors", ())]
        words = " ".join(each) or aloud(problem["detail"])
        return {
            "id": note.fields.get("id"),
            "status": problem["status"],
            "state": _state_of(problem),
            "words": words,
            "address": _form_address(note),
        }
    row = outcome.row
    looks = row.state == NEEDS_A_LOOK
    done = done_words(row, FORMS.get(row.verb))
    return {
        "id": str(row.entry),
        "status": 202 if looks else 200 if outcome.again else 201,
        "state": row.state,
        "words": aloud(say("{done}: {why}", done=done, why=needs_words(row)) if looks else done),
        "address": reverse("note-said", args=[row.entry]),
    }


def _state_of(problem: Mapping[str, Any]) -> str:
    """Refused for good; or handed over while the same note, sent before, is being recorded."""
    return "waiting" if problem["code"] == StillRecording.code else "refused"


def _form_address(note: Note) -> str:
    """The form with all that was written, to be mended."""
    form = FORMS.get(note.verb)
    if form is None:
        return reverse("notes")
    known = (*form.names, *BESIDE, "studio")
    said = {name: text for name, text in note.fields.items() if name in known}
    return f"{reverse('note', args=[note.verb])}?{urlencode(said)}"


def _moment(note: Note) -> str:
    return note.fields.get("when") or note.fields.get("occurred_at") or "9999"


def _sent_at(text: str, visitor: Visitor) -> datetime | None:
    try:
        return moment_asked(text, ZoneInfo(visitor.studio.zone)) if text else None
    except Unreadable:
        return None


def _answer(said: Mapping[str, Any], status: HTTPStatus) -> HttpResponse:
    return JsonResponse(said, status=status, headers={"Cache-Control": "no-store"})
