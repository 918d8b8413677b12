"""What the studio works with, as records: sites, water, vessels, heat, lines, cold, its figures."""

from __future__ import annotations

from api.records.columns import (
    count,
    day,
    exact,
    flag,
    litres,
    mass,
    measured,
    power,
    said,
    text,
    words_with_commas,
)
from api.records.noun import Noun, by, yes
from inventory.models import ColdPlace, Line, Ring, Site, StudioRule, Vessel, Water

AT_SITE = said("site", "site__code")
BY_SITE = by(site="site__code")

SITES = Noun(
    name="sites",
    one="site",
    about="The addresses of the studio.",
    model=Site,
    columns=(text("code"), said("name")),
    order=("code",),
    key="code",
)

WATERS = Noun(
    name="waters",
    one="water",
    about="Where water comes from, with its pH and how warm it comes from the tap.",
    model=Water,
    columns=(text("name"), exact("ph", empty=True), count("temperature_c"), AT_SITE),
    filters=BY_SITE,
    order=("name",),
    key="name",
)

VESSELS = Noun(
    name="vessels",
    one="vessel",
    about="Pots, tubs and buckets; what they went through is in `vessel-uses`.",
    model=Vessel,
    columns=(
        text("code"),
        text("kind"),
        said("material"),
        litres("brim", "brim_ml"),
        litres("working", "working_ml"),
        flag("iron_pot"),
        flag("food"),
        AT_SITE,
    ),
    filters=(*by("kind", "material"), yes("iron_pot"), yes("food"), *BY_SITE),
    order=("code",),
    key="code",
)

RINGS = Noun(
    name="rings",
    one="ring",
    about="Heat places on the stove, with the vessels that each is not for.",
    model=Ring,
    columns=(text("code"), power("power", "watts"), words_with_commas("not_for"), AT_SITE),
    filters=BY_SITE,
    order=("code",),
    key="code",
)

LINES = Noun(
    name="lines",
    one="line",
    about="Drying room, in dry weight.",
    model=Line,
    columns=(text("code"), mass("holds", "holds_mg"), flag("outdoors"), AT_SITE),
    filters=(yes("outdoors"), *BY_SITE),
    order=("code",),
    key="code",
)

COLD_PLACES = Noun(
    name="cold-places",
    one="cold place",
    about="Fridges, freezers and trays, with what each holds; null: without limit.",
    model=ColdPlace,
    columns=(
        text("code"),
        text("kind"),
        mass("holds", "holds_mg", empty=True),
        measured("temperature_c"),
        AT_SITE,
    ),
    filters=(*by("kind"), *BY_SITE),
    order=("code",),
    key="code",
)

OWN_FIGURES = Noun(
    name="own-figures",
    one="figure of our own",
    about="Figures of the studio's own; each stands above the shipped one from its day on.",
    model=StudioRule,
    columns=(
        count("id"),
        text("item"),
        text("rule", "name"),
        exact("value"),
        exact("low", empty=True),
        exact("high", empty=True),
        day("since", empty=True),
        text("basis"),
        said("source"),
        said("note"),
    ),
    filters=by("item", rule="name"),
    order=("item", "id"),
    key_kind="number",
)

NOUNS = (SITES, WATERS, VESSELS, RINGS, LINES, COLD_PLACES, OWN_FIGURES)
