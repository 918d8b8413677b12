"""Metres in a notebook as weight: by the fibre lot that they are of, scour loss taken off."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from inventory.science.cloth import NARROWEST_MM, WIDEST_MM, ClothSize, mass_mg
from sourcing.notebook.notebook import Notebook
from sourcing.notebook.page import Row
from sourcing.notebook.problem import Problem
from sourcing.notebook.quantities import Long, write_length
from sourcing.notebook.saying import say
from sourcing.notebook.yard_pages import BY_NAME

WRITE = say("Write it on the page fibre, or give the weight here.")


def size_of(row: Row) -> ClothSize | None:
    """What leads from metres to grams on a row of fibre; None where it is not measured."""
    per_m2, width = row.number("per m2"), row.whole_or_none("width")
    return None if per_m2 is None or width is None else ClothSize(per_m2, width)


def fibre_mg(row: Row) -> int:
    """What is left of a fibre lot [mg]."""
    left = row.values["left"]
    size = size_of(row)
    if not isinstance(left, Long):
        return row.whole("left")
    assert size is not None, "the notebook was checked for it"
    return round(mass_mg(left.mm, size))


def run_mg(row: Row, fibre: Row | None, loss: Fraction) -> int:
    """What a run dyes, dry and scoured [mg]; rounded down, so that all of a lot is enough."""
    length = row.values["weight"]
    if not isinstance(length, Long):
        return row.whole("weight")
    size = size_of(fibre) if fibre is not None else None
    assert fibre is not None, "the notebook was checked for it"
    assert size is not None, "the notebook was checked for it"
    return int(mass_mg(length.mm, size) * (1 if fibre.yes("scoured") else 1 - loss))


def check_metres(notebook: Notebook) -> Iterator[Problem]:
    """Metres that nobody can weigh, and cloth that is measured by half."""
    lots = {row.text("fibre lot"): row for row in notebook.page("fibre")}
    for row in lots.values():
        yield from _size(row)
        if isinstance(row.values["left"], Long) and size_of(row) is None:
            note = say("Write its g per m² and its width too, or give the weight.")
            yield _problem(row, "left", _length(row, "left"), note)
    for row in notebook.page("runs"):
        if not isinstance(row.values["weight"], Long):
            continue
        lot = lots.get(row.text("fibre lot"))
        if lot is None:
            note = say("Metres are of one fibre lot. Write which, or give the weight.")
            yield _problem(row, "weight", _length(row, "weight"), note)
        elif size_of(lot) is None:
            note = say(
                "{text} has no g per m² and width. {write}", text=lot.text("fibre lot"), write=WRITE
            )
            yield _problem(row, "weight", _length(row, "weight"), note)


def _size(row: Row) -> Iterator[Problem]:
    for name, other in (("per m2", "width"), ("width", "per m2")):
        if row.has(name) and not row.has(other):
            note = say(
                "Cloth is measured by both: write {name} and {other}, or neither.",
                name=name,
                other=other,
            )
            yield _problem(row, other, "", note)
    width = row.whole("width", NARROWEST_MM)
    if not NARROWEST_MM <= width <= WIDEST_MM:
        note = say(
            "Cloth is {which} cm to {which_2} m wide.",
            which=NARROWEST_MM // 10,
            which_2=WIDEST_MM // 1000,
        )
        yield _problem(
            row, "width", write_length(width), say("{note} Write such as 150 cm.", note=note)
        )


def _length(row: Row, name: str) -> str:
    found = row.values[name]
    assert isinstance(found, Long)
    return write_length(found.mm)


def _problem(row: Row, column: str, stands: str, write: str) -> Problem:
    return Problem(BY_NAME[row.page].file, row.line, column, stands, write)
