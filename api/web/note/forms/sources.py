"""Forms about sources: who gives what on which days, by whose leave, and when they are shut."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any
from urllib.parse import urlencode

from api.entries.verbs.sources import WEEKDAYS
from api.web.note.ask import MASS, Amount, Body, Number, Pick, Text
from api.web.note.form import NOTE, Filling, Form
from api.web.note.forms.pickups import FromWhom
from api.web.note.hand import Choice, Hand
from api.web.note.listed import Listed
from api.web.note.several import Several
from inventory.science.saying import say

AGAIN = say("Write down what is true now: the last word holds.")
DAYS = tuple(Choice(day, say(day.capitalize())) for day in WEEKDAYS)
GONE = "gone"


def sources(hand: Hand) -> Sequence[Choice]:
    """Every source by name."""
    return [Choice(name, name) for name in sorted(name for name, _ in hand.sources)]


def dyestuffs(hand: Hand) -> Sequence[Choice]:
    """The studio's dyestuffs."""
    return [Choice(name, name) for name in hand.dyestuffs]


def agreed(hand: Hand) -> Sequence[Choice]:
    """What each source gives."""
    return [
        Choice(urlencode({"source": source, "gives": gives}), gives, source)
        for source, gives in hand.agreed
    ]


def today(body: Body, filling: Filling) -> str:
    """The day on which it is written down."""
    return filling.at.date().isoformat()


def _without_gone(body: Body) -> Body:
    """A note that there is no more is a note of no words."""
    rest = {name: said for name, said in body.items() if name != GONE}
    return {**rest, "carrying_note": ""} if body.get(GONE) else rest


def _with_gone(body: Mapping[str, Any]) -> Body:
    return {**body, GONE: ["yes"]} if body.get("carrying_note") == "" else dict(body)


WHICH = Pick(name="source", words=say("Which source?"), among=sources, typed_words=say("Its name"))
WHAT = FromWhom(name="from", words=say("What, and from whom?"), among=agreed)
FIRST = Text(name="first", words=say("From which day?"), kind="date")
LAST = Text(name="last", words=say("Up to which day?"), kind="date", hint=say("this day too"))
OF_WHAT = Pick(
    name="gives",
    words=say("Of what?"),
    among=dyestuffs,
    needed=False,
    first=False,
    hint=say("left open: of all that it gives"),
    typed_words=say("Another"),
)


def _days(verb: str, heading: str, *, button: str, done: str, instead: str) -> Form:
    """A form about a stretch of days of one source."""
    return Form(
        verb=verb,
        heading=heading,
        button=button,
        done=done,
        asks=(WHICH, FIRST, LAST),
        more=(OF_WHAT,),
        undo="",
        instead=instead,
    )


FORMS = (
    Form(
        verb="add-source",
        heading=say("A new source"),
        button=say("It is to save something"),
        done=say("The source is written down"),
        asks=(
            Text(name="source", words=say("What is it called?"), most=80),
            Text(
                name="kind",
                words=say("What is it?"),
                most=80,
                needed=False,
                hint=say("café, hedge, household"),
            ),
        ),
        more=(Text(name="place", words=say("Where?"), most=80, needed=False), NOTE),
        reminder=say("Then write down what it gives, and who gave leave."),
        undo="",
        instead=say("A source that gives nothing does no harm: close its days, or rename it."),
    ),
    Form(
        verb="agree",
        heading=say("What a source gives, and when"),
        button=say("So it is agreed"),
        done=say("The agreement is written down"),
        asks=(
            WHICH,
            Pick(
                name="gives",
                words=say("What does it give?"),
                among=dyestuffs,
                typed_words=say("Another dyestuff"),
            ),
            Several(name="weekdays", words=say("On which weekdays?"), options=DAYS, needed=False),
            Text(name="hour", words=say("At which hour?"), kind="time"),
        ),
        more=(
            Listed(
                name="days",
                words=say("Or on single days"),
                needed=False,
                hint=say("such as 2026-12-04, 2026-12-18"),
            ),
            Amount(
                name="likely",
                words=say("How much does it think it brings?"),
                needed=False,
                units=lambda hand: (*MASS, *hand.pieces),
            ),
            Number(
                name="hands_min",
                words=say("Minutes that a pick-up takes"),
                needed=False,
                whole=True,
            ),
            Text(name="since", words=say("First day"), kind="date", needed=False),
            Text(name="last_on", words=say("Last day"), kind="date", needed=False),
            NOTE,
        ),
        undo="",
        instead=AGAIN,
    ),
    Form(
        verb="note-leave",
        heading=say("Leave to fetch something"),
        button=say("Leave is given"),
        done=say("The leave is written down"),
        asks=(WHAT, Text(name="by", words=say("Who said yes?"), most=80)),
        more=(
            Text(
                name="given_on",
                words=say("On which day?"),
                kind="date",
                needed=False,
                hint=say("left empty: today"),
            ),
        ),
        fills={"given_on": today},
        reminder=say("Whether leave is enough depends on the place: check your local rules."),
        undo="",
        instead=AGAIN,
    ),
    Form(
        verb="end-leave",
        heading=say("Leave withdrawn"),
        button=say("Leave is withdrawn"),
        done=say("The leave has ended"),
        asks=(WHAT,),
        more=(
            Text(
                name="ended_on",
                words=say("First day without it"),
                kind="date",
                needed=False,
                hint=say("left empty: today"),
            ),
        ),
        fills={"ended_on": today},
        reminder=say("What came before keeps its leave."),
        undo="",
        instead=say("Write down the leave anew."),
    ),
    Form(
        verb="note-carrying",
        heading=say("Why it may be carried"),
        button=say("So it is noted"),
        done=say("The carrying note is written down"),
        asks=(
            WHICH,
            Text(
                name="carrying_note", words=say("What does the note say?"), most=500, needed=False
            ),
            Several(
                name=GONE,
                words=say("Or is there none any more?"),
                needed=False,
                options=(Choice("yes", say("there is none any more")),),
            ),
        ),
        more=(Text(name="until", words=say("Its last day"), kind="date", needed=False),),
        into=_without_gone,
        out_of=_with_gone,
        reminder=say(
            "What may be carried without a waste carrier's registration: check your local rules."
        ),
        undo="",
        instead=AGAIN,
    ),
    _days(
        "close-days",
        say("A source is shut"),
        button=say("It is shut on these days"),
        done=say("The days are closed"),
        instead=say("Open the days again: that is a form of its own."),
    ),
    _days(
        "reopen-days",
        say("A source is open after all"),
        button=say("It is open on these days"),
        done=say("The days are open again"),
        instead=say("Close the days again: that is a form of its own."),
    ),
    Form(
        verb="rename-source",
        heading=say("A source has another name"),
        button=say("It is called so now"),
        done=say("The source has its new name"),
        asks=(WHICH, Text(name="name", words=say("What is it called now?"), most=80)),
        undo="",
        instead=say("Write down the name it has."),
    ),
)
