"""Amounts of an entry as the ledger takes them: whole mg or µL, with the words as entered."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from rest_framework import serializers

from api.entries.asked import Asked
from api.entries.fields import AmountOf, Code, LengthOf, Said
from api.rest.fields import FieldsUnclear
from inventory.cloth import by_length
from inventory.entries import Take, Weighed
from inventory.errors import NoSuchLot
from inventory.models import Dyestuff, Lot
from inventory.science.amounts import Amount
from inventory.science.saying import say
from inventory.science.units import whole
from sourcing.pickups import piece_mass_mg


class InContainer(Said):
    """What the scale says with the container and without: weighed in one."""

    gross = AmountOf("mass", help_text="with the container")
    tare = AmountOf("mass", may_be_zero=True, help_text="the container alone")
    container = Code(required=False, most=80, help_text="which container")


class TakeSaid(Said):
    """So much of one lot."""

    lot = Code(help_text="code of the lot, jar, bath, supply or fibre lot")
    amount = AmountOf(
        "mass",
        "volume",
        "count",
        "container",
        required=False,
        help_text="by the lot's own measure; left out: all that is left",
    )
    length = LengthOf(required=False, help_text="of measured cloth, in place of its weight")
    metal_mg_per_l = serializers.IntegerField(
        min_value=0, max_value=1_000_000, required=False, help_text="strength shown when dosed"
    )


def weighed(amount: Amount) -> Weighed:
    """A weight or a volume with its words."""
    return Weighed(_number(amount), words=amount.words)


def weighed_in(said: dict[str, Any]) -> Weighed:
    """A weight from gross and tare."""
    gross, tare = said["gross"].mg, said["tare"].mg
    if gross <= tare:
        sentence = say(
            "The container alone weighs as much as with what is in it. Weigh both again."
        )
        raise FieldsUnclear([("/weighed_in/gross", sentence)])
    words = say(
        "{words} with, {saidtare_words} without",
        words=said["gross"].words,
        saidtare_words=said["tare"].words,
    )
    return Weighed(gross - tare, words, said.get("container", ""), gross, tare)


def weight_said(asked: Asked, name: str = "amount") -> Weighed | None:
    """What an entry says of a weight: by itself, weighed in a container, or not at all."""
    plain, container = asked.get(name), asked.get("weighed_in")
    if plain is not None and container is not None:
        sentence = say("Say either {name} or weighed_in, as both say what it weighs.", name=name)
        raise FieldsUnclear([("/weighed_in", sentence)])
    if container is not None:
        return weighed_in(container)
    return None if plain is None else weighed(plain)


def check_counted(asked: Asked, what: str, amount: Amount, *, pointer: str) -> None:
    """Refuse a bag or a bucket of what the studio counts otherwise: what one weighs is not known.

    A container counts like a piece only where the studio counts the dyestuff by it.
    """
    if amount.kind != "container":
        return
    if Dyestuff.objects.of(asked.studio).filter(name=what, piece=amount.unit).exists():
        return
    sentence = say(
        "Nobody has written down what a {unit} of {what} weighs. Weigh it, or count the pieces.",
        unit=amount.unit,
        what=what,
    )
    raise FieldsUnclear([(pointer, sentence)])


def for_lot(asked: Asked, code: str, amount: Amount, *, pointer: str) -> Weighed:
    """An amount in the measure of a lot; pieces by what one of them weighs there."""
    lot = Lot.objects.of(asked.studio).filter(code=code).values("what", "unit", "kind").first()
    if lot is None:
        raise NoSuchLot(code)
    if amount.kind in ("count", "container"):
        if lot["kind"] != "dyestuff":
            raise _other_measure(pointer, code, amount, lot["unit"])
        check_counted(asked, lot["what"], amount, pointer=pointer)
        one_mg = piece_mass_mg(asked.studio, lot["what"], at=asked.at)
        return Weighed(whole(Fraction(one_mg) * amount.value), words=amount.words)
    if amount.unit != lot["unit"]:
        raise _other_measure(pointer, code, amount, lot["unit"])
    return weighed(amount)


def takes_of(asked: Asked, name: str = "takes") -> list[Take]:
    """What an entry takes of lots, each in the measure of its lot."""
    return [
        Take(row["lot"], _taken(asked, row, f"/{name}/{number}"), row.get("metal_mg_per_l"))
        for number, row in enumerate(asked.get(name, ()))
    ]


def _taken(asked: Asked, row: dict[str, Any], pointer: str) -> Weighed | None:
    """How much one row takes: by its amount, by a length of cloth, or all that is left."""
    amount, length = row.get("amount"), row.get("length")
    if amount is not None and length is not None:
        sentence = say("Say either amount or length, as both say how much is taken.")
        raise FieldsUnclear([(f"{pointer}/length", sentence)])
    if length is not None:
        return by_length(
            asked.studio, lot=row["lot"], length_mm=length.mm, at=asked.at, words=length.words
        )
    if amount is None:
        return None
    return for_lot(asked, row["lot"], amount, pointer=f"{pointer}/amount")


def _other_measure(pointer: str, code: str, amount: Amount, unit: str) -> FieldsUnclear:
    by = "by weight, such as 640 g" if unit == "mg" else "by volume, such as 450 mL"
    return FieldsUnclear(
        [
            (
                pointer,
                say(
                    "{code} is kept {by}; “{words}” is something else.",
                    code=code,
                    by=by,
                    words=amount.words,
                ),
            )
        ]
    )


def _number(amount: Amount) -> int:
    return amount.mg if amount.kind == "mass" else amount.ul
