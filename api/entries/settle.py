"""An entry that needed a look, looked at: recorded after all, or let go."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from api.entries.allowed import must
from api.entries.answers import answer_of
from api.entries.asked import Asked
from api.entries.errors import EntryUnknown, NothingToSettle
from api.entries.reading import read_entry
from api.entries.registry import VERBS
from api.models.entries import LET_GO, NEEDS_A_LOOK, RECORDED, Entry
from api.visitor import Visitor
from inventory.hindrance import said_in_words


def record_after_all(
    visitor: Visitor, entry: UUID, *, instead: Mapping[str, Any], note: str = ""
) -> Entry:
    """An entry recorded that had been refused: as it was said, or with other fields instead.

    Parameters
    ----------
    instead : fields that are to be taken in place of those said; may be empty

    Raises
    ------
    EntryUnknown, NothingToSettle
    LarderError
        If the shelves refuse it still; it goes on needing a look.
    """
    with said_in_words(), transaction.atomic():
        row = _to_settle(visitor, entry)
        verb = VERBS[row.verb]
        must(visitor, verb.least)
        body = {**row.said, **instead, "id": str(entry), "occurred_at": row.said_at.isoformat()}
        read = read_entry(verb, body, visitor.studio)
        kept = verb.run(Asked(visitor.studio, entry, row.occurred_at, read.fields))
        row.answer = answer_of(kept, read.understood)
        return _settled(row, visitor, RECORDED, note)


def let_go(visitor: Visitor, entry: UUID, *, note: str = "") -> Entry:
    """An entry that needed a look and is not to be recorded; its words stay on record."""
    with said_in_words(), transaction.atomic():
        return _settled(_to_settle(visitor, entry), visitor, LET_GO, note)


def _to_settle(visitor: Visitor, entry: UUID) -> Entry:
    rows = Entry.objects.of(visitor.studio).select_for_update(of=("self",))
    row = rows.filter(entry=entry).first()
    if row is None:
        raise EntryUnknown(entry)
    if row.state != NEEDS_A_LOOK:
        raise NothingToSettle(entry, row.state)
    return row


def _settled(row: Entry, visitor: Visitor, state: str, note: str) -> Entry:
    row.state, row.settled_at = state, timezone.now()
    row.settled_by, row.settled_note = visitor.name, note
    fields = ["state", "answer", "settled_at", "settled_by", "settled_note"]
    row.save(update_fields=fields)
    return row
