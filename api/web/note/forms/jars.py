"""Forms about jars and baths: begun, dipped, topped up, strained, drawn from, moved, used."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from api.web.note.ask import VOLUME, Amount, Body, Number, One, Pick, Text, options
from api.web.note.form import NOTE, Filling, Form
from api.web.note.places import Where, places
from api.web.note.takes import one_take, said_take
from api.web.note.things import baths, jars, jars_by_code, lots_and_supplies
from inventory.codes import next_name, numbered_code
from inventory.science.cautions import Caution, cautions_for_jar

JAR = Pick(name="jar", words="Which jar?", among=jars_by_code)
BATH = Pick(name="bath", words="Which bath?", among=baths)
GRADES = options(
    ("1", "faint"), ("2", "pale grey"), ("3", "middle grey"), ("4", "dark grey"), ("5", "black")
)
PARTS = options(
    ("1:2", "1 vinegar to 2 water", "the usual iron jar"),
    ("1:1", "1 vinegar to 1 water", "the usual copper jar"),
)
METALS = options("iron", "copper")
LID = "Lid loose, away from the ring."


def parts_of(body: Body) -> Body:
    """Vinegar to water as two numbers."""
    plain = {name: said for name, said in body.items() if name != "parts"}
    vinegar, _, water = str(body.get("parts", "")).partition(":")
    chosen = {"vinegar_parts": vinegar, "water_parts": water} if water else {}
    return {**chosen, **plain}


def parts_said(body: Mapping[str, Any]) -> Body:
    """Two numbers as one choice, where it is one of ours."""
    pair = f"{body.get('vinegar_parts')}:{body.get('water_parts')}"
    rest = {name: said for name, said in body.items() if not name.endswith("_parts")}
    return {**rest, "parts": pair} if pair in {row.value for row in PARTS} else dict(body)


def plain_water(body: Body) -> Body:
    """Water has no acid."""
    if body.get("vinegar_share") != "0":
        return body
    return {name: said for name, said in body.items() if name != "acid_percent"}


def jar_code(body: Body, filling: Filling) -> str:
    """The next number of the studio's jars and baths."""
    return numbered_code(filling.studio, "jar", "", taken=filling.taken)


def jar_name(body: Body, filling: Filling) -> str:
    """`Iron 8` after `Iron 7`."""
    return next_name(filling.studio, str(body.get("metal", "jar")))


def both_metals(body: Mapping[str, Any]) -> tuple[Caution, ...]:
    """What belongs to a jar of that metal; of both where none is chosen yet."""
    metal = body.get("metal")
    if isinstance(metal, str):
        return cautions_for_jar(metal)
    return (*cautions_for_jar("iron"), *cautions_for_jar("copper"))


def any_jar(body: Mapping[str, Any]) -> tuple[Caution, ...]:
    """What belongs to a jar whatever is in it."""
    return both_metals({})


FORMS = (
    Form(
        verb="dip",
        heading="A strip dipped",
        button="Keep this strip",
        done="The strip is written down",
        asks=(
            Pick(name="jar", words="Which jar?", among=jars),
            One(name="grade", words="How dark is the strip?", options=GRADES, reads=int,
                part="strip", needed=False, hint="Hold the strip beside these in daylight."),
        ),
        more=(
            Number(name="metal_mg_per_l", words="mg/L of metal, where a test strip was read",
                   needed=False),
            NOTE,
        ),
        cautions=any_jar,
        reminder=LID,
    ),
    Form(
        verb="begin-jar",
        heading="A jar begun",
        button="The jar is begun",
        done="The jar is written down",
        asks=(
            One(name="metal", words="With which metal?", options=METALS, default="iron"),
            Amount(name="volume", words="How much liquor is in it?", units=("L", "mL")),
            One(name="parts", words="How strong?", options=PARTS, default="1:2", needed=False),
        ),
        more=(
            Number(name="acid_percent", words="The vinegar, in %", needed=False,
                   hint="as its bottle says; left empty: 5"),
            Number(name="warmth_c", words="How warm it stands, in °C", needed=False),
            Text(name="name", words="What the tape says", most=80, needed=False,
                 hint="left empty: the next number of its metal"),
            Text(name="jar", words="Its code", most=40, needed=False,
                 hint="left empty: the next number"),
            Number(name="vinegar_parts", words="Other parts: vinegar", needed=False),
            Number(name="water_parts", words="to water", needed=False),
            Text(name="begun_at", words="Begun before today", kind="datetime-local", needed=False),
            NOTE,
        ),
        fills={"jar": jar_code, "name": jar_name, "acid_percent": lambda body, filling: "5"},
        into=parts_of,
        out_of=parts_said,
        cautions=both_metals,
        reminder=LID,
    ),
    Form(
        verb="top-up",
        heading="Top up a jar",
        button="It is topped up",
        done="The topping up is written down",
        asks=(
            JAR,
            Amount(name="volume", words="How much went in?", units=VOLUME),
            One(name="vinegar_share", words="Of what?", default="0", options=options(
                ("0", "water"), ("1", "vinegar"), ("0.5", "half vinegar, half water"))),
        ),
        more=(
            Number(name="acid_percent", words="The vinegar, in %", needed=False,
                   hint="as its bottle says; left empty: 5"),
            NOTE,
        ),
        fills={"acid_percent": lambda body, filling:
               None if body.get("vinegar_share") == "0" else "5"},
        into=plain_water,
        cautions=any_jar,
    ),
    Form(
        verb="strain",
        heading="Strain a jar",
        button="It is strained",
        done="The straining is written down",
        asks=(
            JAR,
            Amount(name="left", words="How much is left?", units=VOLUME, needed=False,
                   hint="left empty: nobody measured it"),
        ),
        more=(NOTE,),
        cautions=any_jar,
    ),
    Form(
        verb="draw-liquor",
        heading="Liquor from a jar",
        button="It is drawn",
        done="The liquor is written down",
        asks=(JAR, Amount(name="volume", words="How much was drawn?", units=VOLUME)),
        more=(
            Number(name="metal_mg_per_l", words="mg/L of metal as it was dosed", whole=True,
                   needed=False),
            NOTE,
        ),
        cautions=any_jar,
    ),
    Form(
        verb="evaporate",
        heading="Less in a jar",
        button="That is what is left",
        done="What is left is written down",
        asks=(JAR, Amount(name="left", words="How much is left?", units=VOLUME,
                          hint="Its water went into the air, its metal stayed.")),
        more=(NOTE,),
    ),
    Form(
        verb="keep-at",
        heading="A jar moved",
        button="It stands there now",
        done="Its new place is written down",
        asks=(JAR, Number(name="warmth_c", words="How warm is it there, in °C?")),
        more=(NOTE,),
        reminder=LID,
    ),
    Form(
        verb="make-bath",
        heading="A bath made",
        button="The bath is made",
        done="The bath is written down",
        asks=(
            Pick(name="what", words="What is it?", typed_words="What else it is",
                 among=lambda hand: options("nettle bath", "alum bath", "dyebath", "tannin bath")),
            Amount(name="volume", words="How much?", units=("L", "mL")),
            Number(name="warmth_c", words="How warm is it kept, in °C?"),
            Pick(name="lot", words="Made of which lot?", among=lots_and_supplies, needed=False,
                 first=False),
            Amount(name="amount", words="How much of the lot?", needed=False),
        ),
        more=(
            Text(name="shade", words="A dyebath: its shade", most=80, needed=False),
            Number(name="depth", words="Its depth, 1 to 5", whole=True, needed=False),
            One(name="metal", words="Metal in it", options=METALS, needed=False),
            Number(name="times_used", words="Times used already", whole=True, needed=False),
            Amount(name="alum_left", words="Alum still in it", needed=False),
            Text(name="made_at", words="Made before today", kind="datetime-local", needed=False),
            Text(name="bath", words="Its code", most=40, needed=False,
                 hint="left empty: the next number"),
            NOTE,
        ),
        fills={"bath": jar_code},
        into=one_take,
        out_of=said_take,
    ),
    Form(
        verb="use-bath",
        heading="A bath used once more",
        button="It is used",
        done="The use is written down",
        asks=(BATH, Amount(name="left", words="How much is left?", units=("L", "mL"),
                           needed=False)),
        more=(Amount(name="alum_left", words="Alum still in it", needed=False), NOTE),
    ),
    Form(
        verb="move-bath",
        heading="A bath moved",
        button="It stands there now",
        done="Its new place is written down",
        asks=(BATH, Where(name="place", words="Where does it stand?", among=places)),
        more=(NOTE,),
    ),
)  # fmt: skip
