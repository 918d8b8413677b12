"""Forms about swatches: kept, and read for colour, light, wash and rub."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from api.web.note.ask import Body, Number, One, Pick, Text, options
from api.web.note.form import NOTE, Form
from api.web.note.hand import Choice, Hand
from api.web.note.things import fibre
from inventory.science.saying import joined, say

READINGS = options(
    ("light", say("light"), say("against the blue wools, 1 to 8")),
    ("wash", say("wash"), say("1 to 5")),
    ("rub", say("rub"), say("1 to 5")),
    ("colour", say("colour"), say("three numbers of a meter")),
)
GRADES = options(*((str(grade), str(grade)) for grade in range(1, 9)))
AXES = ("l", "a", "b")


@dataclass(frozen=True, kw_only=True)
class SwatchNumber(Pick):
    """A swatch by its number."""

    def chosen(self, value: str) -> Body:
        return {self.name: int(value) if value.isdecimal() else value} if value else {}


def kept(hand: Hand) -> Sequence[Choice]:
    """Swatches, the last one in front."""
    return [
        Choice(
            str(number),
            say("Swatch {number}", number=number),
            joined(", ", (text for text in (shade, lot) if text)),
        )
        for number, shade, lot in hand.swatches
    ]


def with_colour(body: Body) -> Body:
    """Three numbers as one colour."""
    lab = {axis: body[axis] for axis in AXES if axis in body}
    rest = {name: said for name, said in body.items() if name not in AXES}
    return {**rest, "lab": lab} if lab else rest


def as_numbers(body: Mapping[str, Any]) -> Body:
    """A colour as its three numbers."""
    lab = body.get("lab")
    rest = {name: said for name, said in body.items() if name != "lab"}
    return {**rest, **lab} if isinstance(lab, Mapping) else rest


FORMS = (
    Form(
        verb="keep-swatch",
        heading=say("A swatch kept"),
        button=say("It is kept"),
        done=say("The swatch is written down"),
        asks=(
            Pick(name="lot", words=say("Of which fibre?"), among=fibre),
            Text(name="shade", words=say("Its shade"), most=80, needed=False),
        ),
        more=(
            Number(
                name="number",
                words=say("Its number"),
                whole=True,
                needed=False,
                hint=say("left empty: the next"),
            ),
            NOTE,
        ),
    ),
    Form(
        verb="read-swatch",
        heading=say("A swatch read"),
        button=say("So it reads"),
        done=say("The reading is written down"),
        asks=(
            SwatchNumber(
                name="swatch", words=say("Which swatch?"), among=kept, typed_words=say("Its number")
            ),
            One(name="what", words=say("Read for what?"), options=READINGS, default="light"),
            One(
                name="grade", words=say("Which grade?"), options=GRADES, part="grades", needed=False
            ),
        ),
        more=(
            Number(name="days", words=say("Days in the window"), whole=True, needed=False),
            Number(name="l", words=say("Colour: lightness L"), needed=False),
            Number(name="a", words=say("a, green to red"), needed=False),
            Number(name="b", words=say("b, blue to yellow"), needed=False),
            NOTE,
        ),
        into=with_colour,
        out_of=as_numbers,
    ),
)
