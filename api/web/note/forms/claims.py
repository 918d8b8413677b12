"""Forms about what is promised to runs: an amount of a lot claimed, or given back."""

from __future__ import annotations

from collections.abc import Sequence

from api.web.note.ask import MASS, VOLUME, Amount, Pick, Text
from api.web.note.form import Form
from api.web.note.hand import Choice, Hand
from api.web.note.listed import Listed
from api.web.note.things import everything
from inventory.science.saying import say


def runs(hand: Hand) -> Sequence[Choice]:
    """Runs that are open, those begun in front."""
    return [
        Choice(run.code, run.shade, say("{code}, {more}", code=run.code, more=run.more))
        for run in hand.runs
    ]


FORMS = (
    Form(
        verb="claim",
        heading=say("Something claimed for a run"),
        button=say("It is claimed"),
        done=say("It is promised to that run, and to no other"),
        asks=(
            Pick(name="run", words=say("For which run?"), among=runs),
            Pick(name="lot", words=say("Of what?"), among=everything, first=False),
            Amount(name="amount", words=say("How much?"), units=(*MASS, *VOLUME)),
        ),
        more=(Text(name="step", words=say("For which step?"), most=80, needed=False),),
        undo="",
        instead=say("Give it back: that is a form of its own."),
    ),
    Form(
        verb="release",
        heading=say("Something given back by a run"),
        button=say("It is free again"),
        done=say("Others may take it now"),
        asks=(Pick(name="run", words=say("Which run?"), among=runs),),
        more=(
            Listed(name="lots", words=say("Of which lots?"), needed=False,
                   hint=say("codes, such as AV-0911; left empty: all that it was promised")),
        ),
        undo="",
        instead=say("Claim it anew."),
    ),
)  # fmt: skip
