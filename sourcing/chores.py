"""Chores as they are done: the last word on each holds, and nothing that was said is changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import transaction
from django.db.models import QuerySet

from inventory.errors import EntryUsed
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.said import check_entry, check_row, check_said
from sourcing.errors import ChoreIsDone, ChoreStillToDo, NoSuchChore
from sourcing.gather import Cells
from sourcing.models import Chore, ChoreDone
from sourcing.week import facts

WHOLE_MINUTE = timedelta(minutes=1)
AT_MOST = 60


@said_in_words()
def chore_done(
    studio: Studio, *, entry: UUID, at: datetime, day: date, what: str, note: str = ""
) -> ChoreDone:
    """A chore of a day done; it posts nothing, what became of a lot is an entry of its own.

    Parameters
    ----------
    day, what : the chore as the studio's list of chores has it

    Raises
    ------
    NoSuchChore
        If no chore of that day is called so; the message names those there are.
    ChoreIsDone
        If somebody said so before.
    """
    return _say(studio, done=True, entry=entry, at=at, day=day, what=what, note=note)


@said_in_words()
def chore_not_done(
    studio: Studio, *, entry: UUID, at: datetime, day: date, what: str, note: str = ""
) -> ChoreDone:
    """A chore not done after all: it stands among what is left to do again.

    Raises
    ------
    NoSuchChore
        If no chore of that day is called so.
    ChoreStillToDo
        If nobody said that it is done.
    """
    return _say(studio, done=False, entry=entry, at=at, day=day, what=what, note=note)


def words_of_chores(studio: Studio) -> QuerySet[ChoreDone]:
    """What was said of chores, in no order."""
    return ChoreDone.objects.of(studio).order_by()


def last_word(studio: Studio, *, day: date, what: str) -> ChoreDone | None:
    """What was said last of a chore; None: nothing was."""
    return words_of_chores(studio).filter(day=day, what=what).order_by("id").last()


def chores_done(studio: Studio) -> dict[tuple[date, str], datetime]:
    """When chores were done, by day and name, by the last word on each."""
    return _done_at(list(words_of_chores(studio).values("id", "day", "what", "done", "at")))


def chores_in(
    rows: Mapping[str, Sequence[Cells]], zone: ZoneInfo, *, at: datetime
) -> tuple[facts.Chore, ...]:
    """Chores by day and name, with when each was done as far as anybody had said so by a moment.

    Parameters
    ----------
    rows : `chores` and what was said of them, `chores_done`
    at : aware; the whole minute is its own
    """
    done = _done_at(rows["chores_done"], until=at + WHOLE_MINUTE)
    wanted = sorted(rows["chores"], key=lambda row: (row["day"], row["what"]))
    return tuple(
        facts.Chore(
            day=row["day"],
            what=row["what"],
            hands_min=row["hands_min"],
            clears=row["clears"],
            at=_local(row["at"], zone),
            done_at=_local(done.get((row["day"], row["what"])), zone),
        )
        for row in wanted
    )


def chores_between(
    studio: Studio, first: date, last: date, *, at: datetime
) -> tuple[facts.Chore, ...]:
    """The chores of some days, both ends among them, so many as a list can hold."""
    days = {"day__gte": first, "day__lte": last}
    rows = Chore.objects.of(studio).filter(**days).order_by("day", "what")[:AT_MOST]
    found: dict[str, Sequence[Cells]] = {
        "chores": list(rows.values("day", "what", "hands_min", "clears", "at")),
        "chores_done": list(words_of_chores(studio).filter(**days).values()),
    }
    return chores_in(found, ZoneInfo(studio.zone), at=at)


def _done_at(
    rows: Sequence[Cells], *, until: datetime | None = None
) -> dict[tuple[date, str], datetime]:
    """When chores were done by the last word on each, of those before a moment."""
    found: dict[tuple[date, str], datetime] = {}
    for row in sorted(rows, key=lambda row: int(row["id"])):
        if until is None or row["at"] < until:
            key = row["day"], row["what"]
            found.pop(key, None)
            if row["done"]:
                found[key] = row["at"]
    return found


def _local(at: datetime | None, zone: ZoneInfo) -> datetime | None:
    return None if at is None else at.astimezone(zone)


def _say(
    studio: Studio, *, done: bool, entry: UUID, at: datetime, day: date, what: str, note: str
) -> ChoreDone:
    check_entry(entry, at)
    check_said({"at": at, "what": what, "note": note})
    made = ChoreDone(studio=studio, entry=entry, at=at, day=day, what=what, done=done, note=note)
    with transaction.atomic():
        before = ChoreDone.objects.of(studio).filter(entry=entry).first()
        if before is not None:
            if (before.day, before.what, before.done) != (day, what, done):
                raise EntryUsed(entry=entry, kind="chore", at=before.at)
            return before
        _check_there(studio, day, what)
        last = last_word(studio, day=day, what=what)
        if done and last is not None and last.done:
            raise ChoreIsDone(what=what, at=last.at)
        if not done and (last is None or not last.done):
            raise ChoreStillToDo(what=what, day=day)
        check_row(made)
        made.save(force_insert=True)
    return made


def _check_there(studio: Studio, day: date, what: str) -> None:
    """Hold the chore so that two hands do not say it at once; refuse one that is not there."""
    of_day = Chore.objects.of(studio).filter(day=day).order_by("what")
    if not list(of_day.filter(what=what).select_for_update(no_key=True).values_list("pk")):
        raise NoSuchChore(what=what, day=day, there=of_day.values_list("what", flat=True))
