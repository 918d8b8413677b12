"""From what a form sent to the body of an entry, the same that a program would send.

What nobody had to say (the moment, a code for a new lot) is made here. Sent again, a form finds
what was made the first time, so that its body is the same and it counts once.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from types import MappingProxyType
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from api.asked import Unreadable, moment_asked
from api.entries.record import find
from api.models.entries import Entry
from api.rest.fields import FieldsUnclear
from api.tongue.customs import custom_of
from api.visitor import Visitor
from api.web.note.ask import Body, Fields, Number, Warmth
from api.web.note.form import Filling, Form
from inventory.models import Studio
from inventory.science.measures import read_temperature
from inventory.science.saying import say
from inventory.science.unclear import TwoReadings, Unclear

NOTHING: Mapping[str, Any] = MappingProxyType({})
LOST_ID = say("This form has lost its number. Open it again and write it once more.")


@dataclass(frozen=True, slots=True)
class Written:
    """The body of an entry, and which of its fields were made here."""

    body: Body
    made: tuple[str, ...]


def body_of(
    form: Form, fields: Fields, visitor: Visitor, *, now: datetime, taken: Collection[str] = ()
) -> Written:
    """The body of what a form says.

    Parameters
    ----------
    now : our clock, for a form that says no moment
    taken : codes that were given away in the same batch

    Raises
    ------
    FieldsUnclear
        If the form has no number of its own, or its moment cannot be read.
    LarderError
        If something that is to be made cannot be.
    """
    entry = _number(fields)
    found = find(visitor, entry)
    occurred_at = moment_of(fields, found, now)
    at = _read(occurred_at, ZoneInfo(visitor.studio.zone))
    before: Mapping[str, Any] = {} if found is None else found.said
    written = filled(form, form.said(fields), fields, visitor, at=at, taken=taken, before=before)
    return Written({"id": str(entry), "occurred_at": occurred_at, **written.body}, written.made)


def filled(
    form: Form,
    body: Body,
    fields: Fields,
    visitor: Visitor,
    *,
    at: datetime,
    taken: Collection[str] = (),
    before: Mapping[str, Any] = NOTHING,
) -> Written:
    """A body with what nobody had to say.

    Parameters
    ----------
    before : what was said under the same number before; what was made then is taken again

    Raises
    ------
    FieldsUnclear
        If a plain number means either of two.
    """
    _check_numbers(form, fields, visitor.studio)
    made = []
    for name, fill in form.fills.items():
        if name in body:
            continue
        filling = Filling(visitor.studio, at, fields, taken)
        value = before[name] if name in before else fill(body, filling)
        if value not in (None, "", []):
            body[name] = value
            made.append(name)
    return Written(body, tuple(made))


def _check_numbers(form: Form, fields: Fields, studio: Studio) -> None:
    """Refuse plain numbers that may be read in two ways by how the studio or the reader writes."""
    custom = custom_of(studio)
    for ask in form.questions:
        if not isinstance(ask, Number):
            continue
        try:
            custom.check_marks(fields.get(ask.name, ""))
        except TwoReadings as wrong:
            raise FieldsUnclear([(f"/{ask.name}", str(wrong))]) from None
        if isinstance(ask, Warmth):
            _check_warmth(ask, fields)


def _check_warmth(ask: Warmth, fields: Fields) -> None:
    """Refuse a warmth that cannot be read, by what was written."""
    text = ask.written(fields)
    try:
        if text:
            read_temperature(text)
    except Unclear as wrong:
        raise FieldsUnclear([(f"/{ask.name}", str(wrong))]) from None


def moment_of(fields: Fields, found: Entry | None, now: datetime) -> str:
    """When it happened: as somebody wrote, as the phone says, as it came first, or now."""
    said = fields.get("when") or fields.get("occurred_at")
    if said:
        return said
    return (now if found is None else found.said_at).astimezone(UTC).isoformat(timespec="seconds")


def _number(fields: Fields) -> UUID:
    try:
        return UUID(fields.get("id", ""))
    except ValueError:
        raise FieldsUnclear([("/id", LOST_ID)]) from None


def _read(text: str, zone: ZoneInfo) -> datetime:
    try:
        return moment_asked(text, zone)
    except Unreadable as wrong:
        raise FieldsUnclear([("/occurred_at", wrong.detail)]) from None
