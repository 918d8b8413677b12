"""Readers of reminders: who is written to about what; what they stop and take up again."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date, datetime, time
from typing import Any, cast
from uuid import UUID, uuid5

from django.db import transaction
from django.db.models import QuerySet

from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.said import check_at, check_row, check_said
from inventory.science.saying import say
from sourcing.errors import (
    NoAddress,
    NoAgreement,
    NoHours,
    NoLeaveToWrite,
    NoSuchReader,
    NoSuchSource,
    NotForReader,
    ReaderTaken,
    TooManyReaders,
)
from sourcing.gather import Cells
from sourcing.models import Agreement, Reader, ReaderSaid, Source
from sourcing.models.reminders import COLUMN_OF, MARKS, WANTS
from sourcing.reminding.address import is_address
from sourcing.reminding.facts import (
    ALL,
    BEGUN,
    KINDS,
    MOST_READERS,
    OF_A_SOURCE,
    STOPPED,
    Kind,
    Quiet,
    Wish,
)

MOST_COPIES = 20  # of one studio, kept under other names in one database
OF_A_PERSON = tuple(kind for kind in KINDS if kind != OF_A_SOURCE)


@said_in_words()
def add_reader(
    studio: Studio,
    *,
    name: str,
    address: str,
    kinds: Collection[str],
    since: date,
    sheet_at: time | None = None,
    quiet: Quiet | None = None,
    source: str = "",
    leave_by: str = "",
    leave_on: date | None = None,
    note: str = "",
) -> Reader:
    """Somebody who is written to from a day on; a source only of the day before its pick-ups.

    Parameters
    ----------
    kinds : what is wanted, at least one of `KINDS`
    sheet_at : hour of the morning sheet on the studio's wall; needed by whoever wants it
    leave_by, leave_on : who said when that a source may be written to

    Raises
    ------
    NoAddress, NotForReader, NoHours, NoLeaveToWrite, NoAgreement, NoSuchSource
        If the letters could not be sent, or must not.
    ReaderTaken, TooManyReaders
        If name, address or source is written to already, or the studio has as many as it may.
    """
    check_said({"name": name, "address": address, "source": source, "note": note})
    check_said({"leave by": leave_by})
    with transaction.atomic():
        row = Reader(
            studio=studio,
            name=name,
            address=mail_address(address),
            since=since,
            source=_source(studio, source),
            leave_by=leave_by,
            leave_on=leave_on,
            mark=mark_of(studio.name, name),
            note=note,
        )
        _wants(row, kinds, sheet_at, quiet)
        _free(studio, row)
        check_row(row)
        row.save(force_insert=True)
    return row


@said_in_words()
def change_reader(
    studio: Studio,
    *,
    reader: str,
    kinds: Collection[str],
    sheet_at: time | None = None,
    quiet: Quiet | None = None,
) -> Reader:
    """What a reader wants from now on, in place of what was wanted; what was stopped stays so."""
    with transaction.atomic():
        row = _reader(studio, reader)
        _wants(row, kinds, sheet_at, quiet)
        row.save(update_fields=[*WANTS, "sheet_at", "quiet_from", "quiet_until"])
    return row


@said_in_words()
def readdress(studio: Studio, *, reader: str, address: str) -> Reader:
    """A reader's new address; what goes to the old one is let go.

    Raises
    ------
    NoAddress, ReaderTaken, NoSuchReader
        If no letter reaches it, somebody else has it, or nobody has the name.
    """
    to = mail_address(address)
    with transaction.atomic():
        row = _reader(studio, reader)
        row.address = to
        _free_address(studio, row)
        row.save(update_fields=["address"])
    return row


@said_in_words()
def stop_reminders(studio: Studio, *, reader: str, kind: str, at: datetime) -> bool:
    """A reader wants no more letters of a kind, or of `all`; whether that was news."""
    return _say(studio, reader, kind, STOPPED, at)


@said_in_words()
def begin_reminders(studio: Studio, *, reader: str, kind: str, at: datetime) -> bool:
    """A reader takes up again what was stopped; whether that was news."""
    return _say(studio, reader, kind, BEGUN, at)


def wishes_of(studio: Studio) -> tuple[Wish, ...]:
    """Every reader with what is wanted and what was stopped, by name."""
    rows = Reader.objects.of(studio).select_related("source").order_by("name")[:MOST_READERS]
    said = _said(studio)
    return tuple(wish_of(row, said.get(row.pk, ())) for row in rows)


def reader_queries(studio: Studio) -> dict[str, QuerySet[Any]]:
    """The tables that wishes are read from, for `gather`."""
    return {
        "readers": Reader.objects.of(studio),
        "readers_said": ReaderSaid.objects.of(studio),
        "readers_sources": Source.objects.of(studio).filter(
            pk__in=Reader.objects.of(studio).values("source")
        ),
    }


def wishes_in(rows: Mapping[str, Sequence[Cells]]) -> tuple[Wish, ...]:
    """Wishes from gathered rows, as `wishes_of` reads them."""
    sources = {row["id"]: row["name"] for row in rows["readers_sources"]}
    said: dict[int, list[tuple[str, str]]] = {}
    for row in sorted(rows["readers_said"], key=lambda row: (row["at"], row["id"])):
        said.setdefault(row["reader_id"], []).append((row["kind"], row["what"]))
    readers = sorted(rows["readers"], key=lambda row: row["name"])[:MOST_READERS]
    return tuple(
        _wish(row, sources.get(row["source_id"], ""), said.get(row["id"], ())) for row in readers
    )


def readers_marked(mark: UUID) -> tuple[tuple[Studio, Wish], ...]:
    """Whoever goes by a mark, with the studio: one, or one in each copy that is kept here."""
    rows = Reader._base_manager.filter(mark=mark).select_related("studio", "source")
    found = []
    for row in rows.order_by("pk")[:MOST_COPIES]:
        said = _said(row.studio, row).get(row.pk, ())
        found.append((row.studio, wish_of(row, said)))
    return tuple(found)


def wish_of(row: Reader, said: Iterable[tuple[str, str]]) -> Wish:
    """One reader with what was said since, in the order in which it was said."""
    return _wish(vars(row), row.source.name if row.source is not None else "", said)


def _wish(row: Cells, source: str, said: Iterable[tuple[str, str]]) -> Wish:
    quiet = None
    if row["quiet_from"] is not None and row["quiet_until"] is not None:
        quiet = Quiet(row["quiet_from"], row["quiet_until"])
    return Wish(
        reader=row["name"],
        mark=row["mark"],
        address=row["address"],
        kinds=tuple(kind for kind in KINDS if row[COLUMN_OF[kind]]),
        since=row["since"],
        sheet_at=row["sheet_at"],
        quiet=quiet,
        source=source,
        stopped=stopped_after(said),
    )


def stopped_after(said: Iterable[tuple[str, str]]) -> frozenset[Kind]:
    """The kinds that are stopped after words of kind and what, in their order; the last holds.

    >>> sorted(stopped_after([("all", "stopped"), ("dip", "begun again")]))[:2]
    ['day before', 'last good day']
    """
    stopped: set[Kind] = set()
    for kind, what in said:
        kinds = set(KINDS) if kind == ALL else {cast("Kind", kind)}
        stopped = stopped | kinds if what == STOPPED else stopped - kinds
    return frozenset(stopped)


def mark_of(studio: str, reader: str) -> UUID:
    """What a reader goes by in keys and stop addresses: the same wherever the studio is kept."""
    return uuid5(MARKS, f"{studio}\x1f{reader}")


def mail_address(text: str) -> str:
    """An e-mail address as it is written to.

    Raises
    ------
    NoAddress
        If it is none, or one that not every mail server takes.
    """
    address = text.strip()
    if not is_address(address):
        raise NoAddress(text)
    return address


def _wants(row: Reader, kinds: Collection[str], sheet_at: time | None, quiet: Quiet | None) -> None:
    """Write down what is wanted, if it is for this reader."""
    may = (OF_A_SOURCE,) if row.source is not None else OF_A_PERSON
    strange = tuple(kind for kind in kinds if kind not in may)
    if strange or not kinds:
        raise NotForReader(reader=row.name, asked=strange, may=may)
    if "morning sheet" in kinds and sheet_at is None:
        wanted = say("Say at which hour it goes.")
        raise NoHours(reader=row.name, what=say("the morning sheet has no hour"), wanted=wanted)
    since, until = (None, None) if quiet is None else (_minute(quiet.since), _minute(quiet.until))
    if quiet is not None and since == until:
        wanted = say("Leave an hour in which letters may go.")
        raise NoHours(reader=row.name, what=say("quiet hours begin when they end"), wanted=wanted)
    for kind, column in COLUMN_OF.items():
        setattr(row, column, kind in kinds)
    row.sheet_at = None if sheet_at is None else _minute(sheet_at)
    row.quiet_from, row.quiet_until = since, until


def _minute(clock: time) -> time:
    return clock.replace(second=0, microsecond=0)


def _source(studio: Studio, name: str) -> Source | None:
    if not name:
        return None
    found = Source.objects.of(studio).filter(name=name).first()
    if found is None:
        raise NoSuchSource(name)
    return found


def _free(studio: Studio, row: Reader) -> None:
    """Refuse a name, an address or a source that is written to; a source without agreement."""
    rows = Reader.objects.of(studio)
    if row.source is not None:
        if not Agreement.objects.of(studio).filter(source=row.source).exists():
            raise NoAgreement(row.source.name)
        if not row.leave_by.strip() or row.leave_on is None:
            raise NoLeaveToWrite(row.source.name)
        same = rows.filter(source=row.source).first()
        if same is not None:
            raise ReaderTaken(what=row.source.name, reader=same.name)
    _free_address(studio, row)
    if rows.filter(name=row.name).exists():
        raise ReaderTaken(what=row.name, reader=row.name)
    if rows.count() >= MOST_READERS:
        raise TooManyReaders(MOST_READERS)


def _free_address(studio: Studio, row: Reader) -> None:
    """Refuse the address of another person; a source may share one with its owner."""
    if row.source_id is None:
        people = Reader.objects.of(studio).filter(source__isnull=True).exclude(pk=row.pk)
        same = people.filter(address__iexact=row.address).first()
        if same is not None:
            raise ReaderTaken(what=row.address, reader=same.name)


def _reader(studio: Studio, name: str) -> Reader:
    found = Reader.objects.of(studio).select_for_update().filter(name=name).first()
    if found is None:
        raise NoSuchReader(name)
    return found


def _say(studio: Studio, reader: str, kind: str, what: str, at: datetime) -> bool:
    """Write down a word of a reader, unless it changes nothing."""
    check_at(at)
    check_said({"at": at, "reader": reader, "kind": kind})
    if kind not in (*KINDS, ALL):
        raise NotForReader(reader=reader, asked=(kind,), may=(*KINDS, ALL))
    with transaction.atomic():
        row = _reader(studio, reader)
        before = _said(studio, row).get(row.pk, [])
        if stopped_after([*before, (kind, what)]) == stopped_after(before):
            return False
        words = ReaderSaid(studio=studio, reader=row, kind=kind, what=what, at=at)
        check_row(words)
        words.save(force_insert=True)
    return True


def _said(studio: Studio, reader: Reader | None = None) -> dict[int, list[tuple[str, str]]]:
    """What readers have said, the earliest first; a notebook may bring an older word later."""
    rows = ReaderSaid.objects.of(studio)
    if reader is not None:
        rows = rows.filter(reader=reader)
    found: dict[int, list[tuple[str, str]]] = {}
    for key, kind, what in rows.order_by("at", "id").values_list("reader_id", "kind", "what"):
        found.setdefault(key, []).append((kind, what))
    return found
