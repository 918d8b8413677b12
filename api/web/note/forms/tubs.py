"""Forms about tubs that stand with a source."""

from __future__ import annotations

from collections.abc import Sequence

from api.web.note.ask import Number, Pick
from api.web.note.form import NOTE, Form
from api.web.note.hand import Choice, Hand
from api.web.shelves.words import one_or


def sources(hand: Hand) -> Sequence[Choice]:
    """Sources, those that hold tubs in front."""
    return [
        Choice(name, name, f"{one_or(tubs, 'tub', 'tubs')} there") for name, tubs in hand.sources
    ]


def _form(verb: str, heading: str, button: str, done: str) -> Form:
    return Form(
        verb=verb,
        heading=heading,
        button=button,
        done=done,
        asks=(
            Number(name="tubs", words="How many?", whole=True),
            Pick(name="source", words="Whose?", among=sources, typed_words="Its name"),
        ),
        more=(NOTE,),
        undo="",
        instead="Write down the other way what stands there now: tubs left, or tubs fetched.",
    )


FORMS = (
    _form("leave-tubs", "Clean tubs left", "They are left there", "The tubs are written down"),
    _form("fetch-tubs", "Tubs fetched", "They are back", "The tubs are written down"),
    _form("lose-tubs", "Tubs lost", "They are lost", "The lost tubs are written down"),
)
