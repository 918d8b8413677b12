"""Every form by the name of its verb, and in which order they stand on the page of forms."""

from __future__ import annotations

from api.web.note.form import Form
from api.web.note.forms import (
    claims,
    corrections,
    fibre,
    jars,
    lots,
    orders,
    pickups,
    readers,
    runs,
    sources,
    steps,
    suppliers,
    swatches,
    tubs,
    vessels,
)

NOUNS = (
    pickups, lots, jars, fibre, runs, steps, vessels, swatches, tubs, sources, suppliers, orders,
    claims, readers, corrections,
)  # fmt: skip
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
                        "step-not-done", "not-begun", "claim", "release")),
    ("On the shelves", ("judge", "set-aside", "use-again", "recount", "label", "correct")),
    ("Pots and swatches", ("mark-iron", "blank-swatch", "chip", "keep-swatch", "read-swatch")),
    ("Sources", ("add-source", "agree", "note-leave", "end-leave", "note-carrying", "close-days",
                 "reopen-days", "rename-source")),
    ("Orders and suppliers", ("write-order", "send-order", "confirm-order", "order-came",
                              "call-off-order", "add-supplier", "change-supplier", "add-offer",
                              "end-offer")),
    ("Letters", ("add-reader", "change-reader", "readdress-reader", "stop-letters",
                 "begin-letters")),
)  # fmt: skip
