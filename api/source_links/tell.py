"""What a source tells by its link is recorded like any other entry, once, by the same verbs.

The last word holds and every one is kept. Who moves a hand-over to another day tells of the new
one and takes back the old one; each is an entry of its own, so a half that was cut short is done
when the form is sent again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any
from uuid import UUID, uuid5

from api.entries.asked import Asked, Kept
from api.entries.clock import Clock
from api.entries.reading import read_entry
from api.entries.record import find, record
from api.entries.registry import VERBS
from api.entries.verb import Verb
from api.models import SourceLink, SourceWord
from api.visitor import Right, Visitor
from inventory.errors import EntryUsed
from sourcing.told import where_it_goes

REPORT, MISS = "report-pick-up", "miss-pick-up"
OURS = UUID("5c1c3f0e-6b1e-5b0f-9f65-0d6f2f6a7c11")  # under it entries of links have their ids


@dataclass(frozen=True, slots=True)
class Saying:
    """One hand-over as its source tells of it."""

    form: str  # id of the form that was sent; sent twice it counts once
    gives: str
    at: datetime  # when it can be fetched
    amount: str  # with its unit; empty: none this time
    word: str
    instead_of: datetime | None = None  # the hand-over that this one takes the place of


def tell(link: SourceLink, saying: Saying, *, now: datetime) -> None:
    """Record what a source tells.

    Raises
    ------
    LarderError, FieldsUnclear
        If the shelves refuse it; then nothing was recorded.
    """
    _record(link, saying, now)
    before = saying.instead_of
    if before is not None and before != saying.at:
        _record(link, replace(saying, at=before, amount="", word=""), now)


def _record(link: SourceLink, saying: Saying, now: datetime) -> None:
    visitor = Visitor(link.studio, Right.HELPER, name=f"{link.source.name}, by its link")
    entry = _id(link, saying)
    if find(visitor, entry) is not None:
        return
    verb = VERBS[REPORT if saying.amount else MISS]
    body = {"id": str(entry), "occurred_at": now.isoformat(), **_fields(link, saying)}
    read = read_entry(verb, body, link.studio)
    try:
        record(_kept_as_said(verb, link, saying, now), read, body, visitor=visitor,
               clock=Clock(now))  # fmt: skip
    except EntryUsed:
        return  # The same form was sent twice at once; the other one was first.


def _id(link: SourceLink, saying: Saying) -> UUID:
    """The same for the same form with the same words, and nobody else's."""
    said = (saying.form, saying.gives, saying.at.isoformat(), saying.amount, saying.word)
    return uuid5(uuid5(OURS, link.digest), "\n".join(said))


def _fields(link: SourceLink, saying: Saying) -> dict[str, Any]:
    said: dict[str, Any] = {
        "source": link.source.name,
        "gives": saying.gives,
        "note": saying.word,
    }
    if not saying.amount:
        return {**said, "due_at": saying.at.isoformat()}
    goes = where_it_goes(link.studio, source=link.source.name, gives=saying.gives, at=saying.at)
    place: Mapping[str, str] = {"kind": goes.place.kind, "code": goes.place.code}
    return {
        **said,
        "lot": goes.lot,
        "place": {name: text for name, text in place.items() if text},
        "amount": saying.amount,
        "comes_at": saying.at.isoformat(),
    }


def _kept_as_said(verb: Verb, link: SourceLink, saying: Saying, now: datetime) -> Verb:
    """The verb, which in its own transaction also keeps what was written."""

    def run(asked: Asked) -> Kept:
        kept = verb.run(asked)
        SourceWord.objects.of(link.studio).create(
            link=link,
            entry=asked.entry,
            gives=saying.gives,
            due_at=saying.at,
            amount=saying.amount,
            word=saying.word,
            said_at=now,
        )
        return kept

    return replace(verb, run=run)
