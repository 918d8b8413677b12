"""The ledger as records: what happened, what it moved, what was lost, what was kept of it."""

from __future__ import annotations

from typing import Any

from django.db.models import OuterRef, Subquery

from api.records.columns import amount, count, exact, flag, key, mass, moment, said, text
from api.records.noun import ENTRY, Filter, Noun, Part, Values, by, happened, one_of, yes
from inventory.models import (
    Kind,
    Loss,
    Movement,
    Posting,
    Reading,
    Seal,
    Studio,
    Swatch,
    VesselUse,
)

READ = ("colour", "light", "wash", "rub")
USES = ("iron", "blank passed", "blank failed", "chipped", "mended")


def _with_correction(rows: Any, studio: Studio, _: Values) -> Any:
    """Postings with the entry that corrects them."""
    # Of that kind alone, as there are few, under an index of their own.
    corrections = Posting.objects.of(studio).filter(kind=Kind.CORRECT).order_by()
    by_it = corrections.filter(corrects=OuterRef("pk")).values("entry")
    return rows.annotate(corrected_by=Subquery(by_it[:1]))


POSTINGS = Noun(
    name="postings",
    one="posting",
    about="What happened, one entry at a time, in the order in which it happened, with the "
    "amounts that it moved. None is ever changed: a mistake is put right by one more, which "
    "`corrects` it.",
    model=Posting,
    columns=(
        key("entry"),
        text("kind", among=Kind.values),
        moment("occurred_at"),
        moment("recorded_at"),
        key("corrects", "corrects__entry", empty=True),
        key("corrected_by", empty=True),
        flag("undoes"),
        said("where_to"),
        said("by_whom"),
        said("note"),
    ),
    filters=(
        one_of("kind", Kind.values),
        *by("by_whom"),
        *happened("occurred_at"),
        Filter("recorded_since", "recorded_at", "since", about="written down from then on"),
    ),
    order=("occurred_at", "id"),
    key="entry",
    key_kind="uuid",
    also=_with_correction,
    parts=(
        Part(
            "movements",
            "What it moved of which lot, in the order in which it was written.",
            Movement,
            "posting_id",
            ("id",),
            (
                text("lot", "lot__code"),
                text("of", "lot__what"),
                amount("change", "amount", "lot__unit"),
                amount("left", "left_after", "lot__unit"),
                said("words"),
            ),
            keys="uuid",
        ),
    ),
)

MOVEMENTS = Noun(
    name="movements",
    one="movement",
    about="So much more or less of one lot, in the order in which it was written down, with what "
    "was left after it, and how it was counted or weighed.",
    model=Movement,
    columns=(
        count("id"),
        text("lot", "lot__code"),
        text("of", "lot__what"),
        count("number"),
        text("kind", "posting__kind", among=Kind.values),
        moment("occurred_at", "posting__occurred_at"),
        amount("change", "amount", "lot__unit"),
        amount("left", "left_after", "lot__unit"),
        flag("turns"),
        amount("counted", "counted", "lot__unit", empty=True),
        amount("gross", "gross", "lot__unit", empty=True),
        amount("tare", "tare", "lot__unit", empty=True),
        said("container"),
        count("pieces", empty=True),
        mass("piece_weight", "piece_mg", empty=True),
        count("metal_mg_per_l", empty=True),
        said("words"),
        key("entry", "posting__entry"),
    ),
    filters=(
        *by(lot="lot__code", of="lot__what"),
        one_of("kind", Kind.values, "posting__kind"),
        Filter("entry", ENTRY, "uuid"),
        *happened("posting__occurred_at"),
    ),
    key_kind="number",
)

LOSSES = Noun(
    name="losses",
    one="loss",
    about="What a material lost on the way from one state to another: water, grease, dust.",
    model=Loss,
    columns=(
        count("id"),
        text("material"),
        mass("amount", "amount"),
        said("reason"),
        moment("occurred_at", "posting__occurred_at"),
        key("entry", "posting__entry"),
    ),
    filters=(
        *by("material"),
        Filter("entry", ENTRY, "uuid"),
        *happened("posting__occurred_at"),
    ),
    key_kind="number",
)

SWATCHES = Noun(
    name="swatches",
    one="swatch",
    about="Kept samples of lots of fibre, by their numbers.",
    model=Swatch,
    columns=(
        count("number"),
        text("lot", "lot__code"),
        said("shade"),
        moment("at"),
        flag("snippet"),
        key("entry", "posting__entry"),
    ),
    filters=(*by("shade", lot="lot__code"), yes("snippet"), *happened("at")),
    order=("at", "id"),
    key="number",
    key_kind="number",
)

READINGS = Noun(
    name="readings",
    one="reading",
    about="What was read off a swatch: its colour, or how fast it is to light, washing or rubbing.",
    model=Reading,
    columns=(
        count("id"),
        count("swatch", "swatch__number"),
        moment("at"),
        text("what", among=READ),
        exact("value", empty=True),
        exact("lab_l", empty=True),
        exact("lab_a", empty=True),
        exact("lab_b", empty=True),
        count("days", empty=True),
        key("entry", "posting__entry"),
    ),
    filters=(
        Filter("swatch", "swatch__number", "number"),
        one_of("what", READ),
        *happened("at"),
    ),
    order=("at", "id"),
    key_kind="number",
)

VESSEL_USES = Noun(
    name="vessel-uses",
    one="vessel use",
    about="What a pot, tub or bucket went through: iron, a blank swatch, a chip, a mending.",
    model=VesselUse,
    columns=(
        count("id"),
        text("vessel", "vessel__code"),
        moment("at"),
        text("what", among=USES),
        key("entry", "posting__entry"),
    ),
    filters=(*by(vessel="vessel__code"), one_of("what", USES), *happened("at")),
    order=("at", "id"),
    key_kind="number",
)

SEALS = Noun(
    name="seals",
    one="seal",
    about="Seals over the postings of the studio, each over all before it; whoever keeps the "
    "last digest can tell later that nothing before it was changed.",
    model=Seal,
    columns=(count("number"), count("postings"), text("digest"), moment("sealed_at")),
    key="number",
    key_kind="number",
)

NOUNS = (POSTINGS, MOVEMENTS, LOSSES, SWATCHES, READINGS, VESSEL_USES, SEALS)
