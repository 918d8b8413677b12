"""Readers of reminders and their words as rows of a notebook."""

from __future__ import annotations

from inventory.models import Studio
from sourcing.models import Reader, ReaderSaid
from sourcing.models.reminders import COLUMN_OF
from sourcing.notebook.load_shelf import Values
from sourcing.reminding.facts import KINDS


def reminder_pages(studio: Studio) -> dict[str, list[Values]]:
    """Readers by name, and their words, the earliest first."""
    readers = Reader.objects.of(studio).select_related("source").order_by("name")
    said = ReaderSaid.objects.of(studio).select_related("reader").order_by("at", "id")
    return {
        "reminders": [_reader(row) for row in readers],
        "stops": [
            {"reader": row.reader.name, "kind": row.kind, "what": row.what, "at": row.at}
            for row in said
        ],
    }


def _reader(row: Reader) -> Values:
    return {
        "reader": row.name,
        "address": row.address,
        "source": row.source.name if row.source is not None else "",
        "wants": tuple(kind for kind in KINDS if getattr(row, COLUMN_OF[kind])),
        "sheet at": row.sheet_at,
        "quiet from": row.quiet_from,
        "quiet until": row.quiet_until,
        "since": row.since,
        "leave by": row.leave_by,
        "leave on": row.leave_on,
        "note": row.note,
    }
