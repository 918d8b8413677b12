"""How an entry is carried out: once, whole, with an answer that stays the same for ever.

The verb and the row that remembers its answer are written in one transaction. So what was
acknowledged is there after any fall, and the same entry again finds its first answer.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from threading import Lock
from typing import Any
from uuid import UUID

from django.db import Error, IntegrityError, connection, transaction

from api.entries.answers import answer_of
from api.entries.asked import Asked
from api.entries.clock import Clock, Happened, happened
from api.entries.errors import EntryClashes, StillRecording
from api.entries.reading import BESIDE, Read
from api.entries.verb import Verb
from api.models.entries import RECORDED, Entry
from api.visitor import Visitor
from inventory.errors import Busy, EntryUsed
from inventory.hindrance import said_in_words
from inventory.posting import TRIES, digest_of, passes, pause


@dataclass(frozen=True, slots=True)
class Answered:
    """The row of an entry, and whether it had been there before."""

    row: Entry
    again: bool


class _Hands:
    """The entries that this process is recording just now."""

    def __init__(self) -> None:
        self._lock, self._held = Lock(), set[tuple[int, UUID]]()

    @contextmanager
    def on(self, studio: int, entry: UUID) -> Iterator[None]:
        """Have an entry in hand, unless somebody else has."""
        with self._lock:
            if (studio, entry) in self._held:
                raise StillRecording(entry)
            self._held.add((studio, entry))
        try:
            yield
        finally:
            with self._lock:
                self._held.discard((studio, entry))


HANDS = _Hands()
LOG = logging.getLogger(__name__)


def record(
    verb: Verb, read: Read, body: Mapping[str, Any], *, visitor: Visitor, clock: Clock
) -> Answered:
    """An entry carried out, or the answer that it was given when it came first.

    Raises
    ------
    EntryUsed
        If the same id came before with another body.
    StillRecording
        If it came a moment ago and is not answered yet.
    LarderError
        If the shelves refuse it; nothing was recorded.
    """
    digest = digest_said(verb, body)
    with HANDS.on(visitor.studio.pk, read.entry), said_in_words():
        for attempt in range(TRIES):
            try:
                return _once(verb, read, body, visitor=visitor, clock=clock, digest=digest)
            except IntegrityError as clash:
                found = find(visitor, read.entry)
                if found is not None:
                    return first_answer(found, digest)
                if attempt:
                    LOG.exception("%s %s clashes with what is there", verb.name, read.entry)
                    raise EntryClashes(verb.name) from clash
            except Error as trouble:
                if connection.in_atomic_block or not passes(trouble):
                    raise
                pause(attempt)
    raise Busy(TRIES)


def find(visitor: Visitor, entry: UUID) -> Entry | None:
    """An entry by its id, if it was ever answered here."""
    return Entry.objects.of(visitor.studio).filter(entry=entry).first()


def first_answer(found: Entry, digest: str) -> Answered:
    """What an entry was answered when it came first; refused for another body."""
    if found.body_sha256 != digest:
        raise EntryUsed(entry=found.entry, kind=found.verb, at=found.occurred_at)
    return Answered(found, again=True)


def digest_said(verb: Verb, body: Mapping[str, Any]) -> str:
    """A fingerprint of a body, whatever the order of its members and whenever it is sent."""
    said = {name: value for name, value in body.items() if name not in ("sent_at", "verb")}
    return digest_of({"verb": verb.name, "body": said})


def row_of(
    verb: Verb,
    read: Read,
    body: Mapping[str, Any],
    *,
    visitor: Visitor,
    when: Happened,
    state: str,
    answer: Mapping[str, Any],
) -> Entry:
    """The row that remembers an entry; not written yet."""
    return Entry(
        studio=visitor.studio,
        entry=read.entry,
        verb=verb.name,
        said={name: value for name, value in body.items() if name not in BESIDE},
        body_sha256=digest_said(verb, body),
        said_at=read.said_at,
        occurred_at=when.at,
        clock_off_s=when.off_s,
        by_whom=visitor.name,
        account_id=visitor.account,
        state=state,
        answer=dict(answer),
    )


def _once(
    verb: Verb,
    read: Read,
    body: Mapping[str, Any],
    *,
    visitor: Visitor,
    clock: Clock,
    digest: str,
) -> Answered:
    with transaction.atomic():
        hold(visitor, read.entry)
        found = find(visitor, read.entry)
        if found is not None:
            return first_answer(found, digest)
        when = happened(read.said_at, clock)
        kept = verb.run(Asked(visitor.studio, read.entry, when.at, read.fields))
        answer = answer_of(kept, read.understood)
        row = row_of(verb, read, body, visitor=visitor, when=when, state=RECORDED, answer=answer)
        row.save(force_insert=True)
        row.refresh_from_db(fields=["recorded_at"])
        return Answered(row, again=False)


def hold(visitor: Visitor, entry: UUID) -> None:
    """Keep other processes from recording the same entry meanwhile.

    On SQLite whoever writes is alone anyway.
    """
    if connection.vendor != "postgresql":
        return
    with connection.cursor() as cursor:
        key = f"{visitor.studio.pk}/{entry}"
        cursor.execute("SELECT pg_try_advisory_xact_lock(hashtextextended(%s, 0))", [key])
        (free,) = cursor.fetchone()
    if not free:
        raise StillRecording(entry)
