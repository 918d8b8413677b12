"""Entries about swatches: kept, and read for colour, light, wash and rub."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from api.entries.asked import Asked, Kept
from api.entries.fields import Code, Note, Number, Said, Whole, Words
from api.entries.verb import Verb
from api.visitor import Right
from inventory import swatches


class Keep(Said):
    """A sample kept of a lot of fibre."""

    lot = Code()
    number = Whole(least=1, most=2_000_000_000, required=False, help_text="left out: the next")
    shade = Words(most=80, required=False)
    note = Note()


def keep(asked: Asked) -> Kept:
    """A swatch kept under a number of its own."""
    posted = swatches.keep_swatch(
        asked.studio, **asked.given("lot", "number", "shade"), **asked.posting
    )
    number = swatches.swatch_of(asked.studio, asked.entry).number
    return Kept("swatches", str(number), posted, {"number": number})


class LabSaid(Said):
    """A colour in CIELAB."""

    l = Number(least=0, most=100)  # noqa: E741 - the name of the axis
    a = Number(least=-200, most=200)
    b = Number(least=-200, most=200)

    def to_internal_value(self, data: Any) -> swatches.Lab:
        return swatches.Lab(**super().to_internal_value(data))


class Read(Said):
    """What was read off a swatch."""

    swatch = Whole(least=1, most=2_000_000_000, help_text="its number")
    what = serializers.ChoiceField(("colour", "light", "wash", "rub"))
    grade = Number(least=1, most=8, required=False, help_text="1 to 8 for light, else 1 to 5")
    lab = LabSaid(required=False, help_text="of a colour")
    days = Whole(least=0, most=3650, required=False, help_text="in the window, for light")
    note = Note()


def read(asked: Asked) -> Kept:
    """A swatch read."""
    posted = swatches.read_swatch(
        asked.studio, **asked.given("swatch", "what", "grade", "lab", "days"), **asked.posting
    )
    return Kept("swatches", str(asked["swatch"]), posted)


def _verb(name: str, says: str, fields: type[Said], run: Any, /, **example: Any) -> Verb:
    return Verb(name, "swatches", says, Right.HELPER, fields, run, example)


VERBS = (
    _verb("keep-swatch", "A sample kept of a lot of fibre.", Keep, keep, lot="W-90", number=31,
          shade="Hedge Olive"),
    _verb("read-swatch", "What was read off a swatch.", Read, read, swatch=31, what="light",
          grade="4", days=14),
)  # fmt: skip
