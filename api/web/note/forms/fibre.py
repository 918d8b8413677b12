"""Forms about fibre: received, scoured, mordanted, found dry, measured, looked over."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from api.web.note.ask import Amount, Body, Number, One, Pick, Text, options, yes_or_no
from api.web.note.form import NOTE, Filling, Form
from api.web.note.takes import RUN, supply_asks, with_supply, without_supply
from api.web.note.things import fibre_where
from inventory.codes import numbered_code, part_code
from inventory.science.cautions import Caution, cautions_for_step
from inventory.science.saying import say

FIBRES = options("wool", "silk", "cotton", "linen", "lyocell")
DAMP = yes_or_no("damp", say("Is it damp now?"), say("still damp"), say("dry"), default="yes")
PART = Amount(
    name="amount",
    words=say("Only a part of it"),
    needed=False,
    hint=say("left empty: all of it; a part gets a code of its own"),
)
PART_CODE = Text(name="code", words=say("Code of the part"), most=40, needed=False)


def part_of(mark: str) -> Any:
    """A code for a part; the whole lot keeps its own."""

    def fill(body: Body, filling: Filling) -> str | None:
        if "amount" not in body or not isinstance(body.get("lot"), str):
            return None
        return part_code(filling.studio, body["lot"], mark, taken=filling.taken)

    return fill


def fibre_code(body: Body, filling: Filling) -> str | None:
    """The next number of that fibre's letter."""
    what = body.get("fibre")
    return numbered_code(filling.studio, "fibre", what, taken=filling.taken) if what else None


def scoured_state(body: Body) -> Body:
    """Whether it is scoured, as the state of the fibre."""
    rest = {name: said for name, said in body.items() if name != "scoured"}
    return {**rest, "state": {"scoured": body["scoured"]}} if "scoured" in body else rest


def as_scoured(body: Mapping[str, Any]) -> Body:
    """The state of the fibre as the question has it."""
    state = body.get("state")
    rest = {name: said for name, said in body.items() if name != "state"}
    return {**rest, **state} if isinstance(state, Mapping) else rest


def powders(body: Mapping[str, Any]) -> tuple[Caution, ...]:
    """What belongs to weighing powders and to baths of copper."""
    metal = body.get("mordant", "")
    return cautions_for_step(
        supplies=[metal or "alum"], metal=metal if metal in ("iron", "copper") else ""
    )


FORMS = (
    Form(
        verb="scour",
        heading=say("Scoured"),
        button=say("It is scoured"),
        done=say("The scouring is written down"),
        asks=(
            Pick(
                name="lot",
                words=say("Which fibre?"),
                among=fibre_where(lambda row: not row.scoured),
            ),
            Amount(
                name="weighs",
                words=say("What does it weigh dry now?"),
                hint=say("never wet: let a part dry, or reckon from before"),
            ),
            *supply_asks("soda", say("How much soda?")),
        ),
        more=(DAMP, PART, PART_CODE, RUN, NOTE),
        fills={"code": part_of("S")},
        into=with_supply("supplies"),
        out_of=without_supply("supplies"),
    ),
    Form(
        verb="mordant",
        heading=say("Mordanted"),
        button=say("It is mordanted"),
        done=say("The mordant is written down"),
        asks=(
            Pick(
                name="lot",
                words=say("Which fibre?"),
                among=fibre_where(lambda row: row.scoured and not row.mordant),
            ),
            Pick(
                name="mordant",
                words=say("With what?"),
                typed_words=say("What else"),
                among=lambda hand: options("alum", "tannin", "iron", "copper"),
            ),
            Number(name="percent", words=say("How much, in % of its dry weight?")),
            *supply_asks("alum", say("How much was weighed out?")),
        ),
        more=(
            DAMP,
            Number(name="iron_percent", words=say("Iron now in it, in %"), needed=False),
            PART,
            PART_CODE,
            RUN,
            NOTE,
        ),
        fills={"code": part_of("M")},
        into=with_supply("supplies"),
        out_of=without_supply("supplies"),
        cautions=powders,
    ),
    Form(
        verb="dry",
        heading=say("Found dry"),
        button=say("It is dry"),
        done=say("It is dry, and keeps from now on"),
        asks=(
            Pick(name="lot", words=say("Which fibre?"), among=fibre_where(lambda row: row.damp)),
        ),
        more=(NOTE,),
    ),
    Form(
        verb="receive-fibre",
        heading=say("New fibre"),
        button=say("It is here"),
        done=say("The fibre is written down"),
        asks=(
            Amount(name="amount", words=say("What does it weigh dry?")),
            Pick(
                name="fibre",
                words=say("Of what?"),
                among=lambda hand: FIBRES,
                typed_words=say("What else it is"),
            ),
            One(
                name="form",
                words=say("As what?"),
                options=options("yarn", "cloth", "fleece"),
                default="yarn",
            ),
            yes_or_no(
                "scoured", say("Is it scoured?"), say("scoured"), say("not yet"), default="no"
            ),
        ),
        more=(
            yes_or_no(
                "clients_own", say("Whose is it?"), say("the client's own"), say("the studio's")
            ),
            Text(
                name="arrives_at",
                words=say("Still in the post: comes"),
                kind="datetime-local",
                needed=False,
            ),
            Text(
                name="lot",
                words=say("What is on its tag"),
                most=40,
                needed=False,
                hint=say("left empty: the next number"),
            ),
            NOTE,
        ),
        fills={"lot": fibre_code},
        into=scoured_state,
        out_of=as_scoured,
    ),
    Form(
        verb="measure",
        heading=say("Cloth measured"),
        button=say("That is its measure"),
        done=say("The measure is written down"),
        asks=(
            Pick(
                name="lot",
                words=say("Which cloth?"),
                among=fibre_where(lambda row: row.form == "cloth"),
            ),
            Number(name="g_per_m2", words=say("What does a square metre weigh dry, in g?")),
            Number(name="width_mm", words=say("How wide does it lie, in mm?"), whole=True),
        ),
        more=(NOTE,),
    ),
    Form(
        verb="judge-dyed",
        heading=say("Dyed fibre looked over"),
        button=say("Keep it so"),
        done=say("What it is kept as is written down"),
        asks=(
            Pick(
                name="lot",
                words=say("Which fibre?"),
                among=fibre_where(lambda row: bool(row.shade or row.quality)),
            ),
            One(
                name="quality",
                words=say("What is it kept as?"),
                options=options("as meant", "second quality", "for re-dyeing"),
            ),
            Pick(
                name="came_out",
                words=say("How did it come out?"),
                needed=False,
                first=False,
                typed_words=say("How else"),
                among=lambda hand: options(
                    "streaky", "too pale", "too dark", "boiled brown", "felted"
                ),
            ),
        ),
        more=(NOTE,),
    ),
)
