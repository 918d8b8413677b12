"""Forms about the steps of a run: done, with what went otherwise, and not done after all."""

from __future__ import annotations

from api.web.note.ask import VOLUME, Amount, Number, Pick, Text, Warmth
from api.web.note.form import NOTE, Form
from api.web.note.things import pots
from inventory.science.saying import say

RUN = Text(name="run", words=say("Which run?"), hint=say("its code, as on the run sheet"), most=40)
STEP = Text(name="step", words=say("Which step?"), hint=say("its word on the run sheet"), most=80)
ROUND = Number(name="round", words=say("Which round?"), whole=True, needed=False,
               hint=say("left empty: the next one"))  # fmt: skip
FORMS = (
    Form(
        verb="step-done",
        heading=say("A step done"),
        button=say("Done"),
        done=say("The step is done"),
        asks=(
            RUN,
            STEP,
            Pick(name="vessel", words=say("Another pot than planned"), among=pots, needed=False,
                 first=False),
            Amount(name="litres", words=say("Other litres"), needed=False, units=VOLUME[::-1]),
            Amount(name="weight", words=say("Other weight of fibre, dry"), needed=False),
            Number(name="minutes", words=say("Minutes of hands"), whole=True, needed=False),
            Warmth(name="warmth_c", words=say("The warmest it was"), needed=False),
            NOTE,
        ),
        more=(
            Text(name="begun_at", words=say("When it was begun"), kind="datetime-local",
                 needed=False),
            ROUND,
            Number(name="load", words=say("Which pot-load alone?"), whole=True, needed=False,
                   hint=say("left empty: all of the round")),
        ),
        reminder=say("What you leave empty went as planned."),
        undo="step-not-done",
        instead=say("Say “not done after all” on the page Today."),
    ),
    Form(
        verb="step-not-done",
        heading=say("A step not done after all"),
        button=say("Not done after all"),
        done=say("The step is to be done again"),
        asks=(RUN, STEP),
        more=(ROUND, NOTE),
        undo="",
        instead=say("Say on the page Today that it is done."),
    ),
    Form(
        verb="not-begun",
        heading=say("A run not begun after all"),
        button=say("Not begun"),
        done=say("The run is to be begun again"),
        asks=(RUN,),
        undo="",
        instead=say("Begin it again."),
    ),
)  # fmt: skip
