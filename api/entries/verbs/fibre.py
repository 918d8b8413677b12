"""Entries about fibre: received, scoured, mordanted, found dry, measured."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from rest_framework import serializers

from api.entries.asked import Asked, Kept
from api.entries.fields import AmountOf, Code, Day, Moment, Note, Number, Said, Whole, Words, Yes
from api.entries.verb import Verb
from api.entries.weights import InContainer, TakeSaid, takes_of, weighed, weight_said
from api.rest.fields import FieldsUnclear
from api.visitor import Right
from inventory import cloth, dyeings, fibre
from inventory.entries import Dyed, Fibre, NewLot
from inventory.science.cloth import HEAVIEST, LIGHTEST, NARROWEST_MM, WIDEST_MM, ClothSize
from inventory.science.saying import say
from sourcing import turning

FORMS = ("yarn", "cloth", "fleece")
QUALITIES = ("second quality", "for re-dyeing")


class OfFibre(Said):
    """An entry about one lot of fibre."""

    lot = Code(help_text="what is on its tag")
    note = Note()


class FibreSaid(Said):
    """What has been done to fibre already."""

    scoured = Yes(required=False)
    mordant = Words(most=40, required=False)
    mordant_percent = Number(least=0, most=100, required=False, help_text="of dry weight")
    damp = Yes(required=False)
    iron_percent = Number(least=0, most=20, required=False, help_text="as ferrous sulphate")
    shade = Words(most=80, required=False, help_text="the shade in it")
    since = Day(required=False)

    def to_internal_value(self, data: Any) -> Fibre:
        return Fibre(**super().to_internal_value(data))


class DyedSaid(Said):
    """How dyed fibre came out."""

    depth = Whole(least=0, most=5, required=False)
    quality = serializers.ChoiceField(QUALITIES, required=False)
    came_out = Words(required=False, help_text="what went wrong with it")

    def to_internal_value(self, data: Any) -> Dyed:
        return Dyed(**super().to_internal_value(data))


class ClothSaid(Said):
    """How heavy and how wide cloth is."""

    g_per_m2 = Number(least=LIGHTEST, most=HEAVIEST)
    width_mm = Whole(least=NARROWEST_MM, most=WIDEST_MM)

    def to_internal_value(self, data: Any) -> ClothSize:
        return ClothSize(**super().to_internal_value(data))


class Receive(OfFibre):
    """A new lot of fibre by its dry weight."""

    fibre = Words(most=80, help_text="wool, silk, cotton, linen, lyocell")
    form = serializers.ChoiceField(FORMS)
    amount = AmountOf("mass", required=False, help_text="dry")
    weighed_in = InContainer(required=False)
    state = FibreSaid(required=False)
    dyed = DyedSaid(required=False)
    cloth = ClothSaid(required=False)
    clients_own = Yes(required=False)
    arrives_at = Moment(required=False, help_text="still in the post: when it comes")
    labelled = Yes(required=False)
    site = Code(required=False)


def receive(asked: Asked) -> Kept:
    """A lot of fibre received."""
    amount = weight_said(asked)
    if amount is None:
        raise FieldsUnclear([("/amount", say("Say what it weighs dry, such as 2.4 kg."))])
    new = NewLot(
        code=asked["lot"],
        what=asked["fibre"],
        kind="fibre",
        **asked.given("arrives_at", "labelled", "site"),
    )
    posted = fibre.receive(
        asked.studio,
        lot=new,
        amount=amount,
        form=asked["form"],
        fibre=asked.get("state", Fibre()),
        **asked.given("clients_own", "dyed", "cloth"),
        **asked.posting,
    )
    return Kept("fibre", new.code, posted)


class Scour(OfFibre):
    """Fibre scoured."""

    amount = AmountOf("mass", required=False, help_text="of a part, raw; left out: all of it")
    weighs = AmountOf("mass", help_text="what it weighs dry afterwards")
    code = Code(required=False, help_text="of the new lot that a part becomes")
    supplies = serializers.ListField(child=TakeSaid(), max_length=10, required=False)
    damp = Yes(required=False, help_text="left out: it is still damp")
    run = Code(required=False, help_text="the run that it is for; its claim goes along")


def scour(asked: Asked) -> Kept:
    """Fibre scoured, with what it lost."""
    part = asked.get("amount")
    posted = turning.scour(
        asked.studio,
        lot=asked["lot"],
        amount=None if part is None else weighed(part),
        weighs=weighed(asked["weighs"]),
        supplies=takes_of(asked, "supplies"),
        **asked.given("code", "damp", "run"),
        **asked.posting,
    )
    return Kept("fibre", asked.get("code", asked["lot"]), posted)


class Mordant(OfFibre):
    """Fibre mordanted."""

    mordant = Words(most=40, help_text="alum, iron, tannin …")
    percent = Number(least=0, most=100, help_text="of the fibre's dry weight")
    amount = AmountOf("mass", required=False, help_text="of a part; left out: all of it")
    code = Code(required=False, help_text="of the new lot that a part becomes")
    supplies = serializers.ListField(child=TakeSaid(), max_length=10, required=False)
    iron_percent = Number(least=0, most=20, required=False, help_text="iron now in it")
    damp = Yes(required=False)
    run = Code(required=False, help_text="the run that it is for; its claim goes along")


def mordant(asked: Asked) -> Kept:
    """Fibre mordanted, whole or in part."""
    part = asked.get("amount")
    posted = turning.mordant(
        asked.studio,
        lot=asked["lot"],
        with_what=asked["mordant"].casefold(),
        percent=asked["percent"],
        amount=None if part is None else weighed(part),
        supplies=takes_of(asked, "supplies"),
        **asked.given("code", "iron_percent", "damp", "run"),
        **asked.posting,
    )
    return Kept("fibre", asked.get("code", asked["lot"]), posted)


def dry(asked: Asked) -> Kept:
    """Fibre found dry."""
    return Kept("fibre", asked["lot"], fibre.dry(asked.studio, lot=asked["lot"], **asked.posting))


class Measure(OfFibre):
    """Cloth measured."""

    g_per_m2 = Number(least=LIGHTEST, most=HEAVIEST, help_text="what a square metre weighs dry")
    width_mm = Whole(least=NARROWEST_MM, most=WIDEST_MM)


def measure(asked: Asked) -> Kept:
    """Cloth measured: from now on its lengths can be weighed."""
    grams: Decimal = asked["g_per_m2"]
    posted = cloth.measure(
        asked.studio,
        lot=asked["lot"],
        size=ClothSize(grams, asked["width_mm"]),
        **asked.posting,
    )
    return Kept("fibre", asked["lot"], posted)


class JudgeDyed(OfFibre):
    """Dyed fibre looked over again."""

    quality = serializers.ChoiceField(("as meant", *QUALITIES))
    came_out = Words(required=False, help_text="what went wrong with it")


def judge_dyed(asked: Asked) -> Kept:
    """Dyed fibre kept as something else from now on."""
    quality = asked["quality"]
    posted = dyeings.judge_dyed(
        asked.studio,
        lot=asked["lot"],
        quality="" if quality == "as meant" else quality,
        **asked.given("came_out"),
        **asked.posting,
    )
    return Kept("fibre", asked["lot"], posted)


def _verb(name: str, says: str, fields: type[Said], run: Any, /, **example: Any) -> Verb:
    return Verb(name, "fibre", says, Right.HELPER, fields, run, example)


VERBS = (
    _verb("receive-fibre", "A new lot of fibre by its dry weight.", Receive, receive,
          lot="W-91", fibre="wool", form="yarn", amount="2 lb 3 oz", state={"scoured": True}),
    _verb("scour", "Fibre scoured, with what it weighed before and after.", Scour, scour,
          lot="W-88", amount="2,105 g", weighs="2,000 g", code="W-88-S",
          supplies=[{"lot": "soda crystals", "amount": "40 g"}]),
    _verb("mordant", "Fibre mordanted, with what it took.", Mordant, mordant,
          lot="S-12", mordant="alum", percent="12",
          supplies=[{"lot": "alum", "amount": "48 g"}]),
    _verb("dry", "Fibre found dry: it keeps from now on.", OfFibre, dry, lot="W-85"),
    _verb("measure", "Cloth measured: what a square metre weighs and how wide it lies.", Measure,
          measure, lot="L-31", g_per_m2="180", width_mm=1500),
)  # fmt: skip
# Its example is of fibre that a run has made, so it stands behind the run in the registry.
JUDGE_DYED = _verb(
    "judge-dyed",
    "Dyed fibre looked over again: kept as meant, as second quality or for re-dyeing.",
    JudgeDyed,
    judge_dyed,
    lot="C-1",
    quality="second quality",
    came_out="streaky",
)
