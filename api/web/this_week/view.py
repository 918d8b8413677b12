"""*This week* ready to show: flags, runs, strip, the same in words, and how far things go."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import datetime, timedelta
from urllib.parse import urlencode

from api.question import Question
from api.sheet import ahead_in_words, steps_of
from api.web.strip.bars import Strip, hands_in_words, line_in_words, strip_of
from api.web.strip.shapes import Drawing
from api.web.strip.tall import DayBlock, tall
from api.web.strip.wide import wide
from api.web.this_week.cautions import week_cautions
from api.web.this_week.flags import FlagLine, begun_large, flag_lines
from api.web.this_week.rooms import RoomShown, rooms_shown
from api.web.this_week.runs import StepLine, Ticket, step_line, tickets_of
from inventory.science.cautions import Caution
from inventory.science.saying import say
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Placed, Week
from sourcing.week.words import day_in_words, kilos, listed

WORDS = {"yes": say("yes"), "wait": say("not yet"), "no": say("no")}


@dataclass(frozen=True, slots=True)
class DayWords:
    """One day of the strip in words."""

    day: str
    hands: str
    line: str
    steps: tuple[StepLine, ...]
    others: tuple[str, ...]  # group days, chores, pick-ups


@dataclass(frozen=True, slots=True)
class Count:
    """How many runs have an answer."""

    look: str
    word: str
    number: int


@dataclass(frozen=True, slots=True)
class ThisWeek:
    """The whole page."""

    until: str
    earlier: str  # the address of the same question a day before
    later: str
    counts: tuple[Count, ...]
    flags: tuple[FlagLine, ...]
    tickets: tuple[Ticket, ...]
    wide: tuple[Drawing, ...]
    tall: tuple[DayBlock, ...]
    idle: str
    room: str
    days: tuple[DayWords, ...]
    rooms: tuple[RoomShown, ...]
    ahead: tuple[str, ...]
    cautions: tuple[Caution, ...]
    taken: bool  # whether another week was taken in place of the plain one


def this_week(question: Question, facts: WeekFacts, week: Week) -> ThisWeek:
    """The page of a question's answer."""
    strip = strip_of(facts, week)
    tickets = tickets_of(facts, week, currency=question.studio.currency)
    last = (week.until - timedelta(microseconds=1)).astimezone(facts.zone).date()
    return ThisWeek(
        until=day_in_words(last),
        earlier=_at_another(question, -1),
        later=_at_another(question, 1),
        counts=_counts(tickets),
        flags=flag_lines(
            week.flags,
            jars=facts.shelf.jars,
            today=week.at.astimezone(facts.zone).date(),
            carried=question.carried,
        ),
        tickets=tickets,
        wide=wide(strip),
        tall=tall(strip),
        idle=listed(strip.idle),
        room=say(
            "room on the {line_name}, {line_mg}",
            line_name=strip.line_name,
            line_mg=kilos(strip.line_mg),
        ),
        days=_days(strip, facts, week),
        rooms=rooms_shown(week.sums, today=week.at.astimezone(facts.zone).date()),
        ahead=tuple(begun_large(text) for text in ahead_in_words(week.sums)),
        cautions=week_cautions(facts, week.answers),
        taken=bool(week.order),
    )


def _counts(tickets: tuple[Ticket, ...]) -> tuple[Count, ...]:
    found = Counter(ticket.look for ticket in tickets)
    return tuple(Count(look, word, found[look]) for look, word in WORDS.items())


def _at_another(question: Question, days: int) -> str:
    """`?at=…` a day earlier or later by the studio's clock, with all else asked as before."""
    at = question.at + timedelta(days)  # by the wall clock; its offset tells which of two
    said = {name: text for name, text in question.said if name != "at"}
    return f"?{urlencode({'at': at.isoformat(timespec='minutes'), **said})}"


# -- in words ----------------------------------------------------------------------------------


def _days(strip: Strip, facts: WeekFacts, week: Week) -> tuple[DayWords, ...]:
    steps = steps_of(week)
    return tuple(
        DayWords(
            day=day_in_words(day.day),
            hands=hands_in_words(day),
            line=line_in_words(day),
            steps=tuple(step_line(s, facts) for s in steps if _local(s, facts).date() == day.day),
            others=tuple(_others(day.day.toordinal(), facts, week)),
        )
        for day in strip.days
    )


def _others(day: int, facts: WeekFacts, week: Week) -> list[str]:
    """What the day holds beside steps, by its hour: blocks, chores, pick-ups, jobs."""
    found: list[str] = []
    for block in facts.blocks:
        since, until = block.since.astimezone(facts.zone), block.until.astimezone(facts.zone)
        if since.date().toordinal() <= day <= until.date().toordinal():
            found.append(
                say(
                    "{what} {since:%H:%M} to {until:%H:%M}",
                    what=block.what,
                    since=since,
                    until=until,
                )
            )
    found += [
        say("{what}, {hands_min} min, done", what=row.what, hands_min=row.hands_min)
        if row.done_at is not None
        else say("{what}, {hands_min} min", what=row.what, hands_min=row.hands_min)
        for row in facts.chores
        if row.day.toordinal() == day
    ]
    for row in facts.pick_ups:
        at = row.at.astimezone(facts.zone)
        if at.date().toordinal() == day and row.in_window and not row.missed:
            found.append(
                say(
                    "{at:%H:%M} {source}: {dyestuff}",
                    at=at,
                    source=row.source,
                    dyestuff=row.dyestuff,
                )
            )
    names = {(step.run, step.step) for step in steps_of(week)}
    found += [job.text for answer in week.answers for job in answer.jobs
              if job.by.toordinal() == day and (job.run, job.what) not in names]  # fmt: skip
    return [begun_large(text) for text in found]


def _local(step: Placed, facts: WeekFacts) -> datetime:
    return step.start.astimezone(facts.zone)
