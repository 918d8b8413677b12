"""Pick-ups: reported by a source, made, or missed; amounts go through the ledger."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import transaction

from inventory import ledger
from inventory.draft import number_of
from inventory.entries import NewLot, Place, Weighed
from inventory.errors import NotKept, NoZone
from inventory.hindrance import said_in_words
from inventory.models import Dyestuff, Posting, Studio
from inventory.posting import Posted
from inventory.said import check_at, check_entry, check_row, check_said
from inventory.science.catalogue import with_shipped
from inventory.science.saying import say
from inventory.science.seasons import check_valid_days
from inventory.shelves import figures_of
from sourcing.arrivals import permission_in_words
from sourcing.errors import CutLater, NestCheckElsewhen, NoAmount, NoNestCheck, NoPieceMass
from sourcing.models import Agreement, PickUp, Source
from sourcing.nests import Cut, NestCheck, may_ask
from sourcing.outlook import where_is
from sourcing.sources import find_source


@said_in_words()
def record_pickup(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    source: str,
    gives: str,
    lot: str,
    place: Place,
    weight: int | Weighed | None = None,
    pieces: int | None = None,
    state: str = "fresh",
    note: str = "",
    cut_on: date | None = None,
    nests: NestCheck | None = None,
) -> Posted:
    """A hand-over that was made: a new lot on the shelf, and the pick-up that brought it.

    One that the source had reported for that day becomes the one that was made.

    Parameters
    ----------
    cut_on : day on which it was cut; None: the day of the hand-over
    nests : who looked the hedge or tree over for nests, and when; asked for in the nesting season

    Raises
    ------
    CutLater, NoNestCheck, NestCheckElsewhen
        If it was cut after it came; if it was cut in the nesting season and nobody looked for
        nests, or looked too early or afterwards.
    NoAmount
        If it was neither weighed nor counted, or both.
    NoPieceMass
        If it was counted and nobody knows what a piece weighs.
    """
    check_entry(entry, at)
    said = {"at": at, "source": source, "gives": gives, "lot": lot, "place": place}
    check_said({**said, "nests": nests})
    giver = find_source(studio, source)
    new = _lot(studio, giver, gives, lot, place, state, at)
    cut = Cut(gives, _cut_on(studio, gives, at, cut_on), where_is(studio), giver.kind)
    with transaction.atomic():
        row = _of_the_day(studio, giver, gives, at)
        nests = _nests_looked_for(studio, cut, nests or said_of(row))
        new = replace(new, gathered_on=cut.on, nest_checked=True if nests else None)
        if pieces is None and weight is not None:
            amount: dict[str, Any] = {"amount": weight}
            posted = ledger.receive(studio, entry=entry, at=at, lot=new, note=note, **amount)
        elif pieces is not None and weight is None:
            piece_mg = piece_mass_mg(studio, gives, at=at)
            counted: dict[str, Any] = {"pieces": pieces, "piece_mg": piece_mg}
            posted = ledger.receive_count(studio, entry=entry, at=at, lot=new, note=note, **counted)
        else:
            raise NoAmount
        if not posted.again:
            row.at, row.how, row.state = at, "made", state
            _note_nests(row, nests)
            row.weight_mg = None if pieces is not None else posted.moved[0].amount
            row.pieces, row.lot_code = pieces, lot
            row.place, row.place_kind = place.code or place.kind, place.kind
            row.posting = Posting.objects.of(studio).get(entry=entry)
            check_row(row)
            row.save()
    return posted


@said_in_words()
def report_pickup(
    studio: Studio,
    *,
    at: datetime,
    source: str,
    gives: str,
    lot: str,
    place: Place,
    weight_mg: int | None = None,
    pieces: int | None = None,
    nests: NestCheck | None = None,
    note: str | None = None,
) -> PickUp:
    """A hand-over that the source has said it will make; said again, the last word holds.

    A look for nests or a note that was said before stays until another is said.
    """
    if (weight_mg is None) == (pieces is None):
        raise NoAmount
    check_at(at)
    said = {"at": at, "source": source, "gives": gives, "lot": lot, "place": place}
    check_said({**said, "nests": nests, "note": note or ""})
    for amount in (weight_mg, pieces):
        if amount is not None:
            number_of(amount, least=1)
    giver = find_source(studio, source)
    with transaction.atomic():
        row = _of_the_day(studio, giver, gives, at)
        if row.how == "made":
            return row  # it has come meanwhile
        row.at, row.how, row.lot_code = at, "reported", lot
        row.weight_mg, row.pieces = weight_mg, pieces
        row.place, row.place_kind = place.code or place.kind, place.kind
        row.note = row.note if note is None else note
        if nests is not None:
            cut = Cut(gives, _day_of(studio, at), where_is(studio), giver.kind)
            _note_nests(row, _nests_looked_for(studio, cut, nests))
        check_row(row)
        row.save()
    return row


@said_in_words()
def miss_pickup(
    studio: Studio, *, at: datetime, source: str, gives: str, note: str | None = None
) -> PickUp:
    """A hand-over that did not happen, or will not: it counts as none.

    A note that was said before stays until another is said.
    """
    check_at(at)
    check_said({"at": at, "source": source, "gives": gives, "note": note or ""})
    giver = find_source(studio, source)
    with transaction.atomic():
        row = _of_the_day(studio, giver, gives, at)
        if row.how == "made":
            return row
        row.at, row.how, row.lot_code = at, "missed", ""
        row.weight_mg = row.pieces = None
        row.note = row.note if note is None else note
        check_row(row)
        row.save()
    return row


def piece_mass_mg(studio: Studio, dyestuff: str, *, at: datetime) -> int:
    """What one piece weighs on that day, by the studio's own figure or the shipped one."""
    figures = with_shipped(figures_of(studio))
    found = figures.find(dyestuff, "piece_mass_g", on=_day_of(studio, at))
    if found is None:
        raise NoPieceMass(dyestuff)
    return int(found.value * 1000)


def said_of(row: PickUp) -> NestCheck | None:
    """The look for nests that a pick-up has on record."""
    return NestCheck(row.nests_by, row.nests_on) if row.nests_on is not None else None


def _nests_looked_for(studio: Studio, cut: Cut, check: NestCheck | None) -> NestCheck | None:
    """The look for nests that a cut is kept with; refused where one is asked for and missing."""
    if check is not None and not check.by.strip():
        raise NotKept(say("nests looked for by"), check.by, "is empty", say("Say who looked."))
    if check is None and not may_ask(cut.gives, cut.kind):
        return None
    figures = with_shipped(figures_of(studio))
    season = cut.asks(figures)
    if season is None:
        return check
    if check is None:
        raise NoNestCheck(gives=cut.gives, cut_on=cut.on, season=season.said)
    if not cut.counts(check, figures):
        days = int(check_valid_days(figures, on=cut.on).value)
        raise NestCheckElsewhen(gives=cut.gives, cut_on=cut.on, looked_on=check.on, days=days)
    return check


def _note_nests(row: PickUp, check: NestCheck | None) -> None:
    row.nests_by = check.by.strip() if check is not None else ""
    row.nests_on = check.on if check is not None else None


def _cut_on(studio: Studio, gives: str, at: datetime, cut_on: date | None) -> date:
    came = _day_of(studio, at)
    if cut_on is not None and cut_on > came:
        raise CutLater(gives=gives, cut_on=cut_on, came_on=came)
    return cut_on or came


def _day_of(studio: Studio, at: datetime) -> date:
    if at.tzinfo is None:
        raise NoZone(at)
    return at.astimezone(ZoneInfo(studio.zone)).date()


def _lot(
    studio: Studio,
    source: Source,
    gives: str,
    code: str,
    place: Place,
    state: str,
    at: datetime,
) -> NewLot:
    """The lot that a pick-up becomes, with the leave it was gathered by."""
    stuff = Dyestuff.objects.of(studio).filter(name=gives).first()
    foraged = stuff is not None and stuff.foraged
    leave = Agreement.objects.of(studio).filter(source=source, gives=gives).first()
    said = permission_in_words(leave.permission_by, leave.permission_on) if leave else ""
    return NewLot(
        code=code,
        what=gives,
        state=state,
        place=place,
        source=source.name,
        gathered_on=_day_of(studio, at),
        permission=said if foraged else "",
        foraged=foraged,
    )


def _of_the_day(studio: Studio, source: Source, gives: str, at: datetime) -> PickUp:
    """The pick-up noted for that day already, unless it was made; else a new one."""
    day, zone = _day_of(studio, at), ZoneInfo(studio.zone)
    rows = PickUp.objects.of(studio).filter(source=source, gives=gives)
    for row in rows.select_for_update().exclude(how="made"):
        if row.at.astimezone(zone).date() == day:
            return row
    same = rows.filter(at=at).first()
    return same or PickUp(studio=studio, source=source, gives=gives)
