"""*Today* ready to show: the week in one line, what to see to, steps, tonight, tomorrow."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import timedelta

from django.urls import reverse

from api.web.this_week.flags import AT_THE_JAR, FlagLine, flag_lines
from api.web.today.card import StepCard, Tap
from api.web.today.steps import Day
from api.web.today.taps import Taps
from api.web.today.tonight import tonight
from inventory.science.saying import joined, say
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Week
from sourcing.week.words import day_in_words

WORDS = ((say("yes"), "yes"), (say("not yet"), "wait"), (say("no"), "no"))


@dataclass(frozen=True, slots=True)
class Count:
    """How many runs have an answer."""

    look: str
    word: str
    number: int


@dataclass(frozen=True, slots=True)
class SeeTo:
    """A flag of the morning, and what sees to it by one tap."""

    line: FlagLine
    taps: tuple[Tap, ...]
    graded: bool  # the taps are how dark a strip is


@dataclass(frozen=True, slots=True)
class Line:
    """One step of tomorrow."""

    when: str
    run: str
    words: str


@dataclass(frozen=True, slots=True)
class Today:
    """The whole page."""

    day: str
    week: str  # address of the week
    counts: tuple[Count, ...]
    flags: tuple[SeeTo, ...]
    steps: tuple[StepCard, ...]
    left: int  # steps still to do
    tonight: tuple[str, ...]
    tomorrow: str
    first_steps: tuple[Line, ...]
    may_write: bool


def today(facts: WeekFacts, week: Week, *, carried: str, may_write: bool, stamp: str = "") -> Today:
    """The day of a moment.

    Parameters
    ----------
    carried : what a link goes on asking with
    may_write : whether who looks may say that something is done
    stamp : the moment that is said with it; empty: our clock's
    """
    day = facts.at.astimezone(facts.zone).date()
    cards = Day(facts, week, day, carried, may_write, stamp).cards()
    next_day = day + timedelta(days=1)
    lines = flag_lines(week.flags, jars=facts.shelf.jars, today=day, carried=carried)
    taps = Taps(facts, stamp)
    found = Counter(answer.answer for answer in week.answers)
    return Today(
        day=day_in_words(day),
        week=reverse("week") + carried,
        counts=tuple(Count(look, word, found[word]) for word, look in WORDS),
        flags=tuple(
            SeeTo(line, taps.of_flag(flag) if may_write else (), flag.kind in AT_THE_JAR)
            for flag, line in zip(week.flags, lines, strict=True)
        ),
        steps=cards,
        left=sum(card.state != "done" and bool(card.run) for card in cards),
        tonight=tonight(facts, week, day),
        tomorrow=day_in_words(next_day),
        first_steps=tuple(
            Line(card.at, card.run, joined(" ", filter(None, (card.shade, card.heading.lower()
                                                           if card.run else card.heading))))
            for card in Day(facts, week, next_day, carried, may_write=False).cards()[:4]
        ),
        may_write=may_write,
    )  # fmt: skip
