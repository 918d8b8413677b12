"""Clean tubs: left with a source, fetched back, lost; how many stand where follows from that."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from itertools import accumulate
from uuid import UUID

from django.db import transaction
from django.db.models import F

from inventory.errors import EntryUsed, NotKept
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.said import check_entry, check_row, check_said
from inventory.science.saying import say
from sourcing.errors import TubsNotThere, TubsSaidBefore
from sourcing.models import Source, TubMove
from sourcing.sources import find_source

TUBS_AT_MOST = 500  # in one move
SIGN = {"left": 1, "fetched": -1, "lost": -1}


@dataclass(frozen=True, slots=True)
class Tubs:
    """What an entry said of tubs, and how many stand with the source after all that is written."""

    source: str
    standing: int
    again: bool = False  # said before; nothing was written


def leave_tubs(
    studio: Studio, *, entry: UUID, at: datetime, source: str, tubs: int, note: str = ""
) -> Tubs:
    """Clean tubs left with a source."""
    return move_tubs(studio, entry=entry, at=at, source=source, how="left", tubs=tubs, note=note)


def fetch_tubs(
    studio: Studio, *, entry: UUID, at: datetime, source: str, tubs: int, note: str = ""
) -> Tubs:
    """Tubs that came back, full or empty."""
    return move_tubs(studio, entry=entry, at=at, source=source, how="fetched", tubs=tubs, note=note)


def lose_tubs(
    studio: Studio, *, entry: UUID, at: datetime, source: str, tubs: int, note: str = ""
) -> Tubs:
    """Tubs that will not come back: broken, binned or gone."""
    return move_tubs(studio, entry=entry, at=at, source=source, how="lost", tubs=tubs, note=note)


@said_in_words()
def move_tubs(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    source: str,
    how: str,
    tubs: int,
    note: str = "",
) -> Tubs:
    """One move of tubs.

    Parameters
    ----------
    how : `left`, `fetched` or `lost`
    tubs : 1 to 500

    Raises
    ------
    TubsNotThere
        If fewer stood there then, or later entries would find too few.
    TubsSaidBefore
        If another number is on record for this very moment.
    EntryUsed
        If the entry was used for something else.
    """
    check_entry(entry, at)
    check_said({"at": at, "source": source, "note": note})
    if how not in SIGN:
        raise NotKept("tubs", how, say("is not known here"), say("Say left, fetched or lost."))
    if isinstance(tubs, bool) or not isinstance(tubs, int) or not 1 <= tubs <= TUBS_AT_MOST:
        wanted = say("Give a whole number from 1 to {tubs_at_most}.", tubs_at_most=TUBS_AT_MOST)
        raise NotKept("tubs", tubs, "cannot be", wanted)
    with transaction.atomic():
        # The source's row is held, so that two hands cannot fetch the same tub.
        giver = find_source(studio, source, to_change=True)
        row = TubMove(
            studio=studio, source=giver, at=at, how=how, tubs=tubs, entry=entry, note=note
        )
        check_row(row)
        if _said_before(studio, row):
            return Tubs(source, giver.tubs_there, again=True)
        if how != "left":
            _check_there(studio, row, standing=giver.tubs_there)
        row.save(force_insert=True)
        Source.objects.of(studio).filter(pk=giver.pk).update(
            tubs_there=F("tubs_there") + SIGN[how] * tubs
        )
    return Tubs(source, giver.tubs_there + SIGN[how] * tubs)


def least_from(standing: int, later: Iterable[int]) -> int:
    """The fewest tubs that stand there from a moment on.

    Parameters
    ----------
    standing : at that moment
    later : what every later move adds, below 0 for one that takes; in the order of their moments

    Examples
    --------
    >>> least_from(4, [-1, -2, 5]), least_from(4, [])
    (1, 4)
    """
    return min(accumulate(later, initial=standing))


def _check_there(studio: Studio, row: TubMove, *, standing: int) -> None:
    """Refuse to take more than stood there then, or than later entries leave."""
    moved = TubMove.objects.of(studio).filter(source_id=row.source_id, at__gt=row.at)
    # What is left at a moment is there for what is fetched at the same one.
    rows = moved.order_by().values_list("at", "how", "tubs")
    after = [SIGN[how] * tubs for _, how, tubs in sorted(rows, key=_left_first)]
    there = least_from(standing - sum(after), after)
    if there < row.tubs:
        name = row.source.name
        raise TubsNotThere(source=name, asked=row.tubs, there=there, at=row.at)


def _left_first(move: tuple[datetime, str, int]) -> tuple[datetime, bool]:
    return move[0], move[1] != "left"


def _said_before(studio: Studio, row: TubMove) -> bool:
    """Whether this very move is on record; another one under its id or its moment is refused."""
    rows = TubMove.objects.of(studio)
    same_id = rows.filter(entry=row.entry).first()
    if same_id is not None:
        if _told(same_id) != _told(row):
            raise EntryUsed(entry=row.entry, kind=say("tubs {how}", how=same_id.how), at=same_id.at)
        return True
    here = rows.filter(source_id=row.source_id, at=row.at, how=row.how).first()
    if here is not None and here.tubs != row.tubs:
        raise TubsSaidBefore(at=row.at, how=row.how, tubs=here.tubs)
    return here is not None


def _told(row: TubMove) -> tuple[object, ...]:
    return (row.source_id, row.at, row.how, row.tubs, row.note)
