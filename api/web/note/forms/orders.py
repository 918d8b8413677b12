"""Forms about orders: written from a price list, sent, confirmed, come, called off."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from api.web.note.ask import Body, Fields, Pick, Text
from api.web.note.form import NOTE, Form
from api.web.note.hand import Choice, Hand
from api.web.note.listed import Listed
from api.web.note.places import Where, places
from api.web.note.several import Column, Row, Rows
from api.web.orders.words import money_said, packs_said, stuff_said
from inventory.codes import numbered_code
from inventory.science.saying import say
from sourcing.ordered import order_label
from sourcing.week.words import exact

WRITTEN = say("Call the order off, and write another.")


@dataclass(frozen=True, kw_only=True)
class FirstOf(Pick):
    """What the whole form is about; another one is another page."""

    part: str = "runs"
    can_type: bool = False


def sellers(hand: Hand) -> Sequence[Choice]:
    """Suppliers that offer something."""
    many = [row.offer.supplier for row in hand.offers]
    return [
        Choice(name, name, say("{number} on its list", number=many.count(name)))
        for name in hand.suppliers
        if name in many
    ]


def orders(hand: Hand) -> Sequence[Choice]:
    """Orders of which something is still to come."""
    return [Choice(str(number), order_label(number), name) for number, name in hand.orders]


def price_list(fields: Fields, hand: Hand) -> Sequence[Row]:
    """Everything that the supplier offers, none of it ordered yet."""
    name = fields.get("supplier") or next((row.value for row in sellers(hand)), "")
    return [
        Row(
            say(
                "{stuff}, {packs_said}, {pack_minor}",
                stuff=stuff_said(row.offer.stuff),
                packs_said=packs_said(1, row.offer.pack_mg),
                pack_minor=money_said(row.offer.tiers[0].pack_minor, hand.studio.currency),
            ),
            {"offer": str(row.key)},
        )
        for row in hand.offers
        if row.offer.supplier == name
    ]


def to_come(fields: Fields, hand: Hand) -> Sequence[Row]:
    """The lines of which packs are still to come, as if they had all come."""
    text = fields.get("order") or next((row.value for row in orders(hand)), "")
    if not text.isdecimal():
        return ()
    facts, taken, rows = hand.order(int(text)), list[str](), list[Row]()
    for line in facts.lines:
        if not line.to_come_packs:
            continue
        code = numbered_code(hand.studio, "fibre", line.stuff.fibre, taken=taken)
        taken.append(code)
        values = {
            "line": str(line.number),
            "packs": str(line.to_come_packs),
            "lot": code,
            "weight": " ".join(exact(line.to_come_mg, "mg")),
        }
        left = packs_said(line.to_come_packs, line.pack_mg)
        rows.append(
            Row(say("{stuff}, {left} to come", stuff=stuff_said(line.stuff), left=left), values)
        )
    return rows


def whole(*names: str) -> Callable[[Body], Body]:
    """Numbers of these names, in the body or in its rows, without quotes."""

    def turned(body: Body) -> Body:
        found = {name: _number(said) if name in names else said for name, said in body.items()}
        for name, rows in found.items():
            if isinstance(rows, list) and all(isinstance(row, dict) for row in rows):
                found[name] = [turned(row) for row in rows]
        return found

    return turned


def _number(said: object) -> object:
    text = str(said)
    return int(text) if text.isdecimal() and text.isascii() else said


WHICH = Pick(
    name="order", words=say("Which order?"), among=orders, typed_words=say("Its number, 2026001")
)
FORMS = (
    Form(
        verb="write-order",
        heading=say("An order"),
        button=say("Write the order"),
        done=say("The order is written"),
        asks=(
            FirstOf(name="supplier", words=say("From whom?"), among=sellers),
            Rows(
                name="lines",
                words=say("How many packs?"),
                begin=price_list,
                without="packs",
                columns=(
                    Column("offer", "", known=True, whole=True),
                    Column("packs", say("Packs"), mode="numeric", whole=True, most=7),
                ),
            ),
        ),
        more=(
            Listed(
                name="runs",
                words=say("For which runs?"),
                needed=False,
                hint=say("codes, such as G"),
            ),
            Text(name="needed_by", words=say("Needed by which day?"), kind="date", needed=False),
            NOTE,
        ),
        reminder=say("Nothing is sent by writing it: send it, then say that it is sent."),
        undo="",
        instead=WRITTEN,
    ),
    Form(
        verb="send-order",
        heading=say("An order is sent"),
        button=say("It is sent"),
        done=say("The order is sent"),
        asks=(WHICH,),
        more=(NOTE,),
        into=whole("order"),
        undo="",
        instead=WRITTEN,
    ),
    Form(
        verb="confirm-order",
        heading=say("The day an order comes"),
        button=say("So the supplier says"),
        done=say("The day is written down"),
        asks=(WHICH, Text(name="day", words=say("On which day?"), kind="date")),
        more=(NOTE,),
        into=whole("order"),
        undo="",
        instead=say("Write down the other day: the last word holds."),
    ),
    Form(
        verb="order-came",
        heading=say("An order came"),
        button=say("It is here"),
        done=say("What came is on the shelves"),
        asks=(
            FirstOf(name="order", words=say("Which order?"), among=orders),
            Rows(
                name="came",
                words=say("What came?"),
                begin=to_come,
                without="packs",
                hint=say("0 packs of what did not come; weigh each line dry"),
                columns=(
                    Column("line", "", known=True, whole=True),
                    Column("packs", say("Packs"), mode="numeric", whole=True, most=7),
                    Column("lot", say("Its code"), most=40),
                    Column("weight", say("Net weight"), most=40),
                ),
            ),
        ),
        more=(
            Where(
                name="place",
                words=say("Where does it stand?"),
                among=places,
                needed=False,
                first=False,
            ),
            NOTE,
        ),
        into=whole("order"),
        undo="",
        instead=say("Put the weight of each lot right where it is wrong: recount it."),
    ),
    Form(
        verb="call-off-order",
        heading=say("An order is called off"),
        button=say("It is called off"),
        done=say("The order is called off"),
        asks=(WHICH,),
        more=(NOTE,),
        into=whole("order"),
        reminder=say("What has come stays. Tell the supplier too."),
        undo="",
        instead=say("Write a new order."),
    ),
)
