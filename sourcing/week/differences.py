"""What another week changes of a week, in words: what fits, what waits, what is saved."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from inventory.science.days import local_day
from inventory.science.saying import Said, counted, say
from sourcing.week.desk import desk_for
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer, Placed, Week
from sourcing.week.words import day_in_words, grams, moment_in_words

BETTER, WORSE, OTHERWISE = "better", "worse", "otherwise"
RANK = {"yes": 2, "not yet": 1, "no": 0}


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that is different in another week."""

    kind: str  # better, worse, otherwise
    what: str  # code of a run or lot; empty: of the whole week
    text: Said


def differences(facts: WeekFacts, week: Week, other: Week) -> tuple[Difference, ...]:
    """What is different in another week of the same facts.

    Parameters
    ----------
    facts : of which both were worked out
    week, other : the week as it is, and the one that may be taken in its place; the same runs

    Returns
    -------
    tuple of Difference
        First what runs gain, then what they lose, then what only moves; lots and hands last.
        Empty: both are the same to whoever works by them.
    """
    before = {answer.run: answer for answer in week.answers}
    found: list[Difference] = []
    for answer in other.answers:
        change = _of_run(before[answer.run], answer, facts)
        if change is not None:
            found.append(change)
    found.extend(_shared(week, other))
    order = (BETTER, WORSE, OTHERWISE)
    found.sort(key=lambda row: order.index(row.kind))
    return (*found, *_saved(facts, week, other), *_hands(week, other))


def _of_run(before: Answer, after: Answer, facts: WeekFacts) -> Difference | None:
    """What becomes of one run; None where nothing does."""
    if before.answer != after.answer:
        return _answered_otherwise(before, after, facts.zone)
    if before.dry_at is None or after.dry_at is None:
        return None
    if _shape(before) == _shape(after):
        return None
    return _moved(before, after, facts.zone)


def _shared(week: Week, other: Week) -> Iterator[Difference]:
    """Runs that go into one pot in the one week only, each pair once."""
    shades = {answer.run: answer.shade for answer in other.answers}
    before, after = _pairs(week), _pairs(other)
    for run, mate, step in sorted(after - before):
        yield Difference(OTHERWISE, run, say(
            "{shade} ({run}) and {other} ({mate}) go into one pot: {step}.",
            shade=shades[run], run=run, other=shades[mate], mate=mate, step=step,
        ))  # fmt: skip
    for run, mate, step in sorted(before - after):
        yield Difference(OTHERWISE, run, say(
            "{shade} ({run}) and {other} ({mate}) go into one pot no more: {step}.",
            shade=shades[run], run=run, other=shades[mate], mate=mate, step=step,
        ))  # fmt: skip


def _pairs(week: Week) -> set[tuple[str, str, str]]:
    """Two runs and the step that they do in one pot, by the first one's word for it."""
    there = {answer.run for answer in week.answers}
    return {
        (row.run, mate, row.step)
        for answer in week.answers
        for row in answer.steps
        for mate in row.shared_with
        if row.run < mate and mate in there
    }


def _answered_otherwise(before: Answer, after: Answer, zone: ZoneInfo) -> Difference:
    kind = BETTER if RANK[after.answer] > RANK[before.answer] else WORSE
    return Difference(kind, after.run, _answered(after, zone))


def _answered(after: Answer, zone: ZoneInfo) -> Said:
    names = {"shade": after.shade, "run": after.run}
    if after.first_step_at is None or after.dry_at is None:
        if after.answer == "no":
            return say("{shade} ({run}) does not fit any more.", **names)
        return say("{shade} ({run}) waits.", **names)
    hours = {"first": _at(after.first_step_at, zone), "dry": _at(after.dry_at, zone)}
    if after.answer == "yes":
        return say("{shade} ({run}) fits: first step {first}, dry {dry}.", **names, **hours)
    return say("{shade} ({run}) waits till {first}, dry {dry}.", **names, **hours)


def _moved(before: Answer, after: Answer, zone: ZoneInfo) -> Difference:
    assert before.dry_at is not None
    assert after.dry_at is not None
    days = (_day(after.dry_at, zone) - _day(before.dry_at, zone)).days
    names = {"shade": after.shade, "run": after.run, "dry": _at(after.dry_at, zone)}
    if days > 0:
        return Difference(WORSE, after.run, counted(
            "{shade} ({run}) is dry {count} day later: {dry}.",
            "{shade} ({run}) is dry {count} days later: {dry}.", count=days, **names,
        ))  # fmt: skip
    if days < 0:
        return Difference(BETTER, after.run, counted(
            "{shade} ({run}) is dry {count} day sooner: {dry}.",
            "{shade} ({run}) is dry {count} days sooner: {dry}.", count=-days, **names,
        ))  # fmt: skip
    if before.first_step_at != after.first_step_at:
        return Difference(OTHERWISE, after.run, say(
            "{shade} ({run}) is dry on the same day; its first step is {first}.",
            shade=after.shade, run=after.run, first=_at(after.first_step_at, zone),
        ))  # fmt: skip
    return Difference(OTHERWISE, after.run, say(
        "{shade} ({run}) is dry on the same day, with other hours or pots.",
        shade=after.shade, run=after.run,
    ))  # fmt: skip


def _shape(answer: Answer) -> list[tuple[object, ...]]:
    """Where and when a run is worked."""
    return sorted(map(_place, answer.steps))


def _place(row: Placed) -> tuple[str, int, int, str, str, datetime]:
    return row.step, row.round, row.load, row.vessel, row.ring, row.start


def _saved(facts: WeekFacts, week: Week, other: Week) -> Iterator[Difference]:
    """What of each lot is used in the one week and spoils in the other."""
    spoiling = spoiling_lots(facts, week)
    before, after = _taken(week), _taken(other)
    for lot in sorted(facts.shelf.lots, key=lambda lot: lot.code):
        if lot.code not in spoiling:
            continue
        code, what = lot.code, lot.dyestuff
        more = after.get(code, 0) - before.get(code, 0)
        if more > 0:
            yield Difference(BETTER, code, say(
                "{grams} of {lot} ({what}) saved from spoiling.", grams=grams(more), lot=code,
                what=what,
            ))  # fmt: skip
        elif more < 0:
            yield Difference(WORSE, code, say(
                "{grams} of {lot} ({what}) spoils that would have been used.", grams=grams(-more),
                lot=code, what=what,
            ))  # fmt: skip


def _taken(week: Week) -> dict[str, int]:
    """What placed runs take of each lot."""
    found: dict[str, int] = {}
    for answer in week.answers:
        for take in answer.takes if answer.answer != "no" else ():
            found[take.source] = found.get(take.source, 0) + take.amount
    return found


def spoiling_lots(facts: WeekFacts, week: Week) -> frozenset[str]:
    """Lots that count today and are past their last good day before the period is over."""
    last_day = local_day(week.until - timedelta(microseconds=1), zone=facts.zone)
    desk = desk_for(facts, days=(last_day - local_day(facts.at, zone=facts.zone)).days + 1)
    return frozenset(
        row.lot.code for row in desk.larder.ranked if row.good.day < last_day and not row.left_out
    )


def _hands(week: Week, other: Week) -> Iterator[Difference]:
    """The worst day, where it is another one or another length."""
    before, after = _worst(week), _worst(other)
    if before is None or after is None or before == after:
        return
    kind = BETTER if after[1] < before[1] else WORSE if after[1] > before[1] else OTHERWISE
    if after[0] == before[0]:
        yield Difference(kind, "", say(
            "The fullest day stays {day}: {minutes} min of hands in place of {before} min.",
            day=day_in_words(after[0]), minutes=after[1], before=before[1],
        ))  # fmt: skip
        return
    yield Difference(kind, "", say(
        "The fullest day is {day}: {minutes} min of hands in place of {before} min on {then}.",
        day=day_in_words(after[0]), minutes=after[1], before=before[1],
        then=day_in_words(before[0]),
    ))  # fmt: skip


def _worst(week: Week) -> tuple[date, int] | None:
    days = [(row.day, row.hands_on_min) for row in week.days]
    return max(days, key=lambda row: (row[1], -row[0].toordinal()), default=None)


def _at(moment: datetime | None, zone: ZoneInfo) -> str:
    return "" if moment is None else moment_in_words(moment, zone)


def _day(moment: datetime, zone: ZoneInfo) -> date:
    return moment.astimezone(zone).date()
