"""Forms about pots: iron in them, blank swatches, chips."""

from __future__ import annotations

from api.web.note.ask import Pick, yes_or_no
from api.web.note.form import NOTE, Form
from api.web.note.things import pots, pots_with_iron
from inventory.science.saying import say

POT = Pick(name="vessel", words=say("Which pot?"), among=pots)
FORMS = (
    Form(
        verb="mark-iron",
        heading=say("Iron in a pot"),
        button=say("It had iron in it"),
        done=say("The iron is written down"),
        asks=(POT,),
        more=(NOTE,),
        reminder=say("No bright shade in it until a blank swatch comes out white."),
    ),
    Form(
        verb="blank-swatch",
        heading=say("A blank swatch"),
        button=say("So it came out"),
        done=say("The blank swatch is written down"),
        asks=(
            Pick(name="vessel", words=say("From which pot?"), among=pots_with_iron),
            yes_or_no(
                "passed",
                say("How did it come out?"),
                say("white"),
                say("grey or tinted"),
                default="yes",
            ),
        ),
        more=(NOTE,),
    ),
    Form(
        verb="chip",
        heading=say("Enamel chipped"),
        button=say("Keep it so"),
        done=say("The chip is written down"),
        asks=(
            POT,
            yes_or_no("mended", say("How is it now?"), say("mended"), say("chipped"), default="no"),
        ),
        more=(NOTE,),
    ),
)
