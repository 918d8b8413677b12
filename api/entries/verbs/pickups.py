"""Entries about pick-ups: reported by a source, made, missed."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from api.entries.asked import Asked, Kept
from api.entries.fields import AmountOf, Code, Day, Moment, Note, PlaceSaid, Said, Words
from api.entries.verb import Verb
from api.entries.weights import InContainer, check_counted, weight_said
from api.rest.fields import FieldsUnclear
from api.visitor import Right
from inventory.science.amounts import Amount
from inventory.science.saying import say
from sourcing import pickups
from sourcing.nests import NestCheck

STATES = ("fresh", "frozen", "dried", "damp")


class NestsSaid(Said):
    """Somebody looked a hedge or tree over for nests before it was cut."""

    by = Words(most=80)
    on = Day()

    def to_internal_value(self, data: Any) -> NestCheck:
        return NestCheck(**super().to_internal_value(data))


class OfPickUp(Said):
    """An entry about one hand-over."""

    source = Words(most=80, help_text="who gives it")  # type: ignore[assignment]
    gives = Words(most=80, help_text="the dyestuff")


class Arriving(OfPickUp):
    """A hand-over that brings something."""

    lot = Code(help_text="code of the lot that it becomes")
    place = PlaceSaid()
    amount = AmountOf("mass", "count", "container", required=False)
    nests = NestsSaid(required=False, help_text="asked for in the nesting season")


class Made(Arriving):
    """A hand-over that was made."""

    weighed_in = InContainer(required=False)
    state = serializers.ChoiceField(STATES, required=False, help_text="fresh, unless said")
    cut_on = Day(required=False, help_text="left out: the day of the hand-over")
    note = Note()


def made(asked: Asked) -> Kept:
    """A pick-up made: a new lot on the shelf."""
    pieces = _pieces(asked)
    weight = None if pieces is not None else weight_said(asked)
    if pieces is None and weight is None:
        raise FieldsUnclear([("/amount", say("Say what it weighs, or how many were counted."))])
    posted = pickups.record_pickup(
        asked.studio,
        pieces=pieces,
        weight=weight,
        **asked.given("source", "gives", "lot", "place", "state", "cut_on", "nests"),
        **asked.posting,
    )
    return Kept("lots", asked["lot"], posted)


class Reported(Arriving):
    """A hand-over that its source promises."""

    comes_at = Moment(help_text="when it comes")
    note = Note()


def report(asked: Asked) -> Kept:
    """A pick-up that its source says will be made at that moment."""
    pieces, amount = _pieces(asked), asked.get("amount")
    if amount is None:
        raise FieldsUnclear([("/amount", say("Say what is promised, weighed or counted."))])
    row = pickups.report_pickup(
        asked.studio,
        at=asked["comes_at"],
        pieces=pieces,
        weight_mg=None if pieces is not None else amount.mg,
        **asked.given("source", "gives", "lot", "place", "nests", "note"),
    )
    return Kept("pickups", str(row.pk), values={"how": row.how})


class Missed(OfPickUp):
    """A hand-over that did not happen."""

    due_at = Moment(help_text="when it was due")
    note = Note()


def miss(asked: Asked) -> Kept:
    """A pick-up that did not happen, or will not."""
    said = asked.given("source", "gives", "note")
    row = pickups.miss_pickup(asked.studio, at=asked["due_at"], **said)
    return Kept("pickups", str(row.pk), values={"how": row.how})


def _pieces(asked: Asked) -> int | None:
    amount: Amount | None = asked.get("amount")
    if amount is None or amount.kind == "mass":
        return None
    check_counted(asked, asked["gives"], amount, pointer="/amount")
    if amount.value.denominator != 1:
        raise FieldsUnclear(
            [("/amount", say("Write whole {unit}s, or weigh it.", unit=amount.unit))]
        )
    return int(amount.value)


def _verb(name: str, says: str, fields: type[Said], run: Any, /, **example: Any) -> Verb:
    return Verb(name, "pickups", says, Right.HELPER, fields, run, example)


VERBS = (
    _verb("pick-up", "A hand-over that was made: a new lot on the shelf.", Made, made,
          source="Lantern Steps café", gives="avocado stones", lot="AV-1124", amount="58 stones",
          place={"kind": "fridge", "code": "fridge"}),
    _verb("report-pick-up", "A hand-over that its source has promised.", Reported, report,
          source="Lantern Steps café", gives="avocado stones", lot="AV-1126", amount="1.9 kg",
          place={"kind": "fridge", "code": "fridge"}, comes_at="2026-11-26T17:00+00:00"),
    _verb("miss-pick-up", "A hand-over that did not happen, or will not.", Missed, miss,
          source="Three Crates greengrocer", gives="onion skins",
          due_at="2026-11-28T09:00+00:00"),
)  # fmt: skip
