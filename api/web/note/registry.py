"""Every form by the name of its verb, and in which order they stand on the page of forms."""

from __future__ import annotations

from api.web.note.form import Form
from api.web.note.forms import (
    chores,
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
from inventory.science.saying import say

NOUNS = (
    pickups,
    lots,
    jars,
    fibre,
    runs,
    steps,
    chores,
    vessels,
    swatches,
    tubs,
    sources,
    suppliers,
    orders,
    claims,
    readers,
    corrections,
)
FORMS: dict[str, Form] = {form.verb: form for noun in NOUNS for form in noun.FORMS}
# The first are those that a day is full of; each form stands in one group.
GROUPS = (
    (
        say("Every day"),
        ("pick-up", "dip", "weigh-again", "put-by", "draw", "tip-out", "chore-done"),
    ),
    (
        say("Pick-ups and tubs"),
        (
            "miss-pick-up",
            "report-pick-up",
            "arrive",
            "receive",
            "check-nest",
            "leave-tubs",
            "fetch-tubs",
            "lose-tubs",
        ),
    ),
    (
        say("Jars and baths"),
        (
            "begin-jar",
            "draw-liquor",
            "top-up",
            "strain",
            "keep-at",
            "evaporate",
            "make-bath",
            "keep-bath",
            "use-bath",
            "move-bath",
        ),
    ),
    (
        say("Fibre and runs"),
        (
            "step-done",
            "scour",
            "mordant",
            "dry",
            "begin-run",
            "snippet",
            "finish-run",
            "receive-fibre",
            "measure",
            "judge-dyed",
            "take-back-run",
            "step-not-done",
            "chore-not-done",
            "not-begun",
            "claim",
            "release",
        ),
    ),
    (say("On the shelves"), ("judge", "set-aside", "use-again", "recount", "label", "correct")),
    (say("Pots and swatches"), ("mark-iron", "blank-swatch", "chip", "keep-swatch", "read-swatch")),
    (
        say("Sources"),
        (
            "add-source",
            "agree",
            "note-leave",
            "end-leave",
            "note-carrying",
            "close-days",
            "reopen-days",
            "rename-source",
        ),
    ),
    (
        say("Orders and suppliers"),
        (
            "write-order",
            "send-order",
            "confirm-order",
            "order-came",
            "call-off-order",
            "add-supplier",
            "change-supplier",
            "add-offer",
            "end-offer",
        ),
    ),
    (
        say("Letters"),
        ("add-reader", "change-reader", "readdress-reader", "stop-letters", "begin-letters"),
    ),
)
