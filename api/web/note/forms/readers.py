"""Forms about who is written to: which letters, when, and where to."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from api.web.note.ask import Body, One, Pick, Text, options
from api.web.note.form import NOTE, Form
from api.web.note.forms.sources import sources, today
from api.web.note.hand import Choice, Hand
from api.web.note.several import Several
from inventory.science.saying import say
from sourcing.reminding.facts import ALL, KINDS

WORDS = {
    "morning sheet": say("the morning sheet"),
    "day before": say("the day before a pick-up"),
    "dip": say("a jar to dip"),
    "last good day": say("a last good day"),
    "order-by day": say("a last day to order"),
    "light test": say("a light test to read"),
}
EACH = tuple(Choice(kind, WORDS[kind]) for kind in KINDS)
QUIET = {"quiet_since": "since", "quiet_until": "until"}
AGAIN = say("Write down what is true now: the last word holds.")


def readers(hand: Hand) -> Sequence[Choice]:
    """Everybody who is written to."""
    return [Choice(name, name, address) for name, address in hand.readers]


def with_quiet(body: Body) -> Body:
    """Two hours as one stretch of quiet."""
    rest = {name: said for name, said in body.items() if name not in QUIET}
    quiet = {QUIET[name]: said for name, said in body.items() if name in QUIET}
    return {**rest, "quiet": quiet} if quiet else rest


def without_quiet(body: Mapping[str, Any]) -> Body:
    """A stretch of quiet as two hours."""
    quiet = body.get("quiet")
    said = quiet if isinstance(quiet, Mapping) else {}
    rest = {name: told for name, told in body.items() if name != "quiet"}
    return {**rest, **{name: said[part] for name, part in QUIET.items() if part in said}}


WHO = Pick(name="reader", words=say("Who?"), among=readers, typed_words=say("Their name"))
KINDS_WANTED = Several(name="kinds", words=say("Which letters?"), options=EACH)
HOURS = (
    Text(
        name="sheet_at", words=say("When does the morning sheet come?"), kind="time", needed=False
    ),
    Text(name="quiet_since", words=say("No letters from"), kind="time", needed=False),
    Text(name="quiet_until", words=say("till"), kind="time", needed=False),
)
WHICH = One(
    name="kind",
    words=say("Which letters?"),
    options=(*options((ALL, say("all of them"))), *EACH),
    default=ALL,
)
FORMS = (
    Form(
        verb="add-reader",
        heading=say("Somebody who is written to"),
        button=say("Write to them"),
        done=say("They are written to from that day on"),
        asks=(
            Text(name="reader", words=say("What are they called?"), most=80),
            Text(name="address", words=say("Their e-mail address"), most=254),
            KINDS_WANTED,
        ),
        more=(
            *HOURS,
            Text(
                name="since",
                words=say("From which day?"),
                kind="date",
                needed=False,
                hint=say("left empty: today"),
            ),
            Pick(
                name="source",
                words=say("Which source is it?"),
                among=sources,
                needed=False,
                first=False,
                typed_words=say("Its name"),
                hint=say("a source hears of the day before alone"),
            ),
            Text(
                name="leave_by",
                words=say("Who said that it may be written to?"),
                most=80,
                needed=False,
            ),
            Text(name="leave_on", words=say("On which day?"), kind="date", needed=False),
            NOTE,
        ),
        fills={"since": today},
        into=with_quiet,
        out_of=without_quiet,
        reminder=say("Each letter has a line that stops it."),
        undo="",
        instead=say("Stop the letters: that is a form of its own."),
    ),
    Form(
        verb="change-reader",
        heading=say("Other letters for somebody"),
        button=say("So they are wanted"),
        done=say("It is written down"),
        asks=(WHO, KINDS_WANTED),
        more=HOURS,
        into=with_quiet,
        out_of=without_quiet,
        undo="",
        instead=AGAIN,
    ),
    Form(
        verb="readdress-reader",
        heading=say("Another address"),
        button=say("Write there"),
        done=say("The address is written down"),
        asks=(WHO, Text(name="address", words=say("Their e-mail address"), most=254)),
        undo="",
        instead=AGAIN,
    ),
    Form(
        verb="stop-letters",
        heading=say("No more letters"),
        button=say("Stop them"),
        done=say("The letters are stopped"),
        asks=(WHO, WHICH),
        undo="",
        instead=say("Begin the letters again: that is a form of its own."),
    ),
    Form(
        verb="begin-letters",
        heading=say("Letters again"),
        button=say("Begin again"),
        done=say("The letters begin again"),
        asks=(WHO, WHICH),
        undo="",
        instead=say("Stop the letters: that is a form of its own."),
    ),
)
