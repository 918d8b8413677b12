"""Entries about lots of dyestuff and supplies: received, drawn, weighed, put by, tipped out."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from api.entries.asked import Asked, Kept
from api.entries.fields import AmountOf, Code, Day, Moment, Note, PlaceSaid, Said, Words, Yes
from api.entries.verb import Verb
from api.entries.weights import (
    InContainer,
    TakeSaid,
    check_counted,
    for_lot,
    takes_of,
    weight_said,
)
from api.rest.fields import FieldsUnclear
from api.visitor import Right
from inventory import ledger, lots
from inventory.entries import NewLot, Weighed
from inventory.science.amounts import Amount
from inventory.science.saying import say
from sourcing import claims, turning
from sourcing.pickups import piece_mass_mg

STATES = ("fresh", "frozen", "dried", "damp")
MOST_TAKES = 40  # lots that one entry takes from


class OfLot(Said):
    """An entry about one lot."""

    lot = Code(help_text="its code")
    note = Note()


class Receive(Said):
    """A new lot and its first amount."""

    lot = Code(help_text="the code of the new lot")
    what = Words(most=80, help_text="dyestuff or supply, by its name")
    kind = serializers.ChoiceField(("dyestuff", "supply"), required=False)
    amount = AmountOf("mass", "count", "container", required=False)
    weighed_in = InContainer(required=False)
    state = serializers.ChoiceField(STATES, required=False, help_text="of a dyestuff")
    place = PlaceSaid(required=False)
    since = Moment(required=False, help_text="in that state and place; left out: since now")
    gathered_on = Day(required=False)
    source = Words(required=False, help_text="who gave it")  # type: ignore[assignment]
    permission = Words(most=200, required=False, help_text="who said yes, and when")
    foraged = Yes(required=False)
    nest_checked = Yes(required=False)
    labelled = Yes(required=False)
    arrives_at = Moment(required=False, help_text="of what is promised and not there yet")
    site = Code(required=False)
    note = Note()


def receive(asked: Asked) -> Kept:
    """A lot received, weighed or counted."""
    lot = _new_lot(asked)
    counted = _counted(asked)
    if counted is not None:
        piece_mg = piece_mass_mg(asked.studio, lot.what, at=asked.at)
        posted = ledger.receive_count(
            asked.studio,
            lot=lot,
            pieces=counted,
            piece_mg=piece_mg,
            words=asked["amount"].words,
            **asked.posting,
        )
    else:
        amount = weight_said(asked)
        if amount is None:
            raise FieldsUnclear([("/amount", say("Say what it weighs, or how many were counted."))])
        posted = ledger.receive(asked.studio, lot=lot, amount=amount, **asked.posting)
    return Kept("lots", lot.code, posted)


def _new_lot(asked: Asked) -> NewLot:
    names = ("what", "kind", "state", "place", "since", "site", "source", "gathered_on")
    more = ("permission", "foraged", "nest_checked", "labelled", "arrives_at")
    return NewLot(code=asked["lot"], **asked.given(*names, *more))


def _counted(asked: Asked) -> int | None:
    """Pieces, or full containers, which are counted like pieces."""
    amount: Amount | None = asked.get("amount")
    if amount is None or amount.kind not in ("count", "container"):
        return None
    check_counted(asked, asked["what"], amount, pointer="/amount")
    if amount.value.denominator != 1:
        sentence = say(
            "Write whole {unit}s, or weigh it: a part of one teaches nothing.", unit=amount.unit
        )
        raise FieldsUnclear([("/amount", sentence)])
    return int(amount.value)


class Draw(Said):
    """Amounts taken from lots by hand."""

    takes = serializers.ListField(child=TakeSaid(), min_length=1, max_length=MOST_TAKES)
    run = Code(required=False, help_text="the run that it is for; its own claim is used")
    note = Note()


def draw(asked: Asked) -> Kept:
    """Amounts drawn, all or none, leaving what other runs were promised."""
    takes = takes_of(asked)
    posted = claims.draw(asked.studio, takes=takes, run=asked.get("run", ""), **asked.posting)
    return Kept("lots", takes[0].lot, posted)


class TipOut(Said):
    """Amounts disposed of."""

    takes = serializers.ListField(child=TakeSaid(), min_length=1, max_length=MOST_TAKES)
    where_to = Words(most=200, help_text="compost, council site, kept for disposal …")
    note = Note()


def tip_out(asked: Asked) -> Kept:
    """Amounts tipped out, with where they went."""
    takes = takes_of(asked)
    posted = ledger.tip_out(asked.studio, takes=takes, where_to=asked["where_to"], **asked.posting)
    return Kept("lots", takes[0].lot, posted)


class Found(OfLot):
    """What there is of a lot."""

    amount = AmountOf("mass", "volume", required=False, may_be_zero=True)
    weighed_in = InContainer(required=False)


def weigh_again(asked: Asked) -> Kept:
    """A lot set to what the scale says; an untouched count teaches what a piece weighs."""
    posted = ledger.weigh_again(
        asked.studio, lot=asked["lot"], found=_found(asked), **asked.posting
    )
    return Kept("lots", asked["lot"], posted)


def recount(asked: Asked) -> Kept:
    """A lot set to what was found."""
    posted = ledger.recount(asked.studio, lot=asked["lot"], found=_found(asked), **asked.posting)
    return Kept("lots", asked["lot"], posted)


def _found(asked: Asked) -> Weighed:
    if asked.get("weighed_in") is None and asked.get("amount") is not None:
        return for_lot(asked, asked["lot"], asked["amount"], pointer="/amount")
    found = weight_said(asked)
    if found is None:
        raise FieldsUnclear([("/amount", say("Say what there is, such as 640 g."))])
    return found


class PutBy(OfLot):
    """A lot, or a part of it, frozen, dried or moved."""

    state = serializers.ChoiceField(STATES)
    place = PlaceSaid()
    amount = AmountOf("mass", required=False, help_text="of a part; left out: the whole lot")
    code = Code(required=False, help_text="of the new lot that a part becomes")
    becomes = AmountOf("mass", required=False, help_text="what it weighs afterwards")
    reason = Words(most=200, required=False, help_text="what it lost: water unless said")
    site = Code(required=False, help_text="the other site that it is carried to, under a new code")
    run = Code(required=False, help_text="the run that it is for; its claim goes along")


def put_by(asked: Asked) -> Kept:
    """A lot put by, with its weights before and after."""
    amounts: dict[str, Any] = {
        name: for_lot(asked, asked["lot"], asked[name], pointer=f"/{name}")
        for name in ("amount", "becomes")
        if asked.get(name) is not None
    }
    posted = turning.put_by(
        asked.studio,
        lot=asked["lot"],
        state=asked["state"],
        place=asked["place"],
        **amounts,
        **asked.given("code", "reason", "site", "run"),
        **asked.posting,
    )
    return Kept("lots", asked.get("code", asked["lot"]), posted)


class SetAside(OfLot):
    """A lot kept out of use."""

    reason = Words(help_text="why it waits to be checked")


def set_aside(asked: Asked) -> Kept:
    """A lot set aside until it is checked."""
    posted = lots.set_aside(asked.studio, lot=asked["lot"], reason=asked["reason"], **asked.posting)
    return Kept("lots", asked["lot"], posted)


def use_again(asked: Asked) -> Kept:
    """A lot taken into use again."""
    return Kept(
        "lots", asked["lot"], lots.use_again(asked.studio, lot=asked["lot"], **asked.posting)
    )


class Label(OfLot):
    """Whether a lot has its label."""

    labelled = Yes(required=False, help_text="false: it was found without; left out: true")


def label(asked: Asked) -> Kept:
    """A lot labelled, or found without its label."""
    posted = lots.label(asked.studio, lot=asked["lot"], **asked.given("labelled"), **asked.posting)
    return Kept("lots", asked["lot"], posted)


class Arrive(OfLot):
    """A promised lot that has come, or comes at another moment."""

    arrives_at = Moment(required=False, help_text="left out: it is here")


def arrive(asked: Asked) -> Kept:
    """A promised lot here, or put off."""
    posted = lots.arrive(
        asked.studio, lot=asked["lot"], **asked.given("arrives_at"), **asked.posting
    )
    return Kept("lots", asked["lot"], posted)


class CheckNest(OfLot):
    """Whether a hedge was looked over for nests."""

    checked = Yes(required=False)


def check_nest(asked: Asked) -> Kept:
    """A hedge looked over for nests before the lot was cut, or not."""
    posted = lots.check_nest(
        asked.studio, lot=asked["lot"], **asked.given("checked"), **asked.posting
    )
    return Kept("lots", asked["lot"], posted)


class Judge(OfLot):
    """What somebody saw of a lot."""

    looks = serializers.ChoiceField(("sound", "bad"))


def judge(asked: Asked) -> Kept:
    """A lot judged by eye; it stands above the sum of days."""
    sound = asked["looks"] == "sound"
    return Kept(
        "lots",
        asked["lot"],
        lots.judge(asked.studio, lot=asked["lot"], sound=sound, **asked.posting),
    )


def _verb(name: str, says: str, fields: type[Said], run: object, /, **example: object) -> Verb:
    assert callable(run)
    return Verb(name, "lots", says, Right.HELPER, fields, run, example)


BENCH = {"kind": "bench"}
VERBS = (
    _verb("receive", "A new lot on the shelf, weighed or counted.", Receive, receive,
          lot="AV-1127", what="avocado stones", amount="58 stones", state="fresh", place=BENCH),
    _verb("draw", "Amounts taken from lots, leaving what runs were promised.", Draw, draw,
          takes=[{"lot": "AV-1116", "amount": "40 g"}], note="for a sample"),
    _verb("tip-out", "Amounts disposed of, with where they went.", TipOut, tip_out,
          takes=[{"lot": "AV-1116", "amount": "2 oz"}], where_to="compost"),
    _verb("weigh-again", "A lot set to what the scale says.", Found, weigh_again,
          lot="AV-1116", weighed_in={"gross": "1.3 kg", "tare": "180 g", "container": "blue tub"}),
    _verb("recount", "A lot set to what was found.", Found, recount,
          lot="AV-1116", amount={"amount": "1100", "unit": "g"}),
    _verb("put-by", "A lot or a part of it frozen, dried or moved.", PutBy, put_by,
          lot="AV-1116", state="frozen", place={"kind": "freezer", "code": "freezer"},
          amount="600 g", code="AV-1116-F"),
    _verb("set-aside", "A lot kept out of use until it is checked.", SetAside, set_aside,
          lot="AV-1116", reason="smells sour"),
    _verb("use-again", "A lot checked and taken into use again.", OfLot, use_again, lot="AV-1116"),
    _verb("label", "A lot labelled, or found without its label.", Label, label, lot="AV-1116"),
    _verb("arrive", "A promised lot that has come, or comes at another moment.", Arrive, arrive,
          lot="AV-1116"),
    _verb("check-nest", "A hedge looked over for nests before a lot was cut.", CheckNest,
          check_nest, lot="AV-1116", checked=True),
    _verb("judge", "A lot found sound or bad by eye.", Judge, judge, lot="AV-1116", looks="bad"),
)  # fmt: skip
