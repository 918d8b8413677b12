"""Entries about pots: iron in them, blank swatches, chips."""

from __future__ import annotations

from typing import Any

from api.entries.asked import Asked, Kept
from api.entries.fields import Code, Note, Said, Yes
from api.entries.verb import Verb
from api.visitor import Right
from inventory import vessels


class OfVessel(Said):
    """An entry about one pot, tub or bucket."""

    vessel = Code(help_text="what is painted on it")
    note = Note()


def mark_iron(asked: Asked) -> Kept:
    """Iron in a pot: no bright shade until a blank swatch has passed."""
    posted = vessels.mark_iron(asked.studio, vessel=asked["vessel"], **asked.posting)
    return Kept("vessels", asked["vessel"], posted)


class Blank(OfVessel):
    """A blank swatch simmered in a cleaned pot."""

    passed = Yes(required=False, help_text="false: it did not come out white")


def blank_swatch(asked: Asked) -> Kept:
    """A blank swatch that came out white, or did not."""
    posted = vessels.clear(
        asked.studio, vessel=asked["vessel"], **asked.given("passed"), **asked.posting
    )
    return Kept("vessels", asked["vessel"], posted)


class Chip(OfVessel):
    """Enamel chipped, or mended."""

    mended = Yes(required=False)


def chip(asked: Asked) -> Kept:
    """A pot chipped, or mended again."""
    posted = vessels.chip(
        asked.studio, vessel=asked["vessel"], **asked.given("mended"), **asked.posting
    )
    return Kept("vessels", asked["vessel"], posted)


def _verb(name: str, says: str, fields: type[Said], run: Any, /, **example: Any) -> Verb:
    return Verb(name, "vessels", says, Right.HELPER, fields, run, example)


VERBS = (
    _verb("mark-iron", "A pot had iron in it.", OfVessel, mark_iron, vessel="P1"),
    _verb("blank-swatch", "A blank swatch simmered in a cleaned pot.", Blank, blank_swatch,
          vessel="P1", passed=True),
    _verb("chip", "The enamel of a pot chipped, or mended.", Chip, chip, vessel="P1"),
)  # fmt: skip
