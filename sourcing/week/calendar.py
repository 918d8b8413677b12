"""What of a week belongs into a calendar: dips, last good days, steps, pick-ups, days to order.

Each is said so that it is true on its own day, whenever it was written down, and keeps its key when
it moves to another moment.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from inventory.science.days import local_day
from inventory.science.keeping import bath_last_good_day, last_good_day
from inventory.science.maturing import state_of
from inventory.science.saying import say
from sourcing.week.facts import WeekFacts
from sourcing.week.flags import in_use, jar_name, put_by_words
from sourcing.week.plan import Placed, Week
from sourcing.week.to_order import needed_by, to_order
from sourcing.week.words import amount, grams, listed, litres


@dataclass(frozen=True, slots=True)
class Dated:
    """Something of a day, or of some hours of it."""

    kind: str  # dip, last good day, step, pick-up, order
    key: tuple[str, ...]  # of its kind, the same for ever
    text: str
    day: date | None = None  # of what has no hour
    since: datetime | None = None
    until: datetime | None = None  # None: a moment
    more: str = ""
    sure: bool = True


def dated(facts: WeekFacts, week: Week, *, days: int) -> tuple[Dated, ...]:
    """Everything of the next so many days, by its moment.

    Parameters
    ----------
    facts : everything at one moment; today is its `at`
    week : placed from these facts
    days : today is the first of them
    """
    today = local_day(facts.at, zone=facts.zone)
    last = today + timedelta(days=days)
    found = (*_dips(facts, today), *_ends(facts), *_steps(facts, week), *_pick_ups(facts, days),
             *_orders(facts))  # fmt: skip
    return tuple(
        sorted(
            (row for row in found if today <= _day_of(row, facts) < last),
            key=lambda row: (_day_of(row, facts), row.since or facts.at, row.kind, row.key),
        )
    )


def _day_of(row: Dated, facts: WeekFacts) -> date:
    if row.day is not None:
        return row.day
    assert row.since is not None, row
    return local_day(row.since, zone=facts.zone)


def _dips(facts: WeekFacts, today: date) -> Iterator[Dated]:
    """The next dip of each jar that asks for one."""
    for jar in facts.shelf.jars:
        state = state_of(jar, facts.figures, at=facts.at, zone=facts.zone)
        again = state.word == "retest"
        day = today if again else state.next_dip
        if day is not None and state.word in ("steeping", "ready to dip", "retest"):
            text = say(
                "dip {jar_name}{which}",
                jar_name=jar_name(jar),
                which=say(" again") if again else "",
            )
            yield Dated("dip", (jar.code,), text, day)


def _ends(facts: WeekFacts) -> Iterator[Dated]:
    """The last good day of what lies there and may be used."""
    for lot in facts.shelf.lots:
        here = lot.arrives_at is None or lot.arrives_at <= facts.at
        if lot.left_mg > 0 and here and in_use(lot):
            good = last_good_day(lot, facts.figures, zone=facts.zone, at=facts.at)
            do = put_by_words(facts, lot)
            text = say(
                "{do} {code} ({dyestuff}, {left_mg}): last good day",
                do=do,
                code=lot.code,
                dyestuff=lot.dyestuff,
                left_mg=grams(lot.left_mg),
            )
            yield Dated("last good day", (lot.code,), text, good.day)
    for bath in facts.shelf.baths:
        if bath.left_ul > 0 and not bath.set_aside:
            good = bath_last_good_day(bath, facts.figures, zone=facts.zone)
            left = amount(bath.left_ul, "µL")
            text = say(
                "use {code} ({what}, {left}) or tip it out: last good day",
                code=bath.code,
                what=bath.what,
                left=left,
            )
            yield Dated("last good day", (bath.code,), text, good.day)


def _steps(facts: WeekFacts, week: Week) -> Iterator[Dated]:
    """Every load of every placed step, those of jobs too, each once."""
    answers = {answer.run: answer for answer in week.answers}
    placed = {step for answer in week.answers if answer.answer != "no" for step in answer.steps}
    for step in placed | set(week.job_steps):
        answer = answers.get(step.run)
        yield Dated(
            kind="step",
            key=(step.run, step.step, f"{step.round}", f"{step.load}"),
            text=_step_words(step, answer.shade if answer is not None else ""),
            since=step.start,
            until=step.end,
            sure=answer is None or answer.answer == "yes",
        )


def _step_words(step: Placed, shade: str) -> str:
    """`Blush (A): scour in P1, 36 L, on R1`."""
    whose = say("{shade} ({run})", shade=shade, run=step.run) if shade else step.run
    text = say("{whose}: {step}", whose=whose, step=step.step) if whose else step.step
    if step.vessel:
        text += say(" in {vessel}", vessel=step.vessel)
    if step.litres:
        text += say(", {litres}", litres=litres(int(step.litres * 1000)))
    return say("{text}, on {ring}", text=text, ring=step.ring) if step.ring else text


def _pick_ups(facts: WeekFacts, days: int) -> Iterator[Dated]:
    """A visit to each source, with all that it gives then."""
    visits: dict[tuple[str, datetime], dict[str, bool]] = {}
    hands: dict[tuple[str, datetime], int] = {}
    for row in facts.pick_ups:
        if row.in_window and not row.missed and row.at >= facts.at:
            visit = (row.source, row.at)
            visits.setdefault(visit, {})[row.dyestuff] = row.confirmed_mg is not None
            hands[visit] = hands.get(visit, 0) + row.hands_min
    for meeting in facts.meetings:
        gives = visits.setdefault((meeting.source, meeting.at), {})
        for what in meeting.gives:
            gives.setdefault(what, False)
    for (source, at), gives in visits.items():
        yield _visit(facts, source, at, gives, hands.get((source, at), 0))


def _visit(
    facts: WeekFacts, source: str, at: datetime, gives: Mapping[str, bool], hands_min: int
) -> Dated:
    day = local_day(at, zone=facts.zone)
    return Dated(
        kind="pick-up",
        key=(source, day.isoformat()),
        text=say("pick-up at {source}: {gives}", source=source, gives=listed(sorted(gives))),
        since=at,
        until=at + timedelta(minutes=hands_min) if hands_min else None,
        more=_told(gives),
        sure=all(gives.values()),
    )


def _told(gives: Mapping[str, bool]) -> str:
    told = sorted(what for what, is_told in gives.items() if is_told)
    return say("told of: {told}", told=listed(told)) if told else say("nobody has told of it yet")


def _orders(facts: WeekFacts) -> Iterable[Dated]:
    """The last day on which each supplier can still bring a fibre in time."""
    for row in to_order(facts):
        for quote in row.in_time:
            text = say(
                "last day to order {name} from {supplier}", name=row.name, supplier=quote.supplier
            )
            key = (row.name, quote.supplier)
            yield Dated("order", key, text, quote.order_by, more=needed_by(row))
