"""Forms about the steps of a run: done, with what went otherwise, and not done after all."""

from __future__ import annotations

from api.web.note.ask import VOLUME, Amount, Number, Pick, Text
from api.web.note.form import NOTE, Form
from api.web.note.things import pots

RUN = Text(name="run", words="Which run?", hint="its code, as on the run sheet", most=40)
STEP = Text(name="step", words="Which step?", hint="its word on the run sheet", most=80)
ROUND = Number(name="round", words="Which round?", whole=True, needed=False,
               hint="left empty: the next one")  # fmt: skip
FORMS = (
    Form(
        verb="step-done",
        heading="A step done",
        button="Done",
        done="The step is done",
        asks=(
            RUN,
            STEP,
            Pick(name="vessel", words="Another pot than planned", among=pots, needed=False,
                 first=False),
            Amount(name="litres", words="Other litres", needed=False, units=VOLUME[::-1]),
            Amount(name="weight", words="Other weight of fibre, dry", needed=False),
            Number(name="minutes", words="Minutes of hands", whole=True, needed=False),
            Number(name="warmth_c", words="The warmest it was, °C", needed=False),
            NOTE,
        ),
        more=(
            Text(name="begun_at", words="When it was begun", kind="datetime-local",
                 needed=False),
            ROUND,
            Number(name="load", words="Which pot-load alone?", whole=True, needed=False,
                   hint="left empty: all of the round"),
        ),
        reminder="What you leave empty went as planned.",
        undo="step-not-done",
        instead="Say “not done after all” on the page Today.",
    ),
    Form(
        verb="step-not-done",
        heading="A step not done after all",
        button="Not done after all",
        done="The step is to be done again",
        asks=(RUN, STEP),
        more=(ROUND, NOTE),
        undo="",
        instead="Say on the page Today that it is done.",
    ),
    Form(
        verb="not-begun",
        heading="A run not begun after all",
        button="Not begun",
        done="The run is to be begun again",
        asks=(RUN,),
        undo="",
        instead="Begin it again.",
    ),
)  # fmt: skip
