"""Entries about suppliers, what they offer, and orders from their writing to their coming."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

from rest_framework import serializers

from api.entries.asked import Asked, Kept
from api.entries.fields import AmountOf, Code, Day, Note, Number, PlaceSaid, Said, Whole, Words, Yes
from api.entries.verb import Verb
from api.entries.verbs.sources import WEEKDAYS
from api.entries.weights import weighed
from api.rest.fields import FieldsUnclear
from api.visitor import Right
from inventory.science.saying import say
from sourcing import orders, suppliers
from sourcing.models import Offer

FIRST_NUMBER, LAST_NUMBER = 1_900_001, 2_199_999
DEAREST = 10_000_000


class Money(Number):
    """Money of the studio as text, to the hundredth: `"22.00"`."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(least=0, most=DEAREST, **kwargs)


class ClosedSaid(Said):
    """Days on which a supplier is shut, both included."""

    first = Day()
    last = Day()


class Terms(Said):
    """The terms of a supplier."""

    supplier = Words(most=80, help_text="its name")
    lead_days = Whole(least=0, most=400, help_text="working days, that of ordering not counted")
    weekdays = serializers.ListField(
        child=serializers.ChoiceField(WEEKDAYS), max_length=7, required=False,
        help_text="that it works; left out: Monday to Friday",
    )  # fmt: skip
    shutdowns = serializers.ListField(child=ClosedSaid(), max_length=40, required=False)
    country = Words(most=2, required=False, help_text="whose public holidays it keeps")
    region = Words(most=10, required=False)
    carriage = Money(required=False, help_text="of an order")
    carriage_free_from = Money(required=False, help_text="goods of an order")
    least_order = Money(required=False, help_text="least value of an order")
    contact = Words(most=500, required=False)
    note = Note()


class OtherTerms(Terms):
    """Terms of a supplier that change."""

    lead_days = Whole(least=0, most=400, required=False)


def add_supplier(asked: Asked) -> Kept:
    """A supplier added with its terms."""
    row = suppliers.add_supplier(
        asked.studio, name=asked["supplier"], lead_days=asked["lead_days"], **_terms(asked)
    )
    return Kept("suppliers", row.name)


def change_supplier(asked: Asked) -> Kept:
    """Other terms of a supplier; what is written keeps its own."""
    row = suppliers.change_supplier(
        asked.studio, name=asked["supplier"], **asked.given("lead_days"), **_terms(asked)
    )
    return Kept("suppliers", row.name)


def _terms(asked: Asked) -> dict[str, Any]:
    found = asked.given("country", "region", "contact", "note")
    money = {
        "carriage": "carriage_minor",
        "carriage_free_from": "carriage_free_from_minor",
        "least_order": "least_minor",
    }
    found |= {column: minor_of(asked, name) for name, column in money.items() if asked.get(name)}
    if asked.get("weekdays") is not None:
        found["weekdays"] = sorted({WEEKDAYS.index(name) for name in asked["weekdays"]})
    if asked.get("shutdowns") is not None:
        found["shutdowns"] = [(row["first"], row["last"]) for row in asked["shutdowns"]]
    return found


def minor_of(asked: Asked, name: str) -> int:
    """Money in hundredths."""
    return minor(asked[name], pointer=f"/{name}")


def minor(money: Decimal, *, pointer: str) -> int:
    """A price in hundredths; nothing smaller is paid."""
    hundredths = money * 100
    if hundredths % 1:
        raise FieldsUnclear([(pointer, say("Write money to the hundredth, such as 22.50."))])
    return int(hundredths)


class TierSaid(Said):
    """A price of a pack from a weight of the line on."""

    from_weight = AmountOf("mass", may_be_zero=True, help_text="of the line; the first from 0 g")
    price = Money(help_text="of one pack")


class OfferSaid(Said):
    """A fibre in a pack at its prices."""

    supplier = Words(most=80)
    fibre = Words(most=20)
    form = serializers.ChoiceField(("yarn", "cloth", "fleece"))
    pack = AmountOf("mass")
    prices = serializers.ListField(child=TierSaid(), min_length=1, max_length=20)
    least = AmountOf("mass", required=False, help_text="least weight of the line")
    scoured = Yes(required=False)
    scour_loss = Number(least=0, most=1, required=False, help_text="of the mass as bought, 0 to 1")
    packs_there = Whole(least=0, most=1_000_000, required=False)
    code = Code(required=False, help_text="as the supplier writes it")
    since = Day(required=False)
    last_on = Day(required=False)
    note = Note()


def add_offer(asked: Asked) -> Kept:
    """A price noted."""
    tiers = [
        (row["from_weight"].mg, minor(row["price"], pointer=f"/prices/{number}/price"))
        for number, row in enumerate(asked["prices"])
    ]
    least, loss = asked.get("least"), asked.get("scour_loss")
    row = suppliers.add_offer(
        asked.studio,
        pack_mg=asked["pack"].mg,
        tiers=tiers,
        least_mg=0 if least is None else least.mg,
        scour_loss=None if loss is None else Fraction(loss),
        most_packs=asked.get("packs_there"),
        **asked.given("supplier", "fibre", "form", "scoured", "code", "since", "last_on", "note"),
    )
    return Kept("offers", str(row.pk))


class EndOffer(Said):
    """An offer that holds till a day."""

    offer = Whole(least=1, most=2**53)
    last_on = Day()


def end_offer(asked: Asked) -> Kept:
    """An offer ended."""
    row: Offer = suppliers.end_offer(asked.studio, **asked.given("offer", "last_on"))
    return Kept("offers", str(row.pk))


class LineSaid(Said):
    """One line of an order."""

    offer = Whole(least=1, most=2**53)
    packs = Whole(least=1, most=1_000_000, required=False)
    weight = AmountOf("mass", required=False, help_text="in whole packs")


class Write(Said):
    """An order written."""

    supplier = Words(most=80)
    lines = serializers.ListField(child=LineSaid(), min_length=1, max_length=orders.LINES_AT_MOST)
    runs = serializers.ListField(child=Code(), max_length=40, required=False)
    needed_by = Day(required=False)
    note = Note()


def write(asked: Asked) -> Kept:
    """An order written at the prices of that day."""
    lines = [
        orders.Ordered(
            row["offer"], row.get("packs"), row["weight"].mg if row.get("weight") else None
        )
        for row in asked["lines"]
    ]
    facts = orders.write_order(
        asked.studio, lines=lines, **asked.given("supplier", "runs", "needed_by"), **asked.posting
    )
    return _order(facts)


class OfOrder(Said):
    """An entry about one order."""

    order = Whole(least=FIRST_NUMBER, most=LAST_NUMBER, help_text="its number, 2026001")
    note = Note()


def send(asked: Asked) -> Kept:
    """An order sent."""
    return _order(orders.send(asked.studio, order=asked["order"], **asked.posting))


class Confirm(OfOrder):
    """A supplier says when an order comes."""

    day = Day()


def confirm(asked: Asked) -> Kept:
    """An order confirmed for a day."""
    return _order(
        orders.confirm(asked.studio, order=asked["order"], day=asked["day"], **asked.posting)
    )


def call_off(asked: Asked) -> Kept:
    """An order called off, or what is still to come of it."""
    return _order(orders.call_off(asked.studio, order=asked["order"], **asked.posting))


class CameSaid(Said):
    """Packs of one line that came, weighed in."""

    line = Whole(least=1, most=orders.LINES_AT_MOST, help_text="its number in the order")
    packs = Whole(least=1, most=1_000_000)
    lot = Code(help_text="of the new lot of fibre")
    weight = AmountOf("mass", help_text="net, dry")


class Come(OfOrder):
    """What came of an order."""

    came = serializers.ListField(child=CameSaid(), min_length=1, max_length=orders.LINES_AT_MOST)
    place = PlaceSaid(required=False)


def come(asked: Asked) -> Kept:
    """What came of an order, weighed in: each line a lot of fibre."""
    came = [
        orders.Came(row["line"], row["packs"], row["lot"], weighed(row["weight"]))
        for row in asked["came"]
    ]
    facts = orders.receive_delivery(
        asked.studio,
        order=asked["order"],
        came=came,
        place=asked.get("place"),
        **asked.posting,
    )
    return _order(facts)


def _order(facts: Any) -> Kept:
    return Kept("orders", str(facts.number), values={"order": facts.number, "state": facts.state})


def _verb(name: str, noun: str, says: str, fields: type[Said], run: Any, /, **example: Any) -> Verb:
    return Verb(name, noun, says, Right.DYER, fields, run, example)


VERBS = (
    _verb("add-supplier", "suppliers", "A new supplier with its terms.", Terms, add_supplier,
          supplier="weir mill", lead_days=8, country="GB", carriage="6.50",
          carriage_free_from="150"),
    _verb("change-supplier", "suppliers", "Other terms of a supplier, from now on.", OtherTerms,
          change_supplier, supplier="weir mill", lead_days=9),
    _verb("add-offer", "offers", "A fibre in a pack at its prices.", OfferSaid, add_offer,
          supplier="weir mill", fibre="linen", form="cloth", pack="500 g",
          prices=[{"from_weight": "0 g", "price": "14.00"},
                  {"from_weight": "5 kg", "price": "12.50"}]),
    _verb("end-offer", "offers", "An offer that holds till a day and no longer.", EndOffer,
          end_offer, offer=1, last_on="2027-03-31"),
    _verb("write-order", "orders", "An order written at the prices of that day.", Write, write,
          supplier="far mill", lines=[{"offer": 1, "packs": 5}], runs=["G"],
          needed_by="2026-12-07"),
    _verb("send-order", "orders", "An order sent to its supplier.", OfOrder, send, order=2026001),
    _verb("confirm-order", "orders", "The day that the supplier has said.", Confirm, confirm,
          order=2026001, day="2026-12-09"),
    _verb("order-came", "orders", "What came of an order, weighed in.", Come, come,
          order=2026001, came=[{"line": 1, "packs": 2, "lot": "W-101", "weight": "2,010 g"}]),
    _verb("call-off-order", "orders", "An order called off, or the rest of it.", OfOrder,
          call_off, order=2026001),
)  # fmt: skip
