"""Every form by the name of its verb, and in which order they stand on the page of forms."""

from __future__ import annotations

from api.web.note.form import Form
from api.web.note.forms import fibre, jars, lots, pickups, runs, steps, swatches, tubs, vessels

NOUNS = (pickups, lots, jars, fibre, runs, steps, vessels, swatches, tubs)
FORMS: dict[str, Form] = {form.verb: form for noun in NOUNS for form in noun.FORMS}
# The first are those that a day is full of; each form stands in one group.
GROUPS = (
    ("Every day", ("pick-up", "dip", "weigh-again", "put-by", "draw", "tip-out")),
    ("Pick-ups and tubs", ("miss-pick-up", "report-pick-up", "arrive", "receive", "check-nest",
                           "leave-tubs", "fetch-tubs", "lose-tubs")),
    ("Jars and baths", ("begin-jar", "draw-liquor", "top-up", "strain", "keep-at", "evaporate",
                        "make-bath", "use-bath", "move-bath")),
    ("Fibre and runs", ("step-done", "scour", "mordant", "dry", "begin-run", "snippet",
                        "finish-run", "receive-fibre", "measure", "judge-dyed", "take-back-run",
                        "step-not-done", "not-begun")),
    ("On the shelves", ("judge", "set-aside", "use-again", "recount", "label")),
    ("Pots and swatches", ("mark-iron", "blank-swatch", "chip", "keep-swatch", "read-swatch")),
)  # fmt: skip
