"""The form of a search for another week."""

from __future__ import annotations

from api.contract.shapes import (
    CHANCE,
    MOMENT,
    TEXT,
    UUID,
    WHOLE,
    YES,
    about,
    maybe,
    one_of,
    record,
    rows,
    taken,
)
from api.models.seeks import STATES
from sourcing.week.best import NEAR, NO_SOLVER, PROVED, STOPPED, TIME_OVER

GOALS = about(
    record(on_time=WHOLE, saved_mg=WHOLE, changed=WHOLE, dry_min=WHOLE, worst_day_min=WHOLE),
    "In the order in which they count: mg of fibre dry in time, each times its importance; mg "
    "saved from spoiling; runs that moved; minutes until dry, summed; hands of the fullest day.",
)
PROGRESS = record(
    goals=GOALS,
    bound=maybe(GOALS),
    placings=about(WHOLE, "Runs placed so far."),
    part=about(CHANCE, "Of the effort that is spent."),
)
WAIT = record(run=TEXT, step=TEXT, not_before=MOMENT, stays=YES)
STEP = record(run=TEXT, step=TEXT)
FOUND = record(
    order=rows(TEXT),
    waits=rows(WAIT),
    sites=rows(record(run=TEXT, site=TEXT)),
    together=rows(record(run=TEXT, in_pots_of=TEXT, up_to=TEXT)),
    goals=GOALS,
    plain=about(GOALS, "Of the plain week."),
    bound=maybe(about(GOALS, "That no week is better than.")),
    status=one_of(PROVED, NEAR, TIME_OVER, STOPPED, NO_SOLVER),
    gap=maybe(about(CHANCE, "Of the first goal that is not proved.")),
    open_goal=TEXT,
    placings=WHOLE,
)
CHANGE = record(
    kind=one_of("better", "worse", "otherwise"),
    what=maybe(about(TEXT, "Code of the run or lot.")),
    text=TEXT,
)
SEARCH = record(
    id=UUID,
    asked_at=MOMENT,
    at=MOMENT,
    days=WHOLE,
    stays=rows(TEXT),
    steps=about(rows(STEP), "That stay at their hour."),
    near=YES,
    state=one_of(*STATES),
    stopping=YES,
    progress=maybe(PROGRESS),
    found=maybe(FOUND),
    changes=maybe(rows(CHANGE)),
    settled=maybe(one_of("taken", "left")),
    said=maybe(about(TEXT, "Why it was broken off.")),
)
ANOTHER_WEEK = record(search=maybe(SEARCH))
ASKED_FOR = taken(
    ("at", "days", "stays", "steps", "near"),
    id=UUID,
    at=MOMENT,
    days={"type": "integer", "minimum": 1, "maximum": 28, "default": 7},
    stays=rows({**TEXT, "minLength": 1, "maxLength": 40}, at_most=400),
    steps=rows(
        taken(
            run={**TEXT, "minLength": 1, "maxLength": 40},
            step={**TEXT, "minLength": 1, "maxLength": 80},
        ),
        at_most=400,
    ),
    near={**YES, "default": False},
)
_GOALS = {"on_time": 16560000, "saved_mg": 1660000, "changed": 0, "dry_min": 164610,
          "worst_day_min": 273}  # fmt: skip
EXAMPLE = {
    "search": {
        "id": "018f3c1e-7c1a-7000-8000-5a1d0f4c2b77",
        "asked_at": "2026-11-23T07:31:00+00:00",
        "at": "2026-11-23T07:30:00+00:00",
        "days": 7,
        "stays": ["D"],
        "steps": [{"run": "C", "step": "hot alum"}],
        "near": False,
        "state": "seeking",
        "stopping": False,
        "progress": {"goals": _GOALS, "bound": None, "placings": 1240, "part": 0.1},
        "found": None,
        "changes": None,
        "settled": None,
        "said": None,
    }
}
