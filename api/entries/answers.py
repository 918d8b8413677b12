"""The answer to an entry as JSON: what was recorded, how the amounts were understood."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from api.entries.asked import Kept
from api.models.entries import Entry
from inventory.posting import Posted
from sourcing.week.words import exact

Json = dict[str, Any]


def answer_of(kept: Kept, understood: Iterable[Mapping[str, str]]) -> Json:
    """What stays of an entry's answer, for ever the same."""
    return {
        "noun": kept.noun,
        "key": kept.key,
        "values": dict(kept.values),
        "moved": [] if kept.posted is None else moved_said(kept.posted),
        "understood": [dict(row) for row in understood],
    }


def moved_said(posted: Posted) -> list[Json]:
    """What an entry did to each lot: so much more or less, and what was left then."""
    return [
        {
            "lot": row.lot,
            "number": row.number,
            "change": _said(row.amount, row.unit),
            "left": _said(row.left_after, row.unit),
        }
        for row in posted.moved
    ]


def entry_said(row: Entry) -> Json:
    """An entry with its answer, the same each time it is sent."""
    said: Json = {
        "id": str(row.entry),
        "verb": row.verb,
        "state": row.state,
        "occurred_at": row.occurred_at.isoformat(),
        "said_at": row.said_at.isoformat(),
        "recorded_at": row.recorded_at.isoformat(),
        "clock_off_s": row.clock_off_s,
        "by": row.by_whom or None,
    }
    return {**said, **row.answer}


def _said(number: int, unit: str) -> Json:
    amount, symbol = exact(number, unit)
    return {"amount": amount, "unit": symbol}
