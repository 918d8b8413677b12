"""Forms about suppliers: their terms, and what they offer at which prices."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal, InvalidOperation
from typing import Any

from api.entries.verbs.sources import WEEKDAYS
from api.web.note.ask import MASS, Amount, Ask, Body, Fields, Number, Pick, Text, options, yes_or_no
from api.web.note.form import NOTE, Form
from api.web.note.hand import Choice, Hand
from api.web.note.several import Column, Row, Rows, Several
from api.web.orders.words import day_said, packs_said, stuff_said

DAYS = tuple(Choice(day, day.capitalize()) for day in WEEKDAYS)
WORKING = WEEKDAYS[:5]
FORMS_OF_FIBRE = options("yarn", "cloth", "fleece")
HUNDRED = Decimal(100)


def suppliers(hand: Hand) -> Sequence[Choice]:
    """Every supplier by name."""
    return [Choice(name, name) for name in hand.suppliers]


def fibres(hand: Hand) -> Sequence[Choice]:
    """Fibres that the studio had or has, and what is offered, each once."""
    offered = (row.offer.stuff.fibre for row in hand.offers)
    return [Choice(name, name) for name in dict.fromkeys([*hand.fibres, *offered])]


def offers(hand: Hand) -> Sequence[Choice]:
    """What holds of the price lists."""
    found = []
    for row in hand.offers:
        last = "" if row.last_on is None else f", up to {day_said(row.last_on, hand.at.date())}"
        more = f"{row.offer.supplier}, {packs_said(1, row.offer.pack_mg)}{last}"
        found.append(Choice(str(row.key), stuff_said(row.offer.stuff), more))
    return found


def first_price(fields: Fields, hand: Hand) -> Sequence[Row]:
    """The price of one pack, which holds from nothing on."""
    return (Row("", {"from_weight": "0 g", "price": ""}),)


def as_fraction(body: Body) -> Body:
    """A loss said in percent as a part of one."""
    return {**body, **_turned(body, lambda said: said / HUNDRED)}


def as_percent(body: Mapping[str, Any]) -> Body:
    """A loss as a part of one in percent."""
    return {**body, **_turned(body, lambda said: said * HUNDRED)}


def _turned(body: Mapping[str, Any], turn: Any) -> Body:
    text = body.get("scour_loss")
    if text is None:
        return {}
    try:
        return {"scour_loss": f"{turn(Decimal(str(text))).normalize():f}"}
    except InvalidOperation:
        return {}


def whole_key(body: Body) -> Body:
    """The number of an offer without quotes."""
    text = str(body.get("offer", ""))
    return {**body, "offer": int(text)} if text.isdecimal() else body


def _terms(*first: Ask, lead_needed: bool) -> tuple[tuple[Ask, ...], tuple[Ask, ...]]:
    lead = Number(name="lead_days", words="How many working days till it comes?", whole=True,
                  needed=lead_needed, hint="the day of ordering not counted")  # fmt: skip
    more = (
        Several(name="weekdays", words="On which days does it work?", options=DAYS, needed=False,
                ticked=WORKING if lead_needed else ()),
        Rows(name="shutdowns", words="When is it shut?", spare=2, needed=False,
             columns=(Column("first", "From", kind="date"), Column("last", "To", kind="date"))),
        Text(name="country", words="Whose public holidays does it keep?", most=2, needed=False,
             hint="two letters, such as GB"),
        Text(name="region", words="Part of that country", most=10, needed=False,
             hint="such as ENG"),
        Number(name="carriage", words="Carriage of an order", needed=False,
               hint="in the studio's money, such as 6.50"),
        Number(name="carriage_free_from", words="Free of carriage from", needed=False),
        Number(name="least_order", words="Least value of an order", needed=False),
        Text(name="contact", words="How it is reached", most=500, needed=False),
        NOTE,
    )  # fmt: skip
    return (*first, lead), more


_ADDED = _terms(Text(name="supplier", words="What is it called?", most=80), lead_needed=True)
WHICH = Pick(name="supplier", words="Which supplier?", among=suppliers, typed_words="Its name")
_CHANGED = _terms(WHICH, lead_needed=False)
FORMS = (
    Form(
        verb="add-supplier",
        heading="A new supplier",
        button="It sells to us",
        done="The supplier is written down",
        asks=_ADDED[0],
        more=_ADDED[1],
        reminder="Then write down what it offers.",
        undo="",
        instead="Change its terms, or end what it offers.",
    ),
    Form(
        verb="change-supplier",
        heading="Other terms of a supplier",
        button="So they are now",
        done="The terms are written down",
        asks=_CHANGED[0],
        more=_CHANGED[1],
        reminder="What is left empty stays as it is. Orders that are written keep their terms.",
        undo="",
        instead="Write down the terms that hold.",
    ),
    Form(
        verb="add-offer",
        heading="A price",
        button="So it is offered",
        done="The price is written down",
        asks=(
            WHICH,
            Pick(name="fibre", words="Which fibre?", among=fibres, typed_words="Another fibre"),
            Pick(name="form", words="In which form?", among=lambda hand: FORMS_OF_FIBRE,
                 can_type=False),
            Amount(name="pack", words="What does a pack weigh?", units=("kg", "g")),
            Rows(name="prices", words="What does a pack cost?", begin=first_price, spare=2,
                 without="price", hint="a lower price from a weight of the order line on",
                 columns=(Column("from_weight", "From"),
                          Column("price", "A pack", mode="decimal"))),
        ),
        more=(
            yes_or_no("scoured", "Is it ready to dye?", "it is scoured", "it has to be scoured"),
            Number(name="scour_loss", words="What does scouring take, in %?", needed=False),
            Amount(name="least", words="The least of a line", units=MASS, needed=False),
            Number(name="packs_there", words="How many packs does it have?", whole=True,
                   needed=False),
            Text(name="code", words="How it calls it", most=40, needed=False),
            Text(name="since", words="First day", kind="date", needed=False),
            Text(name="last_on", words="Last day", kind="date", needed=False),
            NOTE,
        ),
        into=as_fraction,
        out_of=as_percent,
        undo="",
        instead="End the price, and write down the right one.",
    ),
    Form(
        verb="end-offer",
        heading="A price ends",
        button="It ends on that day",
        done="The price has its last day",
        asks=(
            Pick(name="offer", words="Which price?", among=offers, can_type=False),
            Text(name="last_on", words="What is its last day?", kind="date"),
        ),
        into=whole_key,
        undo="",
        instead="Write down another last day.",
    ),
)  # fmt: skip
