"""What happened to a lot, as records: from its moment on, each row holds until the next."""

from __future__ import annotations

from api.records.columns import (
    Column,
    count,
    day,
    exact,
    flag,
    graded,
    key,
    mass,
    measured,
    moment,
    part,
    said,
    text,
)
from api.records.noun import ENTRY, Filter, Noun, by, happened, one_of, yes
from inventory.models import (
    BathState,
    ClothMeasured,
    Dip,
    Dyeing,
    FibreState,
    JarEvent,
    PieceWeighing,
    Standing,
    Stay,
    Verdict,
)
from inventory.models.lots import OfLot

HOLDS = "In the order of their moments; each holds from its moment on."


def _of_lot(
    name: str,
    one: str,
    about: str,
    model: type[OfLot] | type[PieceWeighing],
    columns: tuple[Column, ...],
    filters: tuple[Filter, ...] = (),
) -> Noun:
    """Rows about a lot, each with the moment from which it holds and the entry that said so."""
    whole = (count("id"), text("lot", "lot__code"), moment("at"), *columns)
    return Noun(
        name=name,
        one=one,
        about=about,
        model=model,
        columns=(*whole, key("entry", "posting__entry")),
        filters=(
            *by(lot="lot__code", what_lot="lot__what"),
            *filters,
            Filter("entry", ENTRY, "uuid"),
            *happened("at"),
        ),
        order=("at", "id"),
        key_kind="number",
    )


STAYS = _of_lot(
    "stays",
    "stay",
    f"In which state and which place a lot is kept. {HOLDS}",
    Stay,
    (text("state"), said("place"), text("place_kind"), measured("temperature_c")),
    by("state", "place", "place_kind"),
)
STANDINGS = _of_lot(
    "standings",
    "standing",
    f"Whether a lot is labelled, set aside and weighed, and when it comes. {HOLDS}",
    Standing,
    (
        flag("labelled"),
        said("set_aside"),
        moment("arrives_at", empty=True),
        flag("nest_checked", empty=True),
        flag("weighed"),
    ),
    (yes("labelled"), yes("weighed")),
)
VERDICTS = _of_lot(
    "verdicts",
    "verdict",
    "What somebody saw of a lot: sound or bad. It stands above the sum of days.",
    Verdict,
    (flag("sound"),),
    (yes("sound"),),
)
DIPS = _of_lot(
    "dips",
    "dip",
    "Tests of a jar: a strip from 1 faint to 5 black, or a reading in milligrams of metal a litre.",
    Dip,
    (graded("grade"), measured("metal_mg_per_l")),
)
JAR_EVENTS = _of_lot(
    "jar-events",
    "jar event",
    "What changed the liquor of a jar; how much is in the movement of the same entry.",
    JarEvent,
    (
        text("kind", among=("topped up", "strained", "kept at", "evaporated")),
        part("vinegar_parts"),
        exact("acid_percent"),
        measured("temperature_c"),
    ),
    (one_of("kind", ("topped up", "strained", "kept at", "evaporated")),),
)
BATH_STATES = _of_lot(
    "bath-states",
    "bath state",
    f"How often a bath was used, and what alum is left in it. {HOLDS}",
    BathState,
    (count("times_used"), mass("alum_left", "alum_left_mg")),
)
FIBRE_STATES = _of_lot(
    "fibre-states",
    "fibre state",
    f"What has been done to a lot of fibre: scoured, mordanted, damp, dyed. {HOLDS}",
    FibreState,
    (
        day("since", empty=True),
        flag("scoured"),
        said("mordant"),
        exact("mordant_percent"),
        flag("damp"),
        exact("iron_percent"),
        said("shade"),
    ),
    (yes("scoured"), yes("damp"), *by("mordant", "shade")),
)
DYEINGS = _of_lot(
    "dyeings",
    "dyeing",
    f"How dark a lot of fibre came out, and what it is kept as. {HOLDS}",
    Dyeing,
    (
        graded("depth"),
        said("quality", among=("second quality", "for re-dyeing")),
        said("came_out"),
    ),
    (one_of("quality", ("second quality", "for re-dyeing")),),
)
CLOTH_SIZES = _of_lot(
    "cloth-sizes",
    "cloth size",
    f"What a square metre of a lot of cloth weighs dry, and how wide it lies. {HOLDS}",
    ClothMeasured,
    (exact("g_per_m2"), count("width_mm")),
)
PIECE_WEIGHINGS = _of_lot(
    "piece-weighings",
    "piece weighing",
    "Counts that were weighed; they teach what one piece weighs.",
    PieceWeighing,
    (text("what"), count("pieces"), mass("weight", "weight_mg")),
    by("what"),
)

NOUNS = (
    STAYS,
    STANDINGS,
    VERDICTS,
    DIPS,
    JAR_EVENTS,
    BATH_STATES,
    FIBRE_STATES,
    DYEINGS,
    CLOTH_SIZES,
    PIECE_WEIGHINGS,
)
