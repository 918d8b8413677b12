"""What a drawing of the week shows: which pot or ring is taken by which run, from when to when.

Two drawings share it: a wide one with days side by side, and one block a day for a phone or paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time

from api.sheet import steps_of
from inventory.science.saying import joined, say
from sourcing.week.facts import Block, WeekFacts
from sourcing.week.plan import Answer, Day, LineLoad, Placed, Week
from sourcing.week.words import day_in_words, kilos

DYES = ("rose", "slate", "olive", "gold", "verdigris")  # of runs in turn; the code stands beside
BY_HAND = "hand"
# Where nobody has hours in the whole period.
OPENS, CLOSES = time(9), time(18)


@dataclass(frozen=True, slots=True)
class Bar:
    """A stretch of one lane: worked on, held over night, lit, or taken by a block."""

    lane: str
    kind: str  # worked, held, lit, taken
    run: str  # code; of a block what it is
    step: str
    dye: str  # one of DYES, or empty: no run's
    since: datetime
    until: datetime
    words: str  # the whole of it as a sentence


@dataclass(frozen=True, slots=True)
class DayLoad:
    """One day under the bars: its hands, its line, whether anybody is in."""

    day: date
    hands_min: int
    there_min: int
    line: tuple[LineLoad, ...]
    opens: time
    closes: time

    @property
    def closed(self) -> bool:
        return self.there_min == 0


@dataclass(frozen=True, slots=True)
class Strip:
    """Everything that a drawing of a period shows."""

    at: datetime  # the moment asked for, on the studio's clock
    vessels: tuple[str, ...]  # those that are used, pots first
    rings: tuple[str, ...]
    by_hand: bool  # whether a step needs no vessel, or something takes the hands alone
    bars: tuple[Bar, ...]
    days: tuple[DayLoad, ...]
    line_mg: int  # room on the lines together
    line_name: str  # line, or lines where there are several
    idle: tuple[str, ...]  # vessels that stay free all the period

    @property
    def lanes(self) -> tuple[str, ...]:
        return (*self.vessels, *((BY_HAND,) if self.by_hand else ()), *self.rings)


def strip_of(facts: WeekFacts, week: Week) -> Strip:
    """The strip of a week's answer."""
    placed = [answer for answer in week.answers if answer.answer != "no"]
    dyes = dyes_of(week.answers)
    steps = steps_of(week)
    bars = tuple(
        bar
        for bar in (
            *_of_steps(steps, dyes, facts),
            *_of_blocks(facts),
            *_of_groups(placed, dyes, facts),
        )
        if bar.since < week.until and bar.until > _first_midnight(week)
    )
    used = {bar.lane for bar in bars}
    vessels = [vessel.code for vessel in sorted(facts.shelf.vessels, key=_pots_first)]
    return Strip(
        at=week.at,
        vessels=tuple(code for code in vessels if code in used),
        rings=tuple(ring.code for ring in facts.shelf.rings),
        by_hand=BY_HAND in used,
        bars=bars,
        days=tuple(_day(day, facts) for day in week.days),
        line_mg=sum(line.holds_mg for line in facts.shelf.lines),
        line_name="lines" if len(facts.shelf.lines) > 1 else "line",
        idle=tuple(code for code in vessels if code not in used),
    )


def dyes_of(answers: Iterable[Answer]) -> dict[str, str]:
    """The colour of each run that is placed, in turn."""
    placed = [answer.run for answer in answers if answer.answer != "no"]
    return {run: DYES[number % len(DYES)] for number, run in enumerate(placed)}


def _pots_first(vessel: object) -> tuple[bool, str]:
    return (getattr(vessel, "kind", "") != "pot", getattr(vessel, "code", ""))


def _first_midnight(week: Week) -> datetime:
    return week.at.replace(hour=0, minute=0, second=0, microsecond=0)


# -- bars --------------------------------------------------------------------------------------


def _of_steps(steps: Iterable[Placed], dyes: dict[str, str], facts: WeekFacts) -> Iterator[Bar]:
    """A step in its vessel or by hand, the night it is held for, and its ring."""
    for step in steps:
        dye = dyes.get(step.run, "")
        lane = step.vessel or BY_HAND
        since, until = _local(step.start, facts), _local(step.end, facts)
        held = _local(step.held_until, facts)
        words = step_in_words(step, facts)
        yield Bar(lane, "worked", step.run, step.step, dye, since, until, words)
        if step.vessel and held > until:
            standing = say(
                "{vessel} held by run {run} after {step} to {moment}",
                vessel=step.vessel,
                run=step.run,
                step=step.step,
                moment=_moment(held),
            )
            yield Bar(lane, "held", step.run, step.step, dye, until, held, standing)
        if step.ring:
            lit = say(
                "{ring} under {vessel}: {words}", ring=step.ring, vessel=step.vessel, words=words
            )
            yield Bar(step.ring, "lit", step.run, step.vessel, dye, since, until, lit)


def step_in_words(step: Placed, facts: WeekFacts) -> str:
    """`A scour in P1, Mon 23 Nov 09:00 to 10:48`."""
    since, until = _local(step.start, facts), _local(step.end, facts)
    end = f"{until:%H:%M}" if until.date() == since.date() else _moment(until)
    where = say(" in {vessel}", vessel=step.vessel) if step.vessel else ""
    return say(
        "{run} {step}{where}, {moment} to {end}",
        run=step.run,
        step=step.step,
        where=where,
        moment=_moment(since),
        end=end,
    )


def _of_blocks(facts: WeekFacts) -> Iterator[Bar]:
    """A group day or holiday on the rings and vessels that it takes; else on the hands."""
    for block in facts.blocks:
        lanes = (*block.rings, *block.vessels)
        for lane in lanes or (() if block.group else (BY_HAND,)):
            yield _taken(block, lane, facts)


def _taken(block: Block, lane: str, facts: WeekFacts) -> Bar:
    since, until = _local(block.since, facts), _local(block.until, facts)
    words = say(
        "{lane} taken: {what}, {moment} to {moment_2}",
        lane=lane,
        what=block.what,
        moment=_moment(since),
        moment_2=_moment(until),
    )
    return Bar(lane, "taken", block.what, "", "", since, until, words)


def _of_groups(answers: Iterable[Answer], dyes: dict[str, str], facts: WeekFacts) -> Iterator[Bar]:
    """The hours of a group, which have no steps of their own."""
    blocks = {block.code: block for block in facts.blocks}
    runs = {run.code: run for run in facts.runs}
    for answer in answers:
        run = runs.get(answer.run)
        block = blocks.get(run.group_block) if run is not None else None
        if block is not None:
            since, until = _local(block.since, facts), _local(block.until, facts)
            words = say(
                "{run} {what}, {moment} to {moment_2}",
                run=answer.run,
                what=block.what,
                moment=_moment(since),
                moment_2=_moment(until),
            )
            dye = dyes[answer.run]
            yield Bar(BY_HAND, "worked", answer.run, block.what, dye, since, until, words)


# -- days --------------------------------------------------------------------------------------


def _day(day: Day, facts: WeekFacts) -> DayLoad:
    opens, closes = _window(facts)
    line = tuple(LineLoad(_local(load.since, facts), load.mg) for load in day.line)
    return DayLoad(day.day, day.hands_on_min, day.hands_available_min, line, opens, closes)


def _window(facts: WeekFacts) -> tuple[time, time]:
    """The hours drawn wide on every day: from the first opening to the last closing."""
    opens = [row.opens.astimezone(facts.zone).time() for row in facts.hours if row.hands_min]
    closes = [row.closes.astimezone(facts.zone).time() for row in facts.hours if row.hands_min]
    if not opens or max(closes) <= min(opens):
        return OPENS, CLOSES
    return min(opens), max(closes)


def changes(days: Iterable[DayLoad]) -> tuple[LineLoad, ...]:
    """What hangs at first, and after every change."""
    found: list[LineLoad] = []
    for load in (load for day in days for load in day.line):
        if not found or load.mg != found[-1].mg:
            found.append(load)
    return tuple(found)


def line_in_words(day: DayLoad) -> str:
    """`0.4 kg, 2.4 kg from 10:00, 2 kg from 16:00`."""
    return joined(
        ", ",
        (
            kilos(load.mg)
            if number == 0
            else say("{mg} from {since:%H:%M}", mg=kilos(load.mg), since=load.since)
            for number, load in enumerate(day.line)
        ),
    )


def hands_in_words(day: DayLoad) -> str:
    """`225 of 360 min`, or that nobody is in."""
    if day.closed:
        return say("nobody in")
    return say("{hands_min} of {there_min} min", hands_min=day.hands_min, there_min=day.there_min)


def _local(moment: datetime, facts: WeekFacts) -> datetime:
    return moment.astimezone(facts.zone)


def _moment(moment: datetime) -> str:
    return say("{date} {moment:%H:%M}", date=day_in_words(moment.date()), moment=moment)
