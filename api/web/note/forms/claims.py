"""Forms about what is promised to runs: an amount of a lot claimed, or given back."""

from __future__ import annotations

from collections.abc import Sequence

from api.web.note.ask import MASS, VOLUME, Amount, Pick, Text
from api.web.note.form import Form
from api.web.note.hand import Choice, Hand
from api.web.note.listed import Listed
from api.web.note.things import everything


def runs(hand: Hand) -> Sequence[Choice]:
    """Runs that are open, those begun in front."""
    return [Choice(run.code, run.shade, f"{run.code}, {run.more}") for run in hand.runs]


FORMS = (
    Form(
        verb="claim",
        heading="Something claimed for a run",
        button="It is claimed",
        done="It is promised to that run, and to no other",
        asks=(
            Pick(name="run", words="For which run?", among=runs),
            Pick(name="lot", words="Of what?", among=everything, first=False),
            Amount(name="amount", words="How much?", units=(*MASS, *VOLUME)),
        ),
        more=(Text(name="step", words="For which step?", most=80, needed=False),),
        undo="",
        instead="Give it back: that is a form of its own.",
    ),
    Form(
        verb="release",
        heading="Something given back by a run",
        button="It is free again",
        done="Others may take it now",
        asks=(Pick(name="run", words="Which run?", among=runs),),
        more=(
            Listed(name="lots", words="Of which lots?", needed=False,
                   hint="codes, such as AV-0911; left empty: all that it was promised"),
        ),
        undo="",
        instead="Claim it anew.",
    ),
)  # fmt: skip
