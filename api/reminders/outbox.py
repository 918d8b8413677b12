"""The outbox: letters are filed once a key, taken in hand, handed over, marked or let go.

Each verb is one short transaction, and none lasts while a mail server is talked to. Whoever has a
letter in hand holds it for a while only, so that what a killed process had in hand comes free by
itself. A mark beside the letter says that its text has begun to go over: found there by the next
hand, it means that nobody knows whether the server said yes, and the try is counted as a possible
repeat.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, cast
from uuid import UUID, uuid4

from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import transaction
from django.db.models import Count, Q, QuerySet, Sum
from django.db.models.functions import Coalesce

from api.models import OutboxLetter
from api.models.outbox import GIVEN_UP, OPEN, REFUSED, STOPPED, TOO_LATE
from api.reminders.errors import NotALetter
from api.reminders.letter import Kind, Letter
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.said import check_said

MOST_TRIES = 12  # over some seven hours
FIRST_WAIT, LONGEST_WAIT = timedelta(minutes=1), timedelta(hours=1)
KEPT = timedelta(days=90)  # after a letter's last moment; no sweep looks back so far
LONGEST_TEXT, LONGEST_SAID = 60_000, 300
MOST_AT_ONCE = 500  # rows filed, listed or cleared away in one statement
LENGTHS = {"key": 200, "to": 254, "subject": 200, "stop": 500}


@dataclass(frozen=True, slots=True)
class InHand:
    """A letter that one process alone may hand over, for a while."""

    pk: int
    hand: UUID
    studio: Studio
    letter: Letter
    message_id: str
    filed_at: datetime
    tries: int  # this one counted


@dataclass(frozen=True, slots=True)
class Filed:
    """A letter in the outbox and how far it has come."""

    letter: Letter
    message_id: str
    tries: int
    next_at: datetime
    handed_at: datetime | None
    sent_at: datetime | None
    let_go_at: datetime | None
    let_go_why: str
    said: str
    repeats: int

    @property
    def is_open(self) -> bool:
        """Whether it is still to go out."""
        return self.sent_at is None and self.let_go_at is None


def message_id(studio: str, key: str, *, domain: str) -> str:
    """The one Message-ID of a key in a studio, the same for ever.

    Examples
    --------
    >>> message_id("Pellitory Yard", "dip/AV-0911/2026-11-23", domain="yard.example")
    '<cdd91bbac38810969731376fff9fba3b7769f379@yard.example>'
    """
    digest = hashlib.sha256(f"{studio}\n{key}".encode()).hexdigest()[:40]
    return f"<{digest}@{domain}>"


@said_in_words()
def file_letters(studio: Studio, letters: Iterable[Letter], *, at: datetime, domain: str) -> int:
    """File letters, each once a key; how many were not there yet.

    Parameters
    ----------
    letters : any order, may be empty
    domain : of the sender's address

    Raises
    ------
    NotALetter
        If one cannot go out as it is written; then none is filed.
    """
    named = {letter.key: letter for letter in letters}
    for letter in named.values():
        check_letter(letter)
    with transaction.atomic():
        there = _keys_there(studio, list(named))
        rows = [_row(studio, named[key], at, domain) for key in named if key not in there]
        # Another may file the same just now: the first one stays, whoever it is.
        OutboxLetter.objects.of(studio).bulk_create(
            rows, batch_size=MOST_AT_ONCE, ignore_conflicts=True
        )
    return len(rows)


def _keys_there(studio: Studio, keys: list[str]) -> set[str]:
    found: set[str] = set()
    for first in range(0, len(keys), MOST_AT_ONCE):
        some = keys[first : first + MOST_AT_ONCE]
        found |= set(
            OutboxLetter.objects.of(studio).filter(key__in=some).values_list("key", flat=True)
        )
    return found


def _row(studio: Studio, letter: Letter, at: datetime, domain: str) -> OutboxLetter:
    return OutboxLetter(
        studio=studio,
        key=letter.key,
        kind=letter.kind,
        to=letter.to,
        subject=letter.subject,
        text=letter.text,
        stop=letter.stop,
        due_at=letter.at,
        until=letter.until,
        next_at=letter.at,
        message_id=message_id(studio.name, letter.key, domain=domain),
        filed_at=at,
    )


def check_letter(letter: Letter) -> None:
    """Refuse what could not go out: a line that is two, an address that is none, an empty text.

    Raises
    ------
    NotALetter
        A line end in the subject or an address would begin a header of the reader's choice.
    """
    check_said({"at": letter.at, "until": letter.until, "text": letter.text})
    for what, most in LENGTHS.items():
        said: str = getattr(letter, what)
        if len(said) > most:
            wrong = f"has {len(said)} characters"
            raise NotALetter(letter.key, what, said, wrong, f"Write at most {most}.")
        if not said.isprintable():
            raise NotALetter(letter.key, what, said, "is not one line", "Write one line.")
        if not said.strip() and what != "stop":
            raise NotALetter(letter.key, what, said, "is empty", "Write something.")
    if not letter.text.strip() or len(letter.text) > LONGEST_TEXT:
        raise NotALetter(
            letter.key, "text", letter.text, "is empty or too long", f"At most {LONGEST_TEXT:,}."
        )
    if letter.stop and not (letter.stop.startswith("/") and _is_plain(letter.stop)):
        raise NotALetter(letter.key, "stop", letter.stop, "is no path", "Begin it with a /.")
    if letter.until <= letter.at:
        raise NotALetter(
            letter.key, "until", letter.until, "does not come after its at", "Give it some time."
        )
    _check_address(letter)


def _check_address(letter: Letter) -> None:
    try:
        validate_email(letter.to)
    except ValidationError:
        fits = False
    else:
        fits = _is_plain(letter.to)
    if not fits:
        raise NotALetter(
            letter.key, "to", letter.to, "is no e-mail address", "Write NAME@HOST in plain letters."
        )


def _is_plain(text: str) -> bool:
    return text.isascii() and text.isprintable() and " " not in text


def due(*, at: datetime, most: int) -> list[int]:
    """Letters that may be tried at a moment, those that wait longest first."""
    rows = _open().filter(next_at__lte=at).order_by("next_at", "pk")
    return list(rows.values_list("pk", flat=True)[:most])


@said_in_words()
def to_be_told(*, at: datetime, most: int, first_wait: timedelta) -> list[int]:
    """Letters that the workers are to be told of now; each again, ever later, till it is done.

    A word to the workers can be lost on the way. Twice as long is waited after each, so that a
    slow mail server does not fill the queue with words about the same letters.
    """
    with transaction.atomic():
        rows = list(
            _open()
            .filter(Q(tell_again_at__isnull=True) | Q(tell_again_at__lte=at), next_at__lte=at)
            .order_by("next_at", "pk")
            .select_for_update(skip_locked=_skips())[:most]
        )
        for row in rows:
            row.tell_again_at = at + first_wait * 2 ** min(row.told, 5)
            row.told = min(row.told + 1, 1000)
        _all().bulk_update(rows, ["tell_again_at", "told"], batch_size=MOST_AT_ONCE)
    return [row.pk for row in rows]


@said_in_words()
def untell(pks: Iterable[int]) -> None:
    """The word did not reach the workers: they are to be told again as soon as may be."""
    _open().filter(pk__in=list(pks)).update(tell_again_at=None)


def found(pk: int, *, at: datetime) -> tuple[Studio, Letter] | None:
    """A letter that may be tried now, as written; None when it may not, or is done."""
    row = _open().filter(pk=pk, next_at__lte=at).select_related("studio").first()
    return None if row is None else (row.studio, _letter(row))


@said_in_words()
def take(pk: int, *, at: datetime, hold: timedelta) -> InHand | str | None:
    """Take a letter in hand for a while; why it was let go; None when it is not to be had."""
    with transaction.atomic():
        row = (
            _open()
            .select_related("studio")
            .select_for_update(of=("self",), skip_locked=_skips())
            .filter(pk=pk, next_at__lte=at)
            .first()
        )
        if row is None:
            return None
        if row.until <= at or row.tries >= MOST_TRIES:
            row.let_go_at, row.let_go_why = at, TOO_LATE if row.until <= at else GIVEN_UP
            row.save(update_fields=["let_go_at", "let_go_why"])
            return row.let_go_why
        hand = uuid4()
        row.repeats += row.handed_at is not None
        row.tries, row.hand, row.handed_at, row.next_at = row.tries + 1, hand, None, at + hold
        row.save(update_fields=["repeats", "tries", "hand", "handed_at", "next_at"])
    return InHand(
        pk=row.pk,
        hand=hand,
        studio=row.studio,
        letter=_letter(row),
        message_id=row.message_id,
        filed_at=row.filed_at,
        tries=row.tries,
    )


@said_in_words()
def begin_to_hand(one: InHand, *, at: datetime) -> bool:
    """Mark that the text goes over from now on; False when another has the letter by now."""
    return bool(_open().filter(pk=one.pk, hand=one.hand).update(handed_at=at))


@said_in_words()
def mark_sent(one: InHand, *, at: datetime, said: str) -> None:
    """Mark the server's yes, whoever has the letter in hand by now: it is out."""
    _open().filter(pk=one.pk).update(
        sent_at=at, handed_at=Coalesce("handed_at", at), said=said[:LONGEST_SAID]
    )


@said_in_words()
def put_off(one: InHand, *, at: datetime, said: str, perhaps: bool = False) -> str:
    """Try again after a wait that grows, or let it go after the last try; which of the two.

    Parameters
    ----------
    perhaps : whether the server may have taken it all the same
    """
    mine = _open().filter(pk=one.pk, hand=one.hand)
    changes: dict[str, Any] = {"said": said[:LONGEST_SAID]}
    if not perhaps:
        changes["handed_at"] = None
    if one.tries >= MOST_TRIES:
        mine.update(let_go_at=at, let_go_why=GIVEN_UP, **changes)
        return GIVEN_UP
    # The workers are to be told anew when the wait is over.
    mine.update(next_at=at + wait_after(one.tries), tell_again_at=None, told=0, **changes)
    return "put off"


def wait_after(tries: int) -> timedelta:
    """How long a letter waits after so many tries.

    Examples
    --------
    >>> [int(wait_after(tries).total_seconds()) for tries in (1, 2, 6, 7, 11)]
    [60, 120, 1920, 3600, 3600]
    """
    return cast(timedelta, min(FIRST_WAIT * 2 ** (tries - 1), LONGEST_WAIT))


@said_in_words()
def refuse(one: InHand, *, at: datetime, said: str) -> str:
    """Let a letter go that the server refused for good."""
    _open().filter(pk=one.pk, hand=one.hand).update(
        let_go_at=at, let_go_why=REFUSED, handed_at=None, said=said[:LONGEST_SAID]
    )
    return REFUSED


@said_in_words()
def stop(pk: int, *, at: datetime) -> bool:
    """Let a letter go that is no longer wanted, unless somebody has it in hand."""
    free = _open().filter(pk=pk, next_at__lte=at)
    return bool(free.update(let_go_at=at, let_go_why=STOPPED))


@said_in_words()
def clear_away(*, at: datetime) -> int:
    """Clear away some letters whose last moment is long past; how many."""
    old = _all().filter(until__lt=at - KEPT).order_by("until")
    pks = list(old.values_list("pk", flat=True)[:MOST_AT_ONCE])
    if pks:
        _all().filter(pk__in=pks).delete()
    return len(pks)


@dataclass(frozen=True, slots=True)
class Tally:
    """How all the letters that are kept stand."""

    to_go: int
    sent: int
    let_go: int
    repeats: int  # tries begun though an earlier one had perhaps been taken


def tally() -> Tally:
    """How the letters of all studios stand."""
    return Tally(
        **_all().aggregate(
            to_go=Count("pk", filter=OPEN),
            sent=Count("sent_at"),
            let_go=Count("let_go_at"),
            repeats=Coalesce(Sum("repeats"), 0),
        )
    )


def listed(studio: Studio, *, most: int) -> tuple[Filed, ...]:
    """A studio's letters and how far each has come, the latest first."""
    rows = OutboxLetter.objects.of(studio).order_by("-due_at", "-pk")[: min(most, MOST_AT_ONCE)]
    return tuple(_filed(row) for row in rows)


def _filed(row: OutboxLetter) -> Filed:
    return Filed(
        letter=_letter(row),
        message_id=row.message_id,
        tries=row.tries,
        next_at=row.next_at,
        handed_at=row.handed_at,
        sent_at=row.sent_at,
        let_go_at=row.let_go_at,
        let_go_why=row.let_go_why,
        said=row.said,
        repeats=row.repeats,
    )


def _letter(row: OutboxLetter) -> Letter:
    return Letter(
        key=row.key,
        kind=cast(Kind, row.kind),
        to=row.to,
        at=row.due_at,
        until=row.until,
        subject=row.subject,
        text=row.text,
        stop=row.stop,
    )


def _open() -> QuerySet[OutboxLetter]:
    return _all().filter(OPEN)


def _all() -> QuerySet[OutboxLetter]:
    """The letters of every studio: those who carry them out ask no further."""
    return OutboxLetter._base_manager.all()


def _skips() -> bool:
    """Whether the engine can leave aside what another has locked; SQLite locks all or nothing."""
    return bool(transaction.get_connection().features.has_select_for_update_skip_locked)
