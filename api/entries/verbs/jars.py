"""Entries about jars and baths: begun, dipped, topped up, strained, drawn, kept warm, used."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

from rest_framework import serializers

from api.entries.asked import Asked, Kept
from api.entries.fields import AmountOf, Code, Moment, Note, Number, PlaceSaid, Said, Whole, Words
from api.entries.verb import Verb
from api.entries.weights import TakeSaid, takes_of, weighed
from api.visitor import Right
from inventory import jars
from sourcing import turning

METALS = ("iron", "copper")


class OfJar(Said):
    """An entry about one jar."""

    jar = Code(help_text="its code")
    note = Note()


class Begin(OfJar):
    """A jar of liquor begun."""

    name = Words(most=80, help_text="what the tape says")
    metal = serializers.ChoiceField(METALS)
    volume = AmountOf("volume", help_text="liquor in it now")
    vinegar_parts = Number(least=0, most=1000, required=False)
    water_parts = Number(least=0, most=1000, required=False)
    acid_percent = Number(least=0, most=100, required=False, help_text="of the vinegar, g/100 mL")
    begun_at = Moment(required=False, help_text="where it was begun before this entry")
    begun_volume = AmountOf("volume", required=False, help_text="liquor at the beginning")
    warmth_c = Number(least=-60, most=110, required=False, help_text="°C where it stands")
    site = Code(required=False)


def begin(asked: Asked) -> Kept:
    """A jar begun with what was poured in."""
    begun_with = asked.get("begun_volume")
    posted = jars.begin(
        asked.studio,
        code=asked["jar"],
        name=asked["name"],
        metal=asked["metal"],
        volume=weighed(asked["volume"]),
        vinegar_parts=Fraction(asked.get("vinegar_parts", 0)),
        water_parts=Fraction(asked.get("water_parts", 0)),
        acid_percent=asked.get("acid_percent", Decimal(0)),
        begun_volume_ul=None if begun_with is None else begun_with.ul,
        temperature_c=_warmth(asked),
        **asked.given("begun_at", "site"),
        **asked.posting,
    )
    return Kept("jars", asked["jar"], posted)


class Dip(OfJar):
    """A strip dipped."""

    grade = Whole(least=1, most=5, required=False, help_text="1 faint to 5 black")
    metal_mg_per_l = Number(least=0, most=1_000_000, required=False, help_text="by test strip")


def dip(asked: Asked) -> Kept:
    """A jar tested by a strip."""
    read: Decimal | None = asked.get("metal_mg_per_l")
    posted = jars.dip(
        asked.studio,
        jar=asked["jar"],
        grade=asked.get("grade"),
        metal_mg_per_l=None if read is None else float(read),
        **asked.posting,
    )
    return Kept("jars", asked["jar"], posted)


class TopUp(OfJar):
    """Liquid added to a jar."""

    volume = AmountOf("volume")
    vinegar_share = Number(least=0, most=1, required=False, help_text="of that volume, 0 to 1")
    acid_percent = Number(least=0, most=100, required=False)


def top_up(asked: Asked) -> Kept:
    """A jar topped up."""
    posted = jars.top_up(
        asked.studio,
        jar=asked["jar"],
        volume=weighed(asked["volume"]),
        vinegar_parts=Fraction(asked.get("vinegar_share", 0)),
        acid_percent=asked.get("acid_percent", Decimal(0)),
        **asked.posting,
    )
    return Kept("jars", asked["jar"], posted)


class Strain(OfJar):
    """A jar strained off its metal."""

    left = AmountOf("volume", required=False, may_be_zero=True, help_text="where it was measured")


def strain(asked: Asked) -> Kept:
    """A jar strained; it gains no more metal."""
    left = asked.get("left")
    posted = jars.strain(
        asked.studio,
        jar=asked["jar"],
        left=None if left is None else weighed(left),
        **asked.posting,
    )
    return Kept("jars", asked["jar"], posted)


class Evaporate(OfJar):
    """A jar whose water went into the air."""

    left = AmountOf("volume", help_text="what is left, with all its metal")


def evaporate(asked: Asked) -> Kept:
    """A jar found with less in it, and all of its metal."""
    posted = jars.evaporate(
        asked.studio, jar=asked["jar"], left=weighed(asked["left"]), **asked.posting
    )
    return Kept("jars", asked["jar"], posted)


class DrawLiquor(OfJar):
    """Liquor drawn from a jar."""

    volume = AmountOf("volume")
    metal_mg_per_l = Whole(least=0, most=1_000_000, required=False, help_text="shown when dosed")


def draw_liquor(asked: Asked) -> Kept:
    """Liquor drawn, with the strength shown when it was dosed."""
    posted = jars.draw(
        asked.studio,
        jar=asked["jar"],
        volume=weighed(asked["volume"]),
        metal_mg_per_l=asked.get("metal_mg_per_l"),
        **asked.posting,
    )
    return Kept("jars", asked["jar"], posted)


class KeepAt(OfJar):
    """A jar moved to another warmth."""

    warmth_c = Number(least=-60, most=110)


def keep_at(asked: Asked) -> Kept:
    """A jar kept warmer or colder from now on."""
    posted = jars.keep_at(
        asked.studio, jar=asked["jar"], temperature_c=float(asked["warmth_c"]), **asked.posting
    )
    return Kept("jars", asked["jar"], posted)


class MakeBath(Said):
    """A bath made."""

    bath = Code(help_text="the code of the new bath")
    what = Words(most=80, help_text="nettle bath, alum bath, dyebath …")
    volume = AmountOf("volume")
    warmth_c = Number(least=-60, most=110, help_text="°C at which it is kept")
    takes = serializers.ListField(child=TakeSaid(), max_length=40, required=False)
    made_at = Moment(required=False, help_text="where it was made before this entry")
    shade = Words(most=80, required=False, help_text="of a dyebath: the shade that came first")
    depth = Whole(least=0, most=5, required=False)
    metal = serializers.ChoiceField(METALS, required=False)
    times_used = Whole(least=0, most=50, required=False)
    alum_left = AmountOf("mass", required=False, help_text="of an alum bath, reckoned")
    site = Code(required=False)
    run = Code(required=False, help_text="the run that it is for; its claim goes along")
    note = Note()


def make_bath(asked: Asked) -> Kept:
    """A bath made of what was taken for it."""
    alum = asked.get("alum_left")
    posted = turning.make_bath(
        asked.studio,
        code=asked["bath"],
        what=asked["what"],
        volume=weighed(asked["volume"]),
        temperature_c=float(asked["warmth_c"]),
        takes=takes_of(asked),
        **({} if alum is None else {"alum_left_mg": alum.mg}),
        **asked.given("made_at", "shade", "depth", "metal", "times_used", "site", "run"),
        **asked.posting,
    )
    return Kept("baths", asked["bath"], posted)


class UseBath(Said):
    """A bath used once more."""

    bath = Code()
    alum_left = AmountOf("mass", required=False, may_be_zero=True)
    left = AmountOf("volume", required=False, may_be_zero=True)
    note = Note()


def use_bath(asked: Asked) -> Kept:
    """A bath used once more, with what it holds afterwards."""
    alum, left = asked.get("alum_left"), asked.get("left")
    posted = jars.use_bath(
        asked.studio,
        bath=asked["bath"],
        alum_left_mg=None if alum is None else alum.mg,
        left=None if left is None else weighed(left),
        **asked.posting,
    )
    return Kept("baths", asked["bath"], posted)


class MoveBath(Said):
    """A bath put in another place."""

    bath = Code()
    place = PlaceSaid()
    note = Note()


def move_bath(asked: Asked) -> Kept:
    """A bath moved."""
    posted = jars.move_bath(asked.studio, bath=asked["bath"], place=asked["place"], **asked.posting)
    return Kept("baths", asked["bath"], posted)


def _warmth(asked: Asked) -> float | None:
    found: Decimal | None = asked.get("warmth_c")
    return None if found is None else float(found)


def _verb(name: str, noun: str, says: str, fields: type[Said], run: Any, /, **example: Any) -> Verb:
    return Verb(name, noun, says, Right.HELPER, fields, run, example)


VERBS = (
    _verb("begin-jar", "jars", "A jar of iron or copper liquor begun.", Begin, begin,
          jar="J7", name="Iron 8", metal="iron", volume="3 L", vinegar_parts="1", water_parts="2",
          acid_percent="5", warmth_c="8"),
    _verb("dip", "jars", "A strip dipped into a jar and graded.", Dip, dip, jar="J2", grade=4),
    _verb("top-up", "jars", "Liquid added to a jar.", TopUp, top_up,
          jar="J1", volume="½ pint", vinegar_share="1", acid_percent="5"),
    _verb("strain", "jars", "A jar strained off its metal.", Strain, strain, jar="J3"),
    _verb("evaporate", "jars", "A jar found with less water in it.", Evaporate, evaporate,
          jar="J3", left="1.4 L"),
    _verb("draw-liquor", "jars", "Liquor drawn from a jar.", DrawLiquor, draw_liquor,
          jar="J2", volume="120 mL", metal_mg_per_l=3500),
    _verb("keep-at", "jars", "A jar moved to another warmth.", KeepAt, keep_at,
          jar="J1", warmth_c="20"),
    _verb("make-bath", "baths", "A bath made of what was taken for it.", MakeBath, make_bath,
          bath="J8", what="nettle bath", volume="8 L", warmth_c="8",
          takes=[{"lot": "NE-0620", "amount": "100 g"}]),
    _verb("use-bath", "baths", "A bath used once more.", UseBath, use_bath, bath="J6", left="7 L"),
    _verb("move-bath", "baths", "A bath put in another place.", MoveBath, move_bath,
          bath="J6", place={"kind": "bench"}),
)  # fmt: skip
