"""Forms about tubs that stand with a source."""

from __future__ import annotations

from collections.abc import Sequence

from api.web.note.ask import Number, Pick
from api.web.note.form import NOTE, Form
from api.web.note.hand import Choice, Hand
from api.web.shelves.words import one_or
from inventory.science.saying import say


def sources(hand: Hand) -> Sequence[Choice]:
    """Sources, those that hold tubs in front."""
    return [
        Choice(name, name, say("{tubs} there", tubs=one_or(tubs, "tub", "tubs")))
        for name, tubs in hand.sources
    ]


def _form(verb: str, heading: str, button: str, done: str) -> Form:
    return Form(
        verb=verb,
        heading=heading,
        button=button,
        done=done,
        asks=(
            Number(name="tubs", words=say("How many?"), whole=True),
            Pick(name="source", words=say("Whose?"), among=sources, typed_words=say("Its name")),
        ),
        more=(NOTE,),
        undo="",
        instead=say("Write down the other way what stands there now: tubs left, or tubs fetched."),
    )


FORMS = (
    _form(
        "leave-tubs",
        say("Clean tubs left"),
        say("They are left there"),
        say("The tubs are written down"),
    ),
    _form(
        "fetch-tubs", say("Tubs fetched"), say("They are back"), say("The tubs are written down")
    ),
    _form(
        "lose-tubs", say("Tubs lost"), say("They are lost"), say("The lost tubs are written down")
    ),
)
