"""What was written down, told in words, with ten minutes to take it back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from http import HTTPStatus
from typing import Any
from urllib.parse import urlencode
from uuid import UUID, uuid5
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from api.entries.clock import Clock
from api.entries.reading import read_entry
from api.entries.record import find, record
from api.entries.registry import VERBS
from api.models.entries import LET_GO, NEEDS_A_LOOK, RECORDED, Entry
from api.question import Question, question_of
from api.visitor import Right, Visitor, visitor_of
from api.web.note.door import note_door, note_shown, see
from api.web.note.faults import REFUSALS, faults_of, is_passing
from api.web.note.form import Form
from api.web.note.registry import FORMS
from api.web.page import refused
from api.web.shelves.anchors import label_address
from inventory.models import Posting
from inventory.science.cautions import Caution
from inventory.science.saying import measured, say
from sourcing.week.words import moment_in_words

TAKEN_BACK_WITHIN = timedelta(minutes=10)
# What units of an answer hold.
HOLDS = {
    "mg": ("mg", 1),
    "g": ("mg", 1000),
    "kg": ("mg", 10**6),
    "mL": ("µL", 1000),
    "L": ("µL", 10**6),
}
NAMED = ("run", "step", "round", "day", "what")
JUST_UNDER_A_MINUTE = timedelta(seconds=59, microseconds=999_999)
UNKNOWN = say("Nothing was written down under this number. If a form was sent, send it again.")
TOO_LATE = say(
    "Ten minutes have gone by, and it stays on record. Write down what is true "
    "now: weigh it again, recount it or dip it again."
)
ALREADY = say("It was taken back already.")


@dataclass(frozen=True, slots=True)
class SaidShown:
    """One entry, ready to be put on the page."""

    done: str
    is_recorded: bool
    lines: tuple[tuple[str, str], ...]
    left: tuple[str, ...]
    when: str
    by: str
    cautions: tuple[Caution, ...]
    needs: str  # why it needs a look
    look: str  # address at which it is settled
    can_take_back: bool
    until: str  # 09:12
    put_right: str  # address of the form that puts its amounts right; empty: it has none
    instead: str  # what to do where it cannot be taken back
    again: str  # address of the same form, empty
    label: str  # address of the labels of what it began; empty: it began nothing
    faults: tuple[str, ...] = ()


@note_door
def said_page(request: HttpRequest, entry: UUID) -> HttpResponse:
    """What came of one entry; POST takes it back."""
    least = Right.HELPER if request.method == "POST" else Right.LOOKER_ON
    visitor = visitor_of(request, least=least)
    question = question_of(request, what=say("This page"))
    row = find(visitor, entry)
    if row is None:
        return refused(HTTPStatus.NOT_FOUND, UNKNOWN)
    if request.method != "POST":
        return _shown(request, question, row)
    if (why := not_taken_back(visitor, row, now=timezone.now())) and not _undone(visitor, row):
        return _shown(request, question, row, faults=(why,), status=HTTPStatus.CONFLICT)
    try:
        taken = take_back(visitor, row)
    except REFUSALS as error:
        form = FORMS.get(row.verb)
        faults = (str(error),) if form is None else faults_of(form, error)
        status = HTTPStatus.SERVICE_UNAVAILABLE if is_passing(error) else HTTPStatus.CONFLICT
        return _shown(request, question, row, faults=faults, status=status)
    return see(reverse("note-said", args=[taken]) + question.carried)


def take_back(visitor: Visitor, row: Entry) -> UUID:
    """The id of the entry that takes another back: the same however often it is asked for."""
    undo = FORMS[row.verb].undo if row.verb in FORMS else "correct"
    verb, entry = VERBS[undo], uuid5(row.entry, "taken back")
    before = find(visitor, entry)
    at = (timezone.now() if before is None else before.said_at).replace(microsecond=0)
    said = {"corrects": str(row.entry)} if undo == "correct" else _of_the_same(row)
    body = {"id": str(entry), "occurred_at": at.isoformat(), **said, "note": "taken back"}
    read = read_entry(verb, body, visitor.studio)
    record(verb, read, body, visitor=visitor, clock=Clock(timezone.now()))
    return entry


def _of_the_same(row: Entry) -> dict[str, Any]:
    """What names the same run, step or chore in the entry that takes it back."""
    return {name: row.said[name] for name in NAMED if name in row.said}


def not_taken_back(visitor: Visitor, row: Entry, *, now: datetime) -> str:
    """Why an entry cannot be taken back any more, with what to do instead; empty: it can."""
    form = FORMS.get(row.verb)
    if row.state != RECORDED:
        return say("It is not on record, so there is nothing to take back.")
    if form is not None and form.undo == "":
        return form.instead
    if now - row.recorded_at > TAKEN_BACK_WITHIN:
        return TOO_LATE
    if _undone(visitor, row):
        return ALREADY
    if form is None or form.undo == "correct":
        posted = Posting.objects.of(visitor.studio).filter(entry=row.entry).exists()
        return "" if posted else say("It moved nothing, so there is nothing to take back.")
    return "" if visitor.right.covers(VERBS[form.undo].least) else form.instead


def _undone(visitor: Visitor, row: Entry) -> bool:
    return find(visitor, uuid5(row.entry, "taken back")) is not None


def _shown(
    request: HttpRequest,
    question: Question,
    row: Entry,
    *,
    faults: tuple[str, ...] = (),
    status: HTTPStatus = HTTPStatus.OK,
) -> HttpResponse:
    visitor = visitor_of(request)
    why = not_taken_back(visitor, row, now=timezone.now())
    said = said_shown(row, ZoneInfo(question.studio.zone), question, why=why, faults=faults)
    return note_shown(request, "note/said.html", question, status=status, said=said)


def said_shown(
    row: Entry, zone: ZoneInfo, question: Question, *, why: str, faults: tuple[str, ...]
) -> SaidShown:
    """An entry in words."""
    form = FORMS.get(row.verb)
    until = (row.recorded_at + TAKEN_BACK_WITHIN).astimezone(zone)
    return SaidShown(
        done=done_words(row, form),
        is_recorded=row.state == RECORDED,
        lines=lines_of(row, form),
        left=left_words(row),
        when=moment_in_words(row.occurred_at, zone),
        by=row.by_whom,
        cautions=form.cautions(form.out_of(row.said)) if form is not None else (),
        needs=needs_words(row),
        look=reverse("note-look", args=[row.entry]) + question.carried,
        can_take_back=not why,
        until=f"{until:%H:%M}",
        put_right="" if why else put_right_of(row, form, question),
        instead=why,
        again="" if form is None else reverse("note", args=[form.verb]) + question.carried,
        label=label_of(row, zone, question),
        faults=faults,
    )


def done_words(row: Entry, form: Form | None) -> str:
    """One sentence on what came of an entry."""
    if row.state == NEEDS_A_LOOK:
        return say("It is kept, and needs a look")
    if row.state == LET_GO:
        return say("It was let go")
    if is_taken_back(row):
        return say("It is taken back")
    return VERBS[row.verb].says if form is None else form.done


def is_taken_back(row: Entry) -> bool:
    """Whether an entry takes another back as a whole."""
    return row.verb == "correct" and "amounts" not in row.said


def lines_of(row: Entry, form: Form | None) -> tuple[tuple[str, str], ...]:
    """Each question with its answer, as far as it was answered."""
    if form is None:
        return ()
    plain = form.out_of(row.said)
    pairs = ((ask.words, ask.in_words(plain)) for ask in form.questions)
    return tuple((words, answer) for words, answer in pairs if answer)


def left_words(row: Entry) -> tuple[str, ...]:
    """What is left of each lot that it moved."""
    moved: list[dict[str, Any]] = row.answer.get("moved", [])
    return tuple(
        say("{lot}: {left} left", lot=each["lot"], left=_amount(each["left"])) for each in moved
    )


def label_of(row: Entry, zone: ZoneInfo, question: Question) -> str:
    """Where the labels of lots are printed that an entry began, as of the moment of making.

    Pages see whole minutes, so it is the next one: in this one the lot is not there yet.
    """
    moved: list[dict[str, Any]] = row.answer.get("moved", [])
    begun = [each["lot"] for each in moved if each["number"] == 1 and row.state == RECORDED]
    if not begun:
        return ""
    at = (row.occurred_at + JUST_UNDER_A_MINUTE).astimezone(zone)
    said = {**dict(question.said), "at": at.isoformat(timespec="minutes")}
    return label_address(*begun, carried=f"?{urlencode(said)}")


def put_right_of(row: Entry, form: Form | None, question: Question) -> str:
    """Where the amounts of an entry are put right, where it moved any and is taken back so."""
    if (form is not None and form.undo != "correct") or not row.answer.get("moved"):
        return ""
    said = {**dict(question.said), "corrects": str(row.entry)}
    return f"{reverse('note', args=['correct'])}?{urlencode(said)}"


def needs_words(row: Entry) -> str:
    """Why an entry needs a look; empty where it does not."""
    problem: dict[str, Any] = row.answer.get("problem", {})
    return str(problem.get("detail", "")) if row.state == NEEDS_A_LOOK else ""


def _amount(said: dict[str, str]) -> str:
    number, unit = Decimal(said["amount"]), said["unit"]
    words = say("{decimal:,f} {unit}", decimal=number, unit=unit)
    if unit not in HOLDS:
        return words
    base, holds = HOLDS[unit]
    return measured(words, Fraction(number) * holds, base)
