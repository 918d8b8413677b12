"""Which reminders go out between two moments: what happens when, to whom it is told, and once.

The facts are those of the moment at which somebody looks: a jar dipped or a lot used up by then
has no reminder.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal

from inventory.science.catalogue import figure
from inventory.science.days import local_day
from sourcing.reminding.facts import Happening, Kind, ReminderFacts, Wish
from sourcing.reminding.happenings import happenings
from sourcing.reminding.quiet import outside, wall

MOST = 2_000  # reminders of one look at a studio
# A letter leaves its day by quiet hours alone, and by less than a day.
AROUND = timedelta(days=2)


@dataclass(frozen=True, slots=True)
class Reminder:
    """One reader, one thing to be told, and when."""

    key: str  # the same for the same word on the same day to the same reader, for ever
    wish: Wish
    what: Happening
    wanted_at: datetime  # by the reader's own hour, quiet hours not counted
    at: datetime
    until: datetime

    @property
    def kind(self) -> Kind:
        return self.what.kind


def reminders_between(
    facts: ReminderFacts, *, since: datetime, until: datetime
) -> tuple[Reminder, ...]:
    """Reminders that go out from a moment until another, in order; at most `MOST`.

    Parameters
    ----------
    facts : of the moment at which somebody looks; `since` and `until` may lie before or after it
    since, until : aware; `until` is not included
    """
    zone = facts.week.zone
    days = (local_day(since, zone=zone) - AROUND, local_day(until, zone=zone) + AROUND)
    found = [row for row in _reminders(facts, *days) if since <= row.at < until]
    return tuple(sorted(found, key=lambda row: (row.at, row.wish.reader, row.key))[:MOST])


def still_wanted(facts: ReminderFacts, key: str, *, at: datetime) -> bool:
    """Whether a reminder that was due at a moment would be written again with these facts."""
    day = local_day(at, zone=facts.week.zone)
    return any(row.key == key for row in _reminders(facts, day - AROUND, day + AROUND))


def _reminders(facts: ReminderFacts, first: date, last: date) -> Iterator[Reminder]:
    """All reminders whose own day lies between two, both included, quiet hours counted."""
    wishes = [wish for wish in facts.wishes if set(wish.kinds) - wish.stopped]
    kinds = {kind for wish in wishes for kind in wish.kinds if wish.wants(kind)}
    if not kinds:
        return
    for what in happenings(facts, frozenset(kinds), first=first, last=last):
        for wish in wishes:
            if _concerns(wish, what):
                yield _reminder(facts, wish, what)


def _concerns(wish: Wish, what: Happening) -> bool:
    return wish.wants(what.kind) and wish.since <= what.on and wish.source == what.source


def _reminder(facts: ReminderFacts, wish: Wish, what: Happening) -> Reminder:
    zone = facts.week.zone
    wanted_at = wall(what.on, _hour(facts, wish, what), zone)
    ends = what.until or wanted_at + _of_use(facts, what.on)
    # An hour of the reader's own may come after the last moment at which the word is of use.
    at, until = outside(min(wanted_at, ends - timedelta(hours=1)), ends, wish.quiet, zone=zone)
    return Reminder(_key(wish, what), wish, what, wanted_at, at, until)


def _hour(facts: ReminderFacts, wish: Wish, what: Happening) -> time:
    """The hour at which this reader is told this."""
    if what.kind == "day before":
        return _clock(_figure(facts, "day_before_word_h", what.on))
    if wish.sheet_at is not None:
        return wish.sheet_at
    return _clock(_figure(facts, "morning_reminder_h", what.on))


def _of_use(facts: ReminderFacts, on: date) -> timedelta:
    """For how long a morning's sheet is of use."""
    return timedelta(hours=float(_figure(facts, "sheet_of_use_h", on)))


def _figure(facts: ReminderFacts, name: str, on: date) -> Decimal:
    return figure(facts.week.figures, "studio", name, on=on).value


def _clock(hours: Decimal) -> time:
    """Hours since midnight as a time of day, to the minute.

    >>> _clock(Decimal("7.5"))
    datetime.time(7, 30)
    """
    minutes = min(max(round(hours * 60), 0), 24 * 60 - 1)
    return time(minutes // 60, minutes % 60)


def _key(wish: Wish, what: Happening) -> str:
    about = "".join(sign if sign.isprintable() else "?" for sign in what.about)
    return "/".join((wish.mark.hex, what.kind, about, what.day.isoformat(), what.on.isoformat()))


def reader_of(key: str, wishes: Iterable[Wish]) -> Wish | None:
    """The reader whom a key is for; None where nobody is."""
    mark = key.partition("/")[0]
    return next((wish for wish in wishes if wish.mark.hex == mark), None)
