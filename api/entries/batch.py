"""Many entries at once, as a phone sends them that was without a signal: in any order, each alone.

They are recorded in the order in which they happened. One that names what an entry after it makes
is tried again once that one is there. What the shelves refuse is kept with its reason and needs a
look, so that nothing of a day's work is dropped.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from rest_framework.exceptions import ValidationError

from api.entries.allowed import must
from api.entries.clock import Clock, happened
from api.entries.errors import NoSuchVerb, StillRecording
from api.entries.reading import Read, read_entry
from api.entries.record import Answered, digest_said, find, first_answer, record, row_of
from api.entries.registry import VERBS
from api.entries.verb import Verb
from api.models.entries import NEEDS_A_LOOK
from api.rest.fields import FieldsUnclear
from api.rest.problem_of import problem_of
from api.rights import NoRight
from api.visitor import Visitor
from inventory.errors import EntryUsed, LarderError, NotNow
from inventory.science.figures import NoFigure

AT_MOST = 200  # entries of one batch
# What is not kept: it was never an entry of ours, or it is answered under its id already.
NOT_KEPT = (EntryUsed, StillRecording, NotNow, NoSuchVerb)


@dataclass(frozen=True, slots=True)
class Item:
    """One entry of a batch on its way: where it stands, and as far as it was read."""

    place: int
    body: Mapping[str, Any]
    verb: Verb
    read: Read


@dataclass(frozen=True, slots=True)
class Refused:
    """Why an entry of a batch was not recorded and not kept either."""

    problem: Mapping[str, Any]


Outcome = Answered | Refused


def record_all(
    bodies: Sequence[Mapping[str, Any]], *, visitor: Visitor, clock: Clock
) -> list[Outcome]:
    """Each entry's own answer, in the order in which they were sent."""
    answers: dict[int, Outcome] = {}
    waiting: list[Item] = []
    for place, body in enumerate(bodies):
        try:
            waiting.append(_item(place, body, visitor))
        except (ValidationError, FieldsUnclear, NoSuchVerb, NoRight) as wrong:
            answers[place] = Refused(problem_of(wrong))
    waiting.sort(key=lambda item: (item.read.said_at, item.place))
    while waiting:
        answered, waiting = _round(waiting, visitor, clock, last=False)
        if not answered:
            answered, waiting = _round(waiting, visitor, clock, last=True)
        answers |= answered
    return [answers[place] for place in range(len(bodies))]


def _round(
    items: Sequence[Item], visitor: Visitor, clock: Clock, *, last: bool
) -> tuple[dict[int, Outcome], list[Item]]:
    """Each item tried once; what was answered, and what waits for another round."""
    answered: dict[int, Outcome] = {}
    waiting: list[Item] = []
    for item in items:
        try:
            answered[item.place] = record(
                item.verb, item.read, item.body, visitor=visitor, clock=clock
            )
        except NOT_KEPT as wrong:
            answered[item.place] = Refused(problem_of(wrong))
        except (LarderError, NoFigure, FieldsUnclear) as refusal:
            if last:
                answered[item.place] = keep(item, refusal, visitor=visitor, clock=clock)
            else:
                waiting.append(item)
    return answered, waiting


def keep(item: Item, refusal: Exception, *, visitor: Visitor, clock: Clock) -> Outcome:
    """An entry that the shelves refused, kept with the reason until somebody has looked at it."""
    when = happened(item.read.said_at, clock)
    answer = {"problem": problem_of(refusal), "understood": list(item.read.understood)}
    row = row_of(
        item.verb,
        item.read,
        item.body,
        visitor=visitor,
        when=when,
        state=NEEDS_A_LOOK,
        answer=answer,
    )
    with transaction.atomic():
        found = find(visitor, item.read.entry)
        if found is not None:
            try:
                return first_answer(found, digest_said(item.verb, item.body))
            except EntryUsed as used:
                return Refused(problem_of(used))
        row.save(force_insert=True)
        row.refresh_from_db(fields=["recorded_at"])
    return Answered(row, again=False)


def _item(place: int, body: Mapping[str, Any], visitor: Visitor) -> Item:
    name = body.get("verb")
    verb = VERBS.get(name) if isinstance(name, str) else None
    if verb is None:
        raise NoSuchVerb(str(name))
    must(visitor, verb.least)
    said = {key: value for key, value in body.items() if key != "verb"}
    return Item(place, said, verb, read_entry(verb, said, visitor.studio))
