"""Forms about pots: iron in them, blank swatches, chips."""

from __future__ import annotations

from api.web.note.ask import Pick, yes_or_no
from api.web.note.form import NOTE, Form
from api.web.note.things import pots, pots_with_iron

POT = Pick(name="vessel", words="Which pot?", among=pots)
FORMS = (
    Form(
        verb="mark-iron",
        heading="Iron in a pot",
        button="It had iron in it",
        done="The iron is written down",
        asks=(POT,),
        more=(NOTE,),
        reminder="No bright shade in it until a blank swatch comes out white.",
    ),
    Form(
        verb="blank-swatch",
        heading="A blank swatch",
        button="So it came out",
        done="The blank swatch is written down",
        asks=(
            Pick(name="vessel", words="From which pot?", among=pots_with_iron),
            yes_or_no("passed", "How did it come out?", "white", "grey or tinted", default="yes"),
        ),
        more=(NOTE,),
    ),
    Form(
        verb="chip",
        heading="Enamel chipped",
        button="Keep it so",
        done="The chip is written down",
        asks=(
            POT,
            yes_or_no("mended", "How is it now?", "mended", "chipped", default="no"),
        ),
        more=(NOTE,),
    ),
)  # fmt: skip
