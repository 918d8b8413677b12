"""The page of reminders: what goes out next, who is told what, what became of the last letters."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse

from api.models import OutboxLetter
from api.question import Question, question_of
from api.reminders.letter import NEW_PASSWORD
from api.reminders.readers import kind_in_words, quiet_in_words, shortened, since_in_words
from api.reminders.words import words_of
from api.web.note.deeds import Deed
from api.web.note.ways import ways_from
from api.web.page import page, shown
from inventory.models import Studio
from inventory.science.saying import joined, say
from sourcing.gather import Cells
from sourcing.reminder_facts import reminder_facts_and_rows, reminder_tables
from sourcing.reminding.due import Reminder, reminders_between
from sourcing.reminding.facts import ReminderFacts, Wish
from sourcing.week.words import moment_in_words

MOST_NEXT, MOST_READERS, MOST_LETTERS = 40, 60, 20
# What the outbox says of a letter that was let go, in words.
WHY = {
    "too late": say("let go: it was of no use any more"),
    "refused": say("let go: the mail server refuses it for good"),
    "stopped": say("let go: stopped, or no longer true"),
    "given up": say("let go: tried often enough"),
}


@dataclass(frozen=True, slots=True)
class NextShown:
    """A reminder that will go out, as things stand now."""

    when: str
    subject: str
    reader: str
    to: str
    until: str


@dataclass(frozen=True, slots=True)
class KindShown:
    """What a reader wants, and whether it goes out."""

    words: str
    goes: bool


@dataclass(frozen=True, slots=True)
class ReaderShown:
    """Who is told what."""

    name: str
    to: str
    source: str
    kinds: tuple[KindShown, ...]
    hours: str  # quiet hours and first day
    ways: tuple[Deed, ...]


@dataclass(frozen=True, slots=True)
class LetterShown:
    """A letter in the outbox and what became of it."""

    when: str
    subject: str
    to: str
    state: str  # yes, wait, no: its mark and colour
    words: str


@dataclass(frozen=True, slots=True)
class RemindersShown:
    """The whole page."""

    sender: str  # empty: no mail is set up
    days: int
    next: tuple[NextShown, ...]
    next_rest: int
    readers: tuple[ReaderShown, ...]
    readers_rest: int
    ways: tuple[Deed, ...]
    letters: tuple[LetterShown, ...]


@page
def reminders_page(request: HttpRequest) -> HttpResponse:
    """The reminders of the only studio, or of the one that the address names."""
    question = question_of(request, what=say("The page of reminders"))
    facts, rows = reminder_facts_and_rows(question.studio, at=question.at, tables=TABLES)
    view = view_of(question, facts, rows["letters"])
    return shown("reminders/page.html", question, here="reminders", reminders=view)


def _latest(studio: Studio) -> dict[str, QuerySet[Any]]:
    # A letter for a new password is between the larder and one of its members.
    letters = OutboxLetter.objects.of(studio).exclude(kind=NEW_PASSWORD)
    latest = letters.order_by("-due_at", "-pk").values("pk")[:MOST_LETTERS]
    return {"letters": letters.filter(pk__in=latest)}


TABLES = reminder_tables(_latest)


def view_of(question: Question, facts: ReminderFacts, letters: Sequence[Cells]) -> RemindersShown:
    """Everything on the page in words."""
    zone = facts.week.zone
    until = question.at + timedelta(days=question.days)
    rows = reminders_between(facts, since=question.at, until=until)
    return RemindersShown(
        sender=settings.MAIL.sender if settings.MAIL is not None else "",
        days=question.days,
        next=tuple(_next(row, facts) for row in rows[:MOST_NEXT]),
        next_rest=max(len(rows) - MOST_NEXT, 0),
        readers=tuple(_reader(wish, question) for wish in facts.wishes[:MOST_READERS]),
        ways=ways_from(question, "add-reader"),
        readers_rest=max(len(facts.wishes) - MOST_READERS, 0),
        letters=tuple(_letter(row, zone) for row in sorted(letters, key=_due, reverse=True)),
    )


def _next(row: Reminder, facts: ReminderFacts) -> NextShown:
    zone = facts.week.zone
    return NextShown(
        when=moment_in_words(row.at, zone),
        subject=words_of(row, facts)[0],
        reader=row.wish.reader,
        to=shortened(row.wish.address),
        until=moment_in_words(row.until, zone),
    )


def _reader(wish: Wish, question: Question) -> ReaderShown:
    return ReaderShown(
        name=wish.reader,
        to=shortened(wish.address),
        source=wish.source,
        kinds=tuple(KindShown(kind_in_words(wish, kind), wish.wants(kind)) for kind in wish.kinds),
        hours=joined(
            ", ", (words for words in (since_in_words(wish), quiet_in_words(wish)) if words)
        ),
        ways=ways_from(
            question,
            "change-reader",
            "readdress-reader",
            "stop-letters",
            *(("begin-letters",) if wish.stopped else ()),
            reader=wish.reader,
        ),
    )


def _due(row: Cells) -> tuple[datetime, int]:
    return row["due_at"], row["id"]


def _letter(row: Cells, zone: ZoneInfo) -> LetterShown:
    state, words = _became(row, zone)
    return LetterShown(
        when=moment_in_words(row["due_at"], zone),
        subject=row["subject"],
        to=shortened(row["to"]),
        state=state,
        words=say("{words}; perhaps sent twice", words=words) if row["repeats"] else words,
    )


def _became(row: Cells, zone: ZoneInfo) -> tuple[str, str]:
    """What became of a letter: a state and its words."""
    if row["sent_at"] is not None:
        return "yes", say("sent {row}", row=moment_in_words(row["sent_at"], zone))
    if row["let_go_at"] is not None:
        why = str(row["let_go_why"])
        return "no", WHY.get(why, why)
    again = moment_in_words(row["next_at"], zone)
    return "wait", say("tried {row}×, again {again}", row=row["tries"], again=again) if row[
        "tries"
    ] else say("waits for {again}", again=again)
