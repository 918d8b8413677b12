"""The pages about runs under way: the plan that each was begun with, what of it is done, claims.

What a run that is begun was planned with is not worked out anew: other runs go round it.
"""

from __future__ import annotations

from decimal import Decimal

from sourcing.notebook.page import Column, Page

NUMBER = (Decimal(1), Decimal(1000))
WARM = (Decimal(0), Decimal(110))
WARMTH = (Decimal(-60), Decimal(110))
PLACES = ("lots", "jars", "baths", "supplies", "fibre")


def _run() -> Column:
    return Column("run", "code", "A", "which run", required=True, refers=("runs",))


def _no(meaning: str) -> Column:
    return Column("no", "whole", "1", meaning, True, (), (), *NUMBER)


BEGUN = Page(
    "begun",
    "Runs that are begun and keep the plan that they had then.",
    (
        _run(),
        Column("begun at", "moment", "Mon 23 Nov 2026 09:00", "when", required=True),
        Column("by step", "yes or no", "no", "yes: its first step being done began it"),
    ),
    ("run",),
    "begun run",
)
BEGUN_STEPS = Page(
    "begun_steps",
    "The pot-loads of a begun run as they were planned.",
    (
        _run(),
        _no("its place in the plan"),
        Column("step", "name", "scour", "its word on the run sheet", required=True),
        Column("kind", "name", "scour", "what is done", required=True, most=20),
        Column("round", "whole", "1", "of runs that go in several", True, (), (), *NUMBER),
        Column("load", "whole", "1", "pot-load of the round", True, (), (), *NUMBER),
        Column("vessel", "code", "P1", "the pot; empty: none"),
        Column("ring", "code", "R1", "empty: unheated"),
        Column("from", "moment", "Mon 23 Nov 2026 09:00", "begun", required=True),
        Column("until", "moment", "Mon 23 Nov 2026 10:48", "the flame is out", required=True),
        Column("held until", "moment", "Mon 23 Nov 2026 11:20", "pot free again", required=True),
        Column("there until", "moment", "Mon 23 Nov 2026 10:48", "somebody has to be there"),
        Column("hands", "minutes", "30 min", "of hands"),
        Column("litres", "volume", "36 L", "of liquor"),
        Column("weight", "weight", "1,200 g", "dry, of the fibre in it"),
        Column("heat", "minutes", "48 min", "till it is warm"),
        Column("hold", "minutes", "60 min", "at its warmth"),
        Column("begins at", "whole", "8", "°C", False, (), (), *WARM),
        Column("goes to", "whole", "55", "°C", False, (), (), *WARM),
        Column("shared with", "codes", "H", "runs whose cloth is in the same pot"),
    ),
    ("run", "no"),
    "step of a begun run",
)
BEGUN_TAKES = Page(
    "begun_takes",
    "What a begun run was to take.",
    (
        _run(),
        _no("its place in the plan"),
        Column("lot", "code", "W-88", "of which lot, that may be still to come", required=True),
        Column("what", "name", "wool", "what it is", required=True),
        Column("step", "name", "scour", "that takes it; empty: the fibre itself"),
        Column("weight", "weight", "2,105 g", "of what is weighed"),
        Column("volume", "volume", "450 mL", "of what is measured"),
        Column("length", "length", "2.4 m", "of measured cloth"),
        Column("at", "moment", "Mon 23 Nov 2026 09:00", "when", required=True),
        Column("to come", "yes or no", "no", "yes: it was not on the shelf yet"),
        Column("carried from", "code", "Shed", "site it is fetched from; empty: it is there"),
        Column("carried to", "code", "Yard", "site it is fetched to"),
        Column("way", "whole", "1", "which way there; empty: none", False, (), (), *NUMBER),
    ),
    ("run", "no"),
    "take of a begun run",
)
BEGUN_HANGS = Page(
    "begun_hangs",
    "When the cloth of a begun run was to hang, a row a round.",
    (
        _run(),
        _no("which round"),
        Column("line", "code", "line", "which line", required=True),
        Column("from", "moment", "Thu 26 Nov 2026 10:00", "hung up", required=True),
        Column("until", "moment", "Sat 28 Nov 2026 10:00", "dry", required=True),
        Column("weight", "weight", "2,000 g", "dry", required=True),
    ),
    ("run", "no"),
    "hanging of a begun run",
)
BEGUN_JOBS = Page(
    "begun_jobs",
    "Jobs that a begun run asked for.",
    (
        _run(),
        _no("its place in the plan"),
        Column("job", "name", "freeze AV-1116", "what is done", required=True),
        Column("by", "day", "Mon 23 Nov 2026", "its day", required=True),
        Column("words", "text", "freeze AV-1116 today", "as the plan says it", required=True),
        Column("hands", "minutes", "10 min", "of hands"),
        Column("kind", "name", "put by", "put by, or make bath"),
        Column("lot", "code", "AV-1116", "what it is about"),
    ),
    ("run", "no"),
    "job of a begun run",
)
STEPS_DONE = Page(
    "steps_done",
    "Steps of begun runs that are done, with what went otherwise than planned.",
    (
        _run(),
        Column("step", "name", "scour", "its word on the run sheet", required=True),
        Column("round", "whole", "1", "which", True, (), (), *NUMBER),
        Column(
            "load", "whole", "1", "one pot-load; empty: all that were left", False, (), (), *NUMBER
        ),
        Column("done at", "moment", "Mon 23 Nov 2026 10:48", "when", required=True),
        Column("begun at", "moment", "Mon 23 Nov 2026 09:10", "where that differed"),
        Column("vessel", "code", "P2", "another pot than planned"),
        Column("litres", "volume", "35 L", "where they differed"),
        Column("weight", "weight", "1,180 g", "where it differed"),
        Column("hands", "minutes", "40 min", "where they differed"),
        Column("warmth", "number", "58.5", "°C, the warmest it was", False, (), (), *WARMTH),
        Column("note", "text", "a little cooler", "anything worth keeping in words", most=400),
    ),
    ("run", "step", "round", "load"),
    "step that is done",
)
STEPS_TOOK = Page(
    "steps_took",
    "What steps took that took otherwise than planned.",
    (
        _run(),
        Column("step", "name", "dye", "its word on the run sheet", required=True),
        Column("round", "whole", "1", "which", True, (), (), *NUMBER),
        Column("load", "whole", "1", "empty: all that were left", False, (), (), *NUMBER),
        _no("its place among what it took"),
        Column("lot", "code", "AV-1030", "of which lot", required=True),
        Column("weight", "weight", "1,450 g", "of what is weighed"),
        Column("volume", "volume", "450 mL", "of what is measured"),
    ),
    ("run", "step", "round", "load", "no"),
    "take of a step",
)
CLAIMS = Page(
    "claims",
    "What is promised to runs.",
    (
        _run(),
        Column("lot", "code", "W-88", "of which lot", required=True, refers=PLACES),
        Column("weight", "weight", "2,105 g", "of what is weighed"),
        Column("volume", "volume", "450 mL", "of what is measured"),
        Column("at", "moment", "Mon 23 Nov 2026 09:00", "since when", required=True),
        Column("step", "name", "scour", "for which step"),
    ),
    ("run", "lot"),
    "claim",
)
BEGUN_PAGES = (BEGUN, BEGUN_STEPS, BEGUN_TAKES, BEGUN_HANGS, BEGUN_JOBS, STEPS_DONE, STEPS_TOOK,
               CLAIMS)  # fmt: skip
