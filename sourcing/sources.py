"""Sources and what they agree to give: who, what, when, by whose leave, carried by which note."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta

from django.db import transaction

from inventory.draft import number_of
from inventory.errors import NotKept
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.said import FIRST_YEAR, LAST_YEAR, check_row, check_said
from inventory.science.saying import say
from sourcing.errors import (
    NoPermission,
    NoSuchAgreement,
    NoSuchSource,
    SourceTaken,
    TooManyDays,
    TwoAmounts,
    WrongWayRound,
)
from sourcing.models import Agreement, Source

DAYS_AT_MOST = 60  # single days of one agreement, and stretches on which it is closed
Stretch = tuple[date, date]  # first and last day
ONE_DAY = timedelta(days=1)


@said_in_words()
def add_source(
    studio: Studio, *, name: str, kind: str = "", place: str = "", note: str = ""
) -> Source:
    """A person or place that is to save material."""
    check_said({"name": name, "kind": kind, "place": place, "note": note})
    with transaction.atomic():
        _check_name(studio, name)
        row = Source(studio=studio, name=name, kind=kind, place=place, note=note)
        check_row(row)
        row.save()
    return row


@said_in_words()
def rename_source(studio: Studio, *, source: str, name: str) -> Source:
    """A source under another name; what it gave stays with it."""
    check_said({"source": source, "name": name})
    with transaction.atomic():
        row = find_source(studio, source, to_change=True)
        if row.name == name:
            return row
        _check_name(studio, name)
        row.name = name
        check_row(row)
        row.save(update_fields=["name"])
    return row


@said_in_words()
def agree(
    studio: Studio,
    *,
    source: str,
    gives: str,
    days: Iterable[int | date],
    hour: time,
    since: date | None = None,
    last_on: date | None = None,
    hands_min: int = 0,
    likely_mg: int | None = None,
    likely_pieces: int | None = None,
    note: str = "",
) -> Agreement:
    """What a source will give; said again, the last word holds, and leave and closed days stay.

    Parameters
    ----------
    days : weekdays from 0 Monday to 6 Sunday, or single days; none: it calls when it has something
    hour : of the pick-up, on the studio's clock
    since, last_on : the window, both days included; None: open on that side
    hands_min : minutes of hands [min] that a pick-up takes from the day
    likely_mg, likely_pieces : what the source expects to give [mg or pieces], one of them or none
    """
    check_said({"source": source, "gives": gives, "note": note})
    _check_gives(gives)
    wanted = _days(days)
    if not isinstance(hour, time) or hour.tzinfo is not None:
        raise NotKept("hour", hour, say("is no hour of a day"), say("Give one such as 17:00."))
    _check_days({"since": since, "until": last_on})
    if since is not None and last_on is not None and last_on < since:
        raise WrongWayRound(since, last_on)
    if likely_mg is not None and likely_pieces is not None:
        raise TwoAmounts
    for amount in (likely_mg, likely_pieces):
        if amount is not None:
            number_of(amount, least=1)
    with transaction.atomic():
        giver = find_source(studio, source)
        row = _of(studio, giver, gives) or Agreement(studio=studio, source=giver, gives=gives)
        row.days, row.at, row.since, row.last_on = wanted, hour, since, last_on
        row.hands_min, row.note = hands_min, note
        row.likely_mg, row.likely_pieces = likely_mg, likely_pieces
        check_row(row)
        row.save()
    return row


@said_in_words()
def note_permission(
    studio: Studio, *, source: str, gives: str, by: str, given_on: date
) -> Agreement:
    """Who said yes to it, and when; one that was withdrawn before is given anew."""
    check_said({"source": source, "gives": gives, "by": by})
    if not by.strip():
        raise NotKept("permission by", by, "is empty", say("Say who said yes."))
    _check_days({"permission on": given_on})
    with transaction.atomic():
        row = find_agreement(studio, source, gives)
        row.permission_by, row.permission_on, row.permission_ended = by, given_on, None
        check_row(row)
        row.save(update_fields=["permission_by", "permission_on", "permission_ended"])
    return row


@said_in_words()
def withdraw_permission(studio: Studio, *, source: str, gives: str, ended_on: date) -> Agreement:
    """From that day on nobody may fetch it; what came before keeps the leave it came by."""
    check_said({"source": source, "gives": gives})
    _check_days({"permission ended": ended_on})
    with transaction.atomic():
        row = find_agreement(studio, source, gives)
        if not row.permission_by:
            raise NoPermission(source=source, gives=gives)
        if row.permission_on is not None and ended_on < row.permission_on:
            raise WrongWayRound(row.permission_on, ended_on)
        row.permission_ended = ended_on
        row.save(update_fields=["permission_ended"])
    return row


@said_in_words()
def note_carrying(studio: Studio, *, source: str, note: str, until: date | None = None) -> Source:
    """Why what it gives may be carried, and the last day of that; an empty note takes it back."""
    check_said({"source": source, "carrying note": note})
    _check_days({"carrying until": until})
    if until is not None and not note.strip():
        raise NotKept(
            "carrying note", note, "is empty", say("Say what it is that holds until then.")
        )
    with transaction.atomic():
        row = find_source(studio, source, to_change=True)
        row.carrying_note, row.carrying_until = note.strip(), until
        check_row(row)
        row.save(update_fields=["carrying_note", "carrying_until"])
    return row


@said_in_words()
def close_days(
    studio: Studio, *, source: str, first: date, last: date, gives: str = ""
) -> tuple[Agreement, ...]:
    """Days on which a source gives nothing, both included; of one thing, or of all it gives."""
    return _closed_anew(studio, source, gives, first, last, close=True)


@said_in_words()
def open_days(
    studio: Studio, *, source: str, first: date, last: date, gives: str = ""
) -> tuple[Agreement, ...]:
    """Days that were closed and are not any more."""
    return _closed_anew(studio, source, gives, first, last, close=False)


def find_source(studio: Studio, name: str, *, to_change: bool = False) -> Source:
    """The source of that name.

    Raises
    ------
    NoSuchSource
        If none of the studio has it.
    """
    rows = Source.objects.of(studio).filter(name=name)
    found = (rows.select_for_update() if to_change else rows).first()
    if found is None:
        raise NoSuchSource(name)
    return found


def find_agreement(studio: Studio, source: str, gives: str) -> Agreement:
    """What a source agreed to give of one thing, its row held for a change.

    Raises
    ------
    NoSuchSource, NoSuchAgreement
        If there is no such source, or it never agreed to give that.
    """
    found = _of(studio, find_source(studio, source), gives)
    if found is None:
        raise NoSuchAgreement(source=source, gives=gives)
    return found


def joined(stretches: Iterable[Stretch]) -> list[Stretch]:
    """Stretches of days in order, those that touch made one.

    Examples
    --------
    >>> joined([(date(2026, 12, 28), date(2027, 1, 3)), (date(2026, 12, 24), date(2026, 12, 27))])
    [(datetime.date(2026, 12, 24), datetime.date(2027, 1, 3))]
    """
    found: list[Stretch] = []
    for first, last in sorted(stretches):
        if found and first <= found[-1][1] + ONE_DAY:
            found[-1] = (found[-1][0], max(found[-1][1], last))
        else:
            found.append((first, last))
    return found


def without(stretches: Iterable[Stretch], first: date, last: date) -> list[Stretch]:
    """Stretches of days with those from `first` to `last` taken out."""
    found: list[Stretch] = []
    for begin, end in stretches:
        before, after = (begin, min(end, first - ONE_DAY)), (max(begin, last + ONE_DAY), end)
        found += [part for part in (before, after) if part[0] <= part[1]]
    return found


def _closed_anew(
    studio: Studio, source: str, gives: str, first: date, last: date, *, close: bool
) -> tuple[Agreement, ...]:
    check_said({"source": source, "gives": gives})
    _check_days({"first day": first, "last day": last})
    if last < first:
        raise WrongWayRound(first, last)
    with transaction.atomic():
        rows = _all_of(studio, source, gives)
        for row in rows:
            said = [
                (date.fromisoformat(begin), date.fromisoformat(end)) for begin, end in row.closed
            ]
            found = joined([*said, (first, last)]) if close else without(said, first, last)
            if len(found) > DAYS_AT_MOST:
                raise TooManyDays(len(found), most=DAYS_AT_MOST)
            row.closed = [[begin.isoformat(), end.isoformat()] for begin, end in found]
            row.save(update_fields=["closed"])
    return rows


def _all_of(studio: Studio, source: str, gives: str) -> tuple[Agreement, ...]:
    if gives:
        return (find_agreement(studio, source, gives),)
    giver = find_source(studio, source)
    rows = tuple(Agreement.objects.of(studio).filter(source=giver).select_for_update())
    if not rows:
        raise NoSuchAgreement(source=source, gives="")
    return rows


def _of(studio: Studio, source: Source, gives: str) -> Agreement | None:
    rows = Agreement.objects.of(studio).filter(source=source, gives=gives)
    return rows.select_for_update().first()


def _check_name(studio: Studio, name: str) -> None:
    if not name.strip():
        raise NotKept("source name", name, "is empty", "Say it.")
    if Source.objects.of(studio).filter(name=name).exists():
        raise SourceTaken(name)


def _check_gives(gives: str) -> None:
    if not gives.strip():
        raise NotKept("gives", gives, "is empty", say("Say what the source gives."))


def _days(days: Iterable[int | date]) -> list[int | str]:
    """Days as they are kept: weekdays first, then single days, each once."""
    weekdays: set[int] = set()
    single: set[date] = set()
    for day in days:
        if isinstance(day, date):
            _check_days({"day": day})
            single.add(day)
        elif isinstance(day, bool) or not isinstance(day, int) or not 0 <= day <= 6:
            raise NotKept("day", day, "is no day", say("Give 0 Monday to 6 Sunday, or a date."))
        else:
            weekdays.add(day)
    if len(single) > DAYS_AT_MOST:
        raise TooManyDays(len(single), most=DAYS_AT_MOST)
    return [*sorted(weekdays), *(day.isoformat() for day in sorted(single))]


def _check_days(said: dict[str, date | None]) -> None:
    for what, day in said.items():
        if day is None:
            continue
        if not isinstance(day, date) or isinstance(day, datetime):
            raise NotKept(what, day, "is no day", say("Give a date without a time."))
        if not FIRST_YEAR < day.year < LAST_YEAR:
            note = say(
                "lies outside the years {first_year} to {last_year}",
                first_year=FIRST_YEAR + 1,
                last_year=LAST_YEAR - 1,
            )
            raise NotKept(what, day, note, say("Look at the date again."))
