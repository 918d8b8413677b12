"""Forms about jars and baths: begun, dipped, topped up, strained, drawn from, moved, used."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from api.web.note.ask import VOLUME, Amount, Body, Number, One, Pick, Text, Warmth, options
from api.web.note.form import NOTE, Filling, Form
from api.web.note.places import Where, places
from api.web.note.takes import RUN, one_take, said_take
from api.web.note.things import baths, jars, jars_by_code, lots_and_supplies
from inventory.codes import next_name, numbered_code
from inventory.science.cautions import Caution, cautions_for_jar
from inventory.science.saying import say

JAR = Pick(name="jar", words=say("Which jar?"), among=jars_by_code)
BATH = Pick(name="bath", words=say("Which bath?"), among=baths)
GRADES = options(
    ("1", say("faint")),
    ("2", say("pale grey")),
    ("3", say("middle grey")),
    ("4", say("dark grey")),
    ("5", say("black")),
)
PARTS = options(
    ("1:2", say("1 vinegar to 2 water"), say("the usual iron jar")),
    ("1:1", say("1 vinegar to 1 water"), say("the usual copper jar")),
)
METALS = options("iron", "copper")
LID = say("Lid loose, away from the ring.")


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
        heading=say("A strip dipped"),
        button=say("Keep this strip"),
        done=say("The strip is written down"),
        asks=(
            Pick(name="jar", words=say("Which jar?"), among=jars),
            One(
                name="grade",
                words=say("How dark is the strip?"),
                options=GRADES,
                reads=int,
                part="strip",
                needed=False,
                hint=say("Hold the strip beside these in daylight."),
            ),
        ),
        more=(
            Number(
                name="metal_mg_per_l",
                words=say("mg/L of metal, where a test strip was read"),
                needed=False,
            ),
            NOTE,
        ),
        cautions=any_jar,
        reminder=LID,
    ),
    Form(
        verb="begin-jar",
        heading=say("A jar begun"),
        button=say("The jar is begun"),
        done=say("The jar is written down"),
        asks=(
            One(name="metal", words=say("With which metal?"), options=METALS, default="iron"),
            Amount(name="volume", words=say("How much liquor is in it?"), units=("L", "mL")),
            One(name="parts", words=say("How strong?"), options=PARTS, default="1:2", needed=False),
        ),
        more=(
            Number(
                name="acid_percent",
                words=say("The vinegar, in %"),
                needed=False,
                hint=say("as its bottle says; left empty: 5"),
            ),
            Warmth(name="warmth_c", words=say("How warm it stands"), needed=False),
            Text(
                name="name",
                words=say("What the tape says"),
                most=80,
                needed=False,
                hint=say("left empty: the next number of its metal"),
            ),
            Text(
                name="jar",
                words=say("Its code"),
                most=40,
                needed=False,
                hint=say("left empty: the next number"),
            ),
            Number(name="vinegar_parts", words=say("Other parts: vinegar"), needed=False),
            Number(name="water_parts", words=say("to water"), needed=False),
            Text(
                name="begun_at",
                words=say("Begun before today"),
                kind="datetime-local",
                needed=False,
            ),
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
        heading=say("Top up a jar"),
        button=say("It is topped up"),
        done=say("The topping up is written down"),
        asks=(
            JAR,
            Amount(name="volume", words=say("How much went in?"), units=VOLUME),
            One(
                name="vinegar_share",
                words=say("Of what?"),
                default="0",
                options=options(
                    ("0", say("water")),
                    ("1", say("vinegar")),
                    ("0.5", say("half vinegar, half water")),
                ),
            ),
        ),
        more=(
            Number(
                name="acid_percent",
                words=say("The vinegar, in %"),
                needed=False,
                hint=say("as its bottle says; left empty: 5"),
            ),
            NOTE,
        ),
        fills={
            "acid_percent": lambda body, filling: None if body.get("vinegar_share") == "0" else "5"
        },
        into=plain_water,
        cautions=any_jar,
    ),
    Form(
        verb="strain",
        heading=say("Strain a jar"),
        button=say("It is strained"),
        done=say("The straining is written down"),
        asks=(
            JAR,
            Amount(
                name="left",
                words=say("How much is left?"),
                units=VOLUME,
                needed=False,
                hint=say("left empty: nobody measured it"),
            ),
        ),
        more=(NOTE,),
        cautions=any_jar,
    ),
    Form(
        verb="draw-liquor",
        heading=say("Liquor from a jar"),
        button=say("It is drawn"),
        done=say("The liquor is written down"),
        asks=(JAR, Amount(name="volume", words=say("How much was drawn?"), units=VOLUME)),
        more=(
            Number(
                name="metal_mg_per_l",
                words=say("mg/L of metal as it was dosed"),
                whole=True,
                needed=False,
            ),
            NOTE,
        ),
        cautions=any_jar,
    ),
    Form(
        verb="evaporate",
        heading=say("Less in a jar"),
        button=say("That is what is left"),
        done=say("What is left is written down"),
        asks=(
            JAR,
            Amount(
                name="left",
                words=say("How much is left?"),
                units=VOLUME,
                hint=say("Its water went into the air, its metal stayed."),
            ),
        ),
        more=(NOTE,),
    ),
    Form(
        verb="keep-at",
        heading=say("A jar moved"),
        button=say("It stands there now"),
        done=say("Its new place is written down"),
        asks=(JAR, Warmth(name="warmth_c", words=say("How warm is it there?"))),
        more=(NOTE,),
        reminder=LID,
    ),
    Form(
        verb="make-bath",
        heading=say("A bath made"),
        button=say("The bath is made"),
        done=say("The bath is written down"),
        asks=(
            Pick(
                name="what",
                words=say("What is it?"),
                typed_words=say("What else it is"),
                among=lambda hand: options("nettle bath", "alum bath", "dyebath", "tannin bath"),
            ),
            Amount(name="volume", words=say("How much?"), units=("L", "mL")),
            Warmth(name="warmth_c", words=say("How warm is it kept?")),
            Pick(
                name="lot",
                words=say("Made of which lot?"),
                among=lots_and_supplies,
                needed=False,
                first=False,
            ),
            Amount(name="amount", words=say("How much of the lot?"), needed=False),
        ),
        more=(
            Text(name="shade", words=say("A dyebath: its shade"), most=80, needed=False),
            Number(name="depth", words=say("Its depth, 1 to 5"), whole=True, needed=False),
            One(name="metal", words=say("Metal in it"), options=METALS, needed=False),
            Number(name="times_used", words=say("Times used already"), whole=True, needed=False),
            Amount(name="alum_left", words=say("Alum still in it"), needed=False),
            Text(
                name="made_at", words=say("Made before today"), kind="datetime-local", needed=False
            ),
            Text(
                name="bath",
                words=say("Its code"),
                most=40,
                needed=False,
                hint=say("left empty: the next number"),
            ),
            RUN,
            NOTE,
        ),
        fills={"bath": jar_code},
        into=one_take,
        out_of=said_take,
    ),
    Form(
        verb="use-bath",
        heading=say("A bath used once more"),
        button=say("It is used"),
        done=say("The use is written down"),
        asks=(
            BATH,
            Amount(name="left", words=say("How much is left?"), units=("L", "mL"), needed=False),
        ),
        more=(Amount(name="alum_left", words=say("Alum still in it"), needed=False), NOTE),
    ),
    Form(
        verb="move-bath",
        heading=say("A bath moved"),
        button=say("It stands there now"),
        done=say("Its new place is written down"),
        asks=(BATH, Where(name="place", words=say("Where does it stand?"), among=places)),
        more=(NOTE,),
    ),
)
