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
from inventory.science.saying import say

DAYS = tuple(Choice(day, say(day.capitalize())) for day in WEEKDAYS)
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
        last = (
            ""
            if row.last_on is None
            else say(", up to {last_on}", last_on=day_said(row.last_on, hand.at.date()))
        )
        more = say(
            "{supplier}, {packs_said}{last}",
            supplier=row.offer.supplier,
            packs_said=packs_said(1, row.offer.pack_mg),
            last=last,
        )
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
    lead = Number(
        name="lead_days",
        words=say("How many working days till it comes?"),
        whole=True,
        needed=lead_needed,
        hint=say("the day of ordering not counted"),
    )
    more = (
        Several(
            name="weekdays",
            words=say("On which days does it work?"),
            options=DAYS,
            needed=False,
            ticked=WORKING if lead_needed else (),
        ),
        Rows(
            name="shutdowns",
            words=say("When is it shut?"),
            spare=2,
            needed=False,
            columns=(
                Column("first", say("From"), kind="date"),
                Column("last", say("To"), kind="date"),
            ),
        ),
        Text(
            name="country",
            words=say("Whose public holidays does it keep?"),
            most=2,
            needed=False,
            hint=say("two letters, such as GB"),
        ),
        Text(
            name="region",
            words=say("Part of that country"),
            most=10,
            needed=False,
            hint=say("such as ENG"),
        ),
        Number(
            name="carriage",
            words=say("Carriage of an order"),
            needed=False,
            hint=say("in the studio's money, such as 6.50"),
        ),
        Number(name="carriage_free_from", words=say("Free of carriage from"), needed=False),
        Number(name="least_order", words=say("Least value of an order"), needed=False),
        Text(name="contact", words=say("How it is reached"), most=500, needed=False),
        NOTE,
    )
    return (*first, lead), more


_ADDED = _terms(Text(name="supplier", words=say("What is it called?"), most=80), lead_needed=True)
WHICH = Pick(
    name="supplier", words=say("Which supplier?"), among=suppliers, typed_words=say("Its name")
)
_CHANGED = _terms(WHICH, lead_needed=False)
FORMS = (
    Form(
        verb="add-supplier",
        heading=say("A new supplier"),
        button=say("It sells to us"),
        done=say("The supplier is written down"),
        asks=_ADDED[0],
        more=_ADDED[1],
        reminder=say("Then write down what it offers."),
        undo="",
        instead=say("Change its terms, or end what it offers."),
    ),
    Form(
        verb="change-supplier",
        heading=say("Other terms of a supplier"),
        button=say("So they are now"),
        done=say("The terms are written down"),
        asks=_CHANGED[0],
        more=_CHANGED[1],
        reminder=say(
            "What is left empty stays as it is. Orders that are written keep their terms."
        ),
        undo="",
        instead=say("Write down the terms that hold."),
    ),
    Form(
        verb="add-offer",
        heading=say("A price"),
        button=say("So it is offered"),
        done=say("The price is written down"),
        asks=(
            WHICH,
            Pick(
                name="fibre",
                words=say("Which fibre?"),
                among=fibres,
                typed_words=say("Another fibre"),
            ),
            Pick(
                name="form",
                words=say("In which form?"),
                among=lambda hand: FORMS_OF_FIBRE,
                can_type=False,
            ),
            Amount(name="pack", words=say("What does a pack weigh?"), units=("kg", "g")),
            Rows(
                name="prices",
                words=say("What does a pack cost?"),
                begin=first_price,
                spare=2,
                without="price",
                hint=say("a lower price from a weight of the order line on"),
                columns=(
                    Column("from_weight", say("From")),
                    Column("price", say("A pack"), mode="decimal"),
                ),
            ),
        ),
        more=(
            yes_or_no(
                "scoured",
                say("Is it ready to dye?"),
                say("it is scoured"),
                say("it has to be scoured"),
            ),
            Number(name="scour_loss", words=say("What does scouring take, in %?"), needed=False),
            Amount(name="least", words=say("The least of a line"), units=MASS, needed=False),
            Number(
                name="packs_there",
                words=say("How many packs does it have?"),
                whole=True,
                needed=False,
            ),
            Text(name="code", words=say("How it calls it"), most=40, needed=False),
            Text(name="since", words=say("First day"), kind="date", needed=False),
            Text(name="last_on", words=say("Last day"), kind="date", needed=False),
            NOTE,
        ),
        into=as_fraction,
        out_of=as_percent,
        undo="",
        instead=say("End the price, and write down the right one."),
    ),
    Form(
        verb="end-offer",
        heading=say("A price ends"),
        button=say("It ends on that day"),
        done=say("The price has its last day"),
        asks=(
            Pick(name="offer", words=say("Which price?"), among=offers, can_type=False),
            Text(name="last_on", words=say("What is its last day?"), kind="date"),
        ),
        into=whole_key,
        undo="",
        instead=say("Write down another last day."),
    ),
)
