"""What lies on the shelves, as records: lots, jars, baths, supplies, fibre, dyestuffs."""

from __future__ import annotations

from typing import Any

from django.db.models import OuterRef, Q, Subquery

from api.records.columns import (
    amount,
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
    volume,
)
from api.records.noun import Noun, Values, by, happened, one_of, with_left, yes
from inventory.histories import corrections
from inventory.models import Bath, Dyestuff, FibreLot, Jar, Lot, LotKind, Stay, Studio
from inventory.prepared import among


def _taken_back(studio: Studio) -> Values:
    """The postings that do not count any more."""
    _, void = corrections(studio)
    return {"void": tuple(void)}


def _with_stay(rows: Any, studio: Studio, values: Values) -> Any:
    """Lots with their last stay, as what is left of them is that of their last movement.

    As `inventory.histories` reads it: what was taken back does not count, but for how a lot began.
    """
    stands = ~Q(posting_id__in=among(values["void"], kind="uuid"))
    over = (
        Stay.objects.of(studio)
        .filter(lot=OuterRef("pk"))
        .filter(stands | Q(posting_id=OuterRef("posting_id")))
        .order_by("-at", "-pk")
    )
    stay = {cell: Subquery(over.values(cell)[:1]) for cell in STAY}
    return with_left("pk")(rows.annotate(**stay), studio, values)


STAY = ("state", "place", "place_kind")
LEFT = amount("left", "left", "unit")
LEFT_OF_LOT = amount("left", "left", "lot__unit")

LOTS = Noun(
    name="lots",
    one="lot",
    about="Everything whose amount is counted: dyestuff, supplies, jars, baths and fibre, with "
    "what is left of each after its last movement, and how and where it was last put.",
    model=Lot,
    columns=(
        text("code"),
        text("kind", among=LotKind.values),
        text("what"),
        LEFT,
        *(said(cell) for cell in STAY),
        said("parent", "parent__code"),
        said("site", "site__code"),
        said("source"),
        day("gathered_on", empty=True),
        said("permission"),
        flag("foraged"),
        moment("began_at", "posting__occurred_at"),
        key("entry", "posting__entry"),
    ),
    filters=(
        *by("what", "source", *STAY, site="site__code", parent="parent__code"),
        one_of("kind", LotKind.values),
        yes("foraged"),
        yes("any_left"),
        *happened("posting__occurred_at"),
    ),
    order=("code",),
    key="code",
    first=_taken_back,
    also=_with_stay,
)

SUPPLIES = Noun(
    name="supplies",
    one="supply",
    about="Keeping supplies such as alum, soda crystals and tannin, with what is left.",
    model=Lot,
    columns=(
        text("code"),
        text("what"),
        LEFT,
        said("site", "site__code"),
        moment("began_at", "posting__occurred_at"),
        key("entry", "posting__entry"),
    ),
    filters=by("what", site="site__code"),
    order=("code",),
    key="code",
    also=lambda rows, *more: with_left("pk")(rows.filter(kind=LotKind.SUPPLY), *more),
)

JARS = Noun(
    name="jars",
    one="jar",
    about="Jars of home-made liquor: how each was set up, and what is left in it.",
    model=Jar,
    columns=(
        text("code", "lot__code"),
        text("name"),
        text("metal"),
        LEFT_OF_LOT,
        part("vinegar_parts"),
        part("water_parts"),
        exact("acid_percent"),
        moment("begun_at", empty=True),
        volume("begun_with", "begun_volume_ul"),
        measured("temperature_c"),
        mass("metal_put_in", "metal_put_in_mg", empty=True),
        said("looks"),
        said("site", "lot__site__code"),
        key("entry", "posting__entry"),
    ),
    filters=(*by("name", "metal", site="lot__site__code"), *happened("begun_at")),
    order=("lot__code",),
    key="lot__code",
    also=with_left("lot_id"),
)

BATHS = Noun(
    name="baths",
    one="bath",
    about="Baths that are kept for use: how each was made, and what is left of it.",
    model=Bath,
    columns=(
        text("code", "lot__code"),
        text("what", "lot__what"),
        LEFT_OF_LOT,
        moment("made_at"),
        measured("temperature_c", empty=False),
        said("shade"),
        graded("depth"),
        said("metal"),
        said("site", "lot__site__code"),
        key("entry", "posting__entry"),
    ),
    filters=(
        *by("shade", "metal", what="lot__what", site="lot__site__code"),
        *happened("made_at"),
    ),
    order=("lot__code",),
    key="lot__code",
    also=with_left("lot_id"),
)

FIBRE = Noun(
    name="fibre",
    one="lot of fibre",
    about="Lots of yarn, cloth and fleece, with what is left of each; what was done to them is "
    "in `fibre-states` and `dyeings`.",
    model=FibreLot,
    columns=(
        text("code", "lot__code"),
        text("fibre", "lot__what"),
        text("form"),
        LEFT_OF_LOT,
        flag("clients_own"),
        said("parent", "lot__parent__code"),
        said("site", "lot__site__code"),
        key("entry", "posting__entry"),
    ),
    filters=(
        *by(fibre="lot__what", form="form", site="lot__site__code", parent="lot__parent__code"),
        yes("clients_own"),
    ),
    order=("lot__code",),
    key="lot__code",
    also=with_left("lot_id"),
)

DYESTUFFS = Noun(
    name="dyestuffs",
    one="dyestuff",
    about="The studio's own list of what gives colour, with what must be said of it.",
    model=Dyestuff,
    columns=(
        text("name"),
        said("piece"),
        said("pieces"),
        flag("foraged"),
        flag("fugitive"),
        said("caution", "hazard"),
        said("note"),
    ),
    filters=(yes("foraged"), yes("fugitive")),
    order=("name",),
    key="name",
)

NOUNS = (LOTS, SUPPLIES, JARS, BATHS, FIBRE, DYESTUFFS)
