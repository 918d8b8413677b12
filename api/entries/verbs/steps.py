"""Entries about the steps of a run: done, with what went otherwise, and not done after all."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from api.entries.asked import Asked, Kept
from api.entries.fields import AmountOf, Code, Moment, Note, Number, Said, Whole, Words
from api.entries.verb import Verb
from api.entries.weights import for_lot
from api.visitor import Right
from sourcing import steps
from sourcing.steps import Otherwise


class OfStep(Said):
    """An entry about one step of one run."""

    run = Code(help_text="its code")
    step = Words(most=80, help_text="its word on the run sheet")
    round = Whole(least=1, most=1000, required=False, help_text="left out: the next one")
    note = Note()


class TookSaid(Said):
    """So much of one lot."""

    lot = Code()
    amount = AmountOf("mass", "volume", "count", "container")


class Done(OfStep):
    """A step done; what is left out went as planned."""

    load = Whole(least=1, most=1000, required=False, help_text="one pot-load; left out: all")
    begun_at = Moment(required=False, help_text="when it was begun, where that differs")
    vessel = Code(required=False, help_text="another pot than planned")
    litres = AmountOf("volume", required=False)
    weight = AmountOf("mass", required=False, help_text="dry, of the fibre in it")
    minutes = Whole(least=0, most=1440, required=False, help_text="of hands")
    warmth_c = Number(least=-10, most=110, required=False, help_text="°C, the warmest it was")
    took = serializers.ListField(
        child=TookSaid(), max_length=20, required=False,
        help_text="all that it took, where that differs",
    )  # fmt: skip


def done(asked: Asked) -> Kept:
    """A step done, with what went otherwise than planned."""
    litres, weight = asked.get("litres"), asked.get("weight")
    took = tuple(
        (row["lot"], for_lot(asked, row["lot"], row["amount"],
                             pointer=f"/took/{number}/amount").amount)
        for number, row in enumerate(asked.get("took", ()))
    )  # fmt: skip
    other = Otherwise(
        volume_ul=None if litres is None else litres.ul,
        weight_mg=None if weight is None else weight.mg,
        took=took,
        **asked.given("begun_at", "vessel", "minutes", "warmth_c"),
    )
    row = steps.step_done(
        asked.studio,
        run=asked["run"],
        step=asked["step"],
        otherwise=other,
        **asked.given("round", "load"),
        **asked.posting,
    )
    return Kept("steps-done", str(asked.entry), values={"round": row.round})


class NotDone(OfStep):
    """A step said to be done by mistake."""


def not_done(asked: Asked) -> Kept:
    """Not done after all."""
    row = steps.step_not_done(
        asked.studio,
        run=asked["run"],
        step=asked["step"],
        **asked.given("round"),
        **asked.posting,
    )
    return Kept("steps-done", str(row.done.entry))


class NotBegun(Said):
    """A run said to be begun by mistake."""

    run = Code(help_text="its code")


def not_begun(asked: Asked) -> Kept:
    """Not begun after all: what it kept and claimed is free again."""
    row = steps.not_begun(asked.studio, entry=asked.entry, at=asked.at, run=asked["run"])
    return Kept("runs", row.code)


def _verb(name: str, noun: str, says: str, fields: type[Said], run: Any, /, **example: Any) -> Verb:
    return Verb(name, noun, says, Right.HELPER, fields, run, example)


VERBS = (
    _verb("step-done", "runs", "A step of a run done; the first begins the run.", Done, done,
          run="C", step="soak", load=1, litres="17.5 L", warmth_c="9",
          note="one bucket, a little less water"),
    _verb("step-not-done", "runs", "A step not done after all.", NotDone, not_done, run="C",
          step="soak"),
    _verb("not-begun", "runs", "A run not begun after all.", NotBegun, not_begun, run="C"),
)  # fmt: skip
