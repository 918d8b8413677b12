"""Who is in and what takes the room, as records: hours, blocks, chores, weather, the line."""

from __future__ import annotations

from api.records.columns import (
    clock,
    count,
    day,
    flag,
    key,
    mass,
    moment,
    said,
    text,
    words,
)
from api.records.noun import Filter, Noun, by, happened, on_days, yes
from sourcing.models import Block, Chore, ChoreDone, Hanging, Hours, Weather

HOURS = Noun(
    name="hours",
    one="stretch of hours",
    about="Who is in on a day of every week, or on one day, with how many minutes at the pots.",
    model=Hours,
    columns=(
        count("id"),
        text("who"),
        count("weekday", empty=True),
        day("day", empty=True),
        count("hands_min"),
        clock("opens", empty=True),
        clock("closes", empty=True),
        day("since", empty=True),
        day("last_on", empty=True),
        said("site", "site__code"),
        said("note"),
    ),
    filters=(*by("who", site="site__code"), Filter("weekday", "weekday", "number")),
    key_kind="number",
)

BLOCKS = Noun(
    name="blocks",
    one="block",
    about="What takes the room for a while: a group day, teaching, a holiday, a power cut.",
    model=Block,
    columns=(
        text("code"),
        text("what"),
        moment("since"),
        moment("until"),
        words("rings"),
        words("vessels"),
        mass("line", "line_mg"),
        count("hands_min"),
        flag("no_iron"),
        flag("group"),
    ),
    filters=(*by("what"), yes("group"), *happened("since")),
    order=("code",),
    key="code",
)

CHORES = Noun(
    name="chores",
    one="chore",
    about="Fixed work on a day, outside any run.",
    model=Chore,
    columns=(
        count("id"),
        day("day"),
        text("what"),
        count("hands_min"),
        said("clears"),
        moment("at", empty=True),
    ),
    filters=(*by("what", clears="clears"), *on_days("day")),
    order=("day", "id"),
    key_kind="number",
)

CHORES_DONE = Noun(
    name="chores-done",
    one="word on a chore",
    about="What was said of chores: done, or not done after all; the last word holds.",
    model=ChoreDone,
    columns=(
        key("entry"),
        day("day"),
        text("what"),
        flag("done"),
        moment("at"),
        said("note"),
    ),
    filters=(*by("what"), yes("done"), *happened("at")),
    order=("at", "id"),
    key="entry",
    key_kind="uuid",
)

WEATHER = Noun(
    name="weather",
    one="day of weather",
    about="Days on which work outdoors, or a line outdoors, is barred.",
    model=Weather,
    columns=(day("day"), flag("frost"), flag("aired")),
    filters=(yes("frost"), yes("aired"), *on_days("day")),
    order=("day",),
    key="day",
    key_kind="day",
)

HANGINGS = Noun(
    name="hangings",
    one="hanging",
    about="Cloth that hangs on a line, from when to when.",
    model=Hanging,
    columns=(
        count("id"),
        text("line"),
        moment("since"),
        moment("until"),
        mass("weight", "weight_mg"),
        said("what"),
    ),
    filters=(*by("line"), *happened("since")),
    order=("since", "id"),
    key_kind="number",
)

NOUNS = (HOURS, BLOCKS, CHORES, CHORES_DONE, WEATHER, HANGINGS)
