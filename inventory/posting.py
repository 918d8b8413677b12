"""How an entry becomes a posting: once, whole, and the same answer for a retry."""

from __future__ import annotations

import hashlib
import json
import random
import time
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, field, is_dataclass
from datetime import UTC, date, datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import Error, IntegrityError, connection, transaction

from inventory.draft import Draft
from inventory.errors import Busy, EntryUsed, LarderError
from inventory.hindrance import said_in_words, waited_in_vain
from inventory.models import Movement, Posting, Studio
from inventory.said import check_entry, check_said
from inventory.statements import is_recorded

TRIES = 8  # of an entry that finds others writing
LONGEST_PAUSE_S = 0.4


@dataclass(frozen=True, slots=True)
class Moved:
    """What an entry did to one lot."""

    lot: str
    number: int
    amount: int  # mg or µL
    left_after: int
    unit: str


@dataclass(frozen=True, slots=True)
class Posted:
    """The answer to an entry: what was recorded, the same each time it is sent."""

    entry: UUID
    kind: str
    at: datetime
    recorded_at: datetime
    moved: tuple[Moved, ...]
    again: bool = field(default=False, compare=False)  # it had been recorded before


def post(
    studio: Studio,
    *,
    entry: UUID,
    kind: str,
    at: datetime,
    body: Mapping[str, Any],
    work: Callable[[Draft], None],
    note: str = "",
    where_to: str = "",
    corrects: Posting | None = None,
    undoes: bool = False,
) -> Posted:
    """Record an entry, once, in one transaction; a retry gets the first answer.

    Raises
    ------
    EntryUsed
        If the same entry came before with another body.
    Busy, NoRoom, OutOfReach
        If others were writing all the time, or the database could not; nothing was recorded.
    """
    check_entry(entry, at)
    check_said({"at": at, "note": note, "where_to": where_to, **body})
    digest = digest_of({"kind": kind, "at": at, "note": note, "where_to": where_to, **body})
    words = {
        "entry": entry,
        "kind": kind,
        "occurred_at": at,
        "body_sha256": digest,
        "note": note,
        "where_to": where_to,
        "corrects_id": None if corrects is None else corrects.pk,
        "undoes": undoes,
    }
    # Inside somebody else's transaction a lost lock cannot be tried again from here.
    inside = connection.in_atomic_block
    with said_in_words():
        return _patiently(lambda: _once(studio, words, work), studio, entry, digest, inside=inside)


def _once(studio: Studio, words: Mapping[str, Any], work: Callable[[Draft], None]) -> Posted:
    with transaction.atomic():
        found = _found(studio, words["entry"])
        if found is not None:
            return _first_answer(found, words["body_sha256"])
        draft = Draft(studio, at=words["occurred_at"])
        work(draft)
        posting = draft.close(words)
        return Posted(
            entry=posting.entry,
            kind=posting.kind,
            at=posting.occurred_at,
            recorded_at=posting.recorded_at,
            moved=tuple(_moved(row, tip.code, tip.unit) for row, tip in draft.moved),
        )


def _patiently(
    record: Callable[[], Posted], studio: Studio, entry: UUID, digest: str, *, inside: bool
) -> Posted:
    for attempt in range(TRIES):
        try:
            return record()
        except (LarderError, IntegrityError) as refusal:
            # A twin of this entry may have been recorded while this one waited for the lot.
            found = _found(studio, entry)
            if found is not None:
                return _first_answer(found, digest)
            # Somebody else took the code meanwhile: the second try says so in words.
            if inside or attempt or isinstance(refusal, LarderError):
                raise
        except Error as trouble:
            if inside or not passes(trouble):
                raise
            pause(attempt)
    raise Busy(TRIES)


def pause(attempt: int) -> None:
    """Wait a moment before another try: longer with each, and never in step with others."""
    time.sleep(random.uniform(0, min(LONGEST_PAUSE_S, 0.01 * 2**attempt)))


def passes(trouble: Error) -> bool:
    """Whether trying again at once can help: a deadlock, a lost race, a file locked for a blink."""
    cause = trouble.__cause__
    if waited_in_vain(trouble):
        return False
    return "locked" in str(trouble) or getattr(cause, "sqlstate", None) in {"40001", "40P01"}


def _found(studio: Studio, entry: UUID) -> Posting | None:
    if not is_recorded(studio.pk, entry):
        return None
    return Posting.objects.of(studio).filter(entry=entry).first()


def _first_answer(found: Posting, digest: str) -> Posted:
    if found.body_sha256 != digest:
        here = found.occurred_at.astimezone(ZoneInfo(found.studio.zone))
        raise EntryUsed(entry=found.entry, kind=found.kind, at=here)
    rows = (
        Movement.objects.of(found.studio).filter(posting=found).select_related("lot").order_by("id")
    )
    return Posted(
        entry=found.entry,
        kind=found.kind,
        at=found.occurred_at,
        recorded_at=found.recorded_at,
        moved=tuple(_moved(row, row.lot.code, row.lot.unit) for row in rows),
        again=True,
    )


def _moved(row: Movement, code: str, unit: str) -> Moved:
    return Moved(
        lot=code, number=row.number, amount=row.amount, left_after=row.left_after, unit=unit
    )


def digest_of(body: Mapping[str, Any]) -> str:
    """A fingerprint of what was said, whatever the order of its parts."""
    text = json.dumps(_plain(body), sort_keys=True, ensure_ascii=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def _plain(value: Any) -> Any:
    if value is None or isinstance(value, str | int):
        return value
    if isinstance(value, Mapping):
        return {str(key): _plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    if is_dataclass(value) and not isinstance(value, type):
        return _plain(asdict(value))
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat()
    if isinstance(value, date):
        return value.isoformat()
    return str(value)
