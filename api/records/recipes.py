"""How shades are made, as records: recipes in their versions, and baths that the studio makes."""

from __future__ import annotations

from api.records.columns import (
    clock,
    count,
    exact,
    flag,
    heats,
    part,
    said,
    text,
    words,
)
from api.records.noun import Noun, Part, by, yes
from sourcing.models import Making, Recipe, RecipeDose, RecipeStep

STEPS = Part(
    "steps",
    "What is done, in its order.",
    RecipeStep,
    "recipe_id",
    ("number",),
    (
        count("number"),
        text("name"),
        text("kind"),
        words("vessels"),
        part("l_per_kg", empty=True),
        heats("heats"),
        count("begun_c", empty=True),
        count("stand_min"),
        count("stand_max", empty=True),
        flag("night"),
        count("cool_min"),
        count("hands_min"),
        text("hands_per", among=("load", "run", "kg", "dye load")),
        flag("at_once"),
        flag("strain"),
        count("strained_c", empty=True),
        clock("from_time", empty=True),
        flag("one_lot"),
        flag("aired"),
        said("metal"),
        count("snippet_min"),
        count("snippet_hands_min"),
    ),
)
DOSES = Part(
    "doses",
    "What its steps take, by weight of dry fibre.",
    RecipeDose,
    "recipe_id",
    ("number",),
    (
        count("number"),
        text("step"),
        text("what"),
        text("kind", among=("dyestuff", "supply", "liquor", "bath")),
        part("per_fibre"),
        part("ml_per_100g"),
        part("l_per_kg"),
        said("state"),
    ),
)

RECIPES = Noun(
    name="recipes",
    one="recipe",
    about="How a shade is made on a fibre, with steps and doses. A change makes a new version and "
    "leaves the old one; by its code the newest is meant.",
    model=Recipe,
    columns=(
        text("code"),
        count("version"),
        text("shade"),
        words("fibres"),
        part("l_per_kg"),
        said("mordant"),
        exact("mordant_percent"),
        flag("bright"),
        flag("needs_scoured"),
        text("match", among=("blend", "lot")),
        said("water"),
        exact("ph_low", empty=True),
        exact("ph_high", empty=True),
        flag("fugitive"),
        count("depth"),
        words("may_share"),
        said("second_of"),
        part("strength", empty=True),
    ),
    filters=(*by("code", "shade"), yes("fugitive"), yes("bright")),
    order=("code", "id"),
    key="code",
    newest="version",
    parts=(STEPS, DOSES),
)

MAKINGS = Noun(
    name="makings",
    one="making",
    about="How the studio makes a bath itself before it is needed.",
    model=Making,
    columns=(
        text("bath"),
        text("dyestuff"),
        text("state"),
        exact("g_per_litre"),
        heats("heats"),
        count("hands_min"),
        words("vessels"),
    ),
    filters=by("dyestuff"),
    order=("bath",),
    key="bath",
)

NOUNS = (RECIPES, MAKINGS)
