"""What there is to be told on which days: dips, last good days, cards that are out, pick-ups.

Each happening has its own day and the day on which it is told; to whom is settled elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import UTC, date, datetime, timedelta

from inventory.science.catalogue import figure
from inventory.science.days import day_begins, local_day
from inventory.science.facts import JarFacts, LotFacts
from inventory.science.keeping import bath_last_good_day, last_good_day
from inventory.science.maturing import JarState, state_of
from inventory.science.saying import say
from sourcing.reminding.facts import (
    BathEnds,
    CardOut,
    DipDue,
    Happening,
    Kind,
    LotEnds,
    ReminderFacts,
)
from sourcing.reminding.order_days import order_by_days
from sourcing.week.gates import card_out_on

DAY = timedelta(days=1)
DUE = ("ready to dip", "steeping", "retest")
MOST_DAYS = 120  # that one look goes over

Found = Iterator[Happening]


def happenings(facts: ReminderFacts, kinds: frozenset[Kind], *, first: date, last: date) -> Found:
    """Everything of some kinds that is told on the days from `first` to `last`, both included."""
    last = min(last, first + MOST_DAYS * DAY)
    for kind, of_kind in OF_KIND.items():
        if kind in kinds:
            for what in of_kind(facts, first, last):
                if first <= what.on <= last:
                    yield what


def _sheets(facts: ReminderFacts, first: date, last: date) -> Found:
    for n in range((last - first).days + 1):
        day = first + n * DAY
        yield Happening("morning sheet", "", day, day)


def _meetings(facts: ReminderFacts, first: date, last: date) -> Found:
    """The day before each pick-up, until its hour."""
    for row in facts.week.meetings:
        day = local_day(row.at, zone=facts.week.zone)
        yield Happening("day before", "", day, day - DAY, row.at.astimezone(UTC), row, row.source)


def _dips(facts: ReminderFacts, first: date, last: date) -> Found:
    for jar in facts.week.shelf.jars:
        day = _first_due(facts, jar, first)
        if day is not None:
            until = _over(facts, day, days=_stays_of_use(facts, day))
            yield Happening("dip", jar.code, day, day, until, _dip(facts, jar, day))


def _first_due(facts: ReminderFacts, jar: JarFacts, first: date) -> date | None:
    """The day from which a jar has waited for a dip, or will; None for long, or never."""
    today = facts.today
    state = _state(facts, jar, max(facts.week.at, day_begins(today, zone=facts.week.zone)))
    if state.word not in DUE:
        return None if state.strip_good_to is None else state.strip_good_to + DAY
    if state.next_dip is None or state.next_dip > today:
        return state.next_dip
    day = today
    while day >= first:
        before = _state(facts, jar, day_begins(day - DAY, zone=facts.week.zone))
        if before.next_dip is None or before.next_dip > day - DAY or before.word not in DUE:
            return day
        day -= DAY
    return None


def _state(facts: ReminderFacts, jar: JarFacts, at: datetime) -> JarState:
    return state_of(jar, facts.week.figures, at=at, zone=facts.week.zone)


def _dip(facts: ReminderFacts, jar: JarFacts, day: date) -> DipDue:
    """What a dyer wants to know of the jar on that day."""
    zone = facts.week.zone
    state = _state(facts, jar, day_begins(day, zone=zone))
    clock = None if state.usable_from is None else local_day(state.usable_from, zone=zone)
    least = figure(facts.week.figures, "iron liquor", "least_strip_grade", on=day)
    return DipDue(
        jar=say("{name} ({code})", name=jar.name, code=jar.code) if jar.name else jar.code,
        age_days=state.age_days,
        by_clock_on=clock,
        again=state.word == "retest",
        strip_age_days=state.strip_age_days,
        grade=state.grade,
        least_grade=int(least.value),
        by_rule=state.figure is not None and state.figure.own,
    )


def _last_good_days(facts: ReminderFacts, first: date, last: date) -> Found:
    """The day before a lot or bath ends, and its last good day, each till the day is over."""
    week = facts.week
    for lot in week.shelf.lots:
        if _in_use(lot, week.at):
            ends = last_good_day(lot, week.figures, zone=week.zone, at=week.at)
            yield from _told_twice(facts, lot.code, ends.day, LotEnds(lot, ends))
    for bath in week.shelf.baths:
        if bath.left_ul > 0 and not bath.set_aside:
            good = bath_last_good_day(bath, week.figures, zone=week.zone)
            yield from _told_twice(facts, bath.code, good.day, BathEnds(bath, good))


def _in_use(lot: LotFacts, at: datetime) -> bool:
    there = lot.arrives_at is None or lot.arrives_at <= at
    usable = lot.labelled and not lot.set_aside and lot.stay.state != "damp"
    return there and usable and lot.left_mg > 0


def _told_twice(facts: ReminderFacts, about: str, day: date, thing: LotEnds | BathEnds) -> Found:
    for on in (day - DAY, day):
        yield Happening("last good day", about, day, on, _over(facts, on), thing)


def _order_by_days(facts: ReminderFacts, first: date, last: date) -> Found:
    """Some days before the last day of ordering, and that day."""
    for row in order_by_days(facts.week):
        before = figure(facts.week.figures, "studio", "order_reminder_days", on=row.day).value
        about = f"{row.run}/{row.supplier}"
        for on in dict.fromkeys((row.day - int(before) * DAY, row.day)):
            yield Happening("order-by day", about, row.day, on, _over(facts, row.day), row)


def _light_tests(facts: ReminderFacts, first: date, last: date) -> Found:
    for run in facts.week.runs:
        for wish in run.wishes:
            out = card_out_on(wish)
            if wish.what == "light" and out is not None and not wish.accepted_in_writing:
                until = _over(facts, out, days=_stays_of_use(facts, out))
                yield Happening("light test", run.code, out, out, until, CardOut(run, wish))


def _stays_of_use(facts: ReminderFacts, on: date) -> int:
    return int(figure(facts.week.figures, "studio", "reminder_of_use_days", on=on).value)


def _over(facts: ReminderFacts, day: date, *, days: int = 1) -> datetime:
    """The end of a day, or of so many days from it on."""
    return day_begins(day + days * DAY, zone=facts.week.zone).astimezone(UTC)


OF_KIND: dict[Kind, Callable[[ReminderFacts, date, date], Iterable[Happening]]] = {
    "morning sheet": _sheets,
    "day before": _meetings,
    "dip": _dips,
    "last good day": _last_good_days,
    "order-by day": _order_by_days,
    "light test": _light_tests,
}
