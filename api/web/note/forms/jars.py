"""Forms about jars: begun, dipped, topped up, strained, drawn from, moved."""

from __future__ import annotations

from api.web.note.ask import Number, One, Pick, options
from api.web.note.form import NOTE, Form
from api.web.note.things import jars

JAR = Pick(name="jar", words="Which jar?", among=jars)
GRADES = options(
    ("1", "faint"), ("2", "pale grey"), ("3", "middle grey"), ("4", "dark grey"), ("5", "black")
)
FORMS = (
    Form(
        verb="dip",
        heading="A strip dipped",
        button="Keep this strip",
        done="The strip is written down",
        asks=(
            JAR,
            One(name="grade", words="How dark is the strip?", options=GRADES, reads=int,
                part="strip", needed=False, hint="Hold the strip beside these in daylight."),
        ),
        more=(
            Number(name="metal_mg_per_l", words="mg/L of metal, where a test strip was read",
                   needed=False),
            NOTE,
        ),
        reminder="Close the lid loosely again.",
    ),
)  # fmt: skip
