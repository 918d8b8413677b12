"""Forms about who is written to: which letters, when, and where to."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from api.web.note.ask import Body, One, Pick, Text, options
from api.web.note.form import NOTE, Filling, Form
from api.web.note.forms.sources import sources
from api.web.note.hand import Choice, Hand
from api.web.note.several import Several
from sourcing.reminding.facts import ALL, KINDS

WORDS = {
    "morning sheet": "the morning sheet",
    "day before": "the day before a pick-up",
    "dip": "a jar to dip",
    "last good day": "a last good day",
    "order-by day": "a last day to order",
    "light test": "a light test to read",
}
EACH = tuple(Choice(kind, WORDS[kind]) for kind in KINDS)
QUIET = {"quiet_since": "since", "quiet_until": "until"}
AGAIN = "Write down what is true now: the last word holds."


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


def today(body: Body, filling: Filling) -> str:
    """The day on which it is written down."""
    return filling.at.date().isoformat()


WHO = Pick(name="reader", words="Who?", among=readers, typed_words="Their name")
KINDS_WANTED = Several(name="kinds", words="Which letters?", options=EACH)
HOURS = (
    Text(name="sheet_at", words="When does the morning sheet come?", kind="time", needed=False),
    Text(name="quiet_since", words="No letters from", kind="time", needed=False),
    Text(name="quiet_until", words="till", kind="time", needed=False),
)
WHICH = One(name="kind", words="Which letters?", options=(*options((ALL, "all of them")), *EACH),
            default=ALL)  # fmt: skip
FORMS = (
    Form(
        verb="add-reader",
        heading="Somebody who is written to",
        button="Write to them",
        done="They are written to from that day on",
        asks=(
            Text(name="reader", words="What are they called?", most=80),
            Text(name="address", words="Their e-mail address", most=254),
            KINDS_WANTED,
        ),
        more=(
            *HOURS,
            Text(name="since", words="From which day?", kind="date", needed=False,
                 hint="left empty: today"),
            Pick(name="source", words="Which source is it?", among=sources, needed=False,
                 first=False, typed_words="Its name",
                 hint="a source hears of the day before alone"),
            Text(name="leave_by", words="Who said that it may be written to?", most=80,
                 needed=False),
            Text(name="leave_on", words="On which day?", kind="date", needed=False),
            NOTE,
        ),
        fills={"since": today},
        into=with_quiet,
        out_of=without_quiet,
        reminder="Each letter has a line that stops it.",
        undo="",
        instead="Stop the letters: that is a form of its own.",
    ),
    Form(
        verb="change-reader",
        heading="Other letters for somebody",
        button="So they are wanted",
        done="It is written down",
        asks=(WHO, KINDS_WANTED),
        more=HOURS,
        into=with_quiet,
        out_of=without_quiet,
        undo="",
        instead=AGAIN,
    ),
    Form(
        verb="readdress-reader",
        heading="Another address",
        button="Write there",
        done="The address is written down",
        asks=(WHO, Text(name="address", words="Their e-mail address", most=254)),
        undo="",
        instead=AGAIN,
    ),
    Form(
        verb="stop-letters",
        heading="No more letters",
        button="Stop them",
        done="The letters are stopped",
        asks=(WHO, WHICH),
        undo="",
        instead="Begin the letters again: that is a form of its own.",
    ),
    Form(
        verb="begin-letters",
        heading="Letters again",
        button="Begin again",
        done="The letters begin again",
        asks=(WHO, WHICH),
        undo="",
        instead="Stop the letters: that is a form of its own.",
    ),
)  # fmt: skip
