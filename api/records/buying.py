"""Fibre that is bought, as records: suppliers, prices, orders, what became of them, deliveries."""

from __future__ import annotations

from api.records.columns import (
    closed,
    count,
    day,
    flag,
    key,
    mass,
    moment,
    money,
    part,
    prices,
    said,
    text,
    weekdays,
    words,
)
from api.records.noun import Filter, Noun, Part, by, happened, one_of, yes
from sourcing.models import (
    Delivery,
    DeliveryLine,
    Offer,
    Order,
    OrderEvent,
    OrderLine,
    Supplier,
)

BECAME = ("sent", "confirmed", "called off")

SUPPLIERS = Noun(
    name="suppliers",
    one="supplier",
    about="Who sells fibre, how many working days it takes, and what an order costs besides.",
    model=Supplier,
    columns=(
        text("name"),
        count("lead_days"),
        weekdays("weekdays", "weekdays"),
        closed("closed", "shutdowns"),
        said("country"),
        said("region"),
        money("carriage", "carriage_minor"),
        money("carriage_free_from", "carriage_free_from_minor", empty=True),
        money("least", "least_minor"),
        text("currency", "studio__currency"),
        said("contact"),
        said("note"),
    ),
    order=("name",),
    key="name",
)

OFFERS = Noun(
    name="offers",
    one="offer",
    about="One fibre in one pack at the prices of a price list, from a day and till a day.",
    model=Offer,
    columns=(
        count("id"),
        text("supplier", "supplier__name"),
        text("fibre"),
        text("form"),
        said("code"),
        mass("pack", "pack_mg"),
        prices("prices", "tiers"),
        text("currency", "studio__currency"),
        mass("least", "least_mg"),
        flag("ready_to_dye", "scoured"),
        part("scour_loss", empty=True),
        count("most_packs", empty=True),
        day("since", empty=True),
        day("last_on", empty=True),
        said("note"),
    ),
    filters=(*by("fibre", "form", supplier="supplier__name"), yes("ready_to_dye", "scoured")),
    key_kind="number",
)

ORDERS = Noun(
    name="plain-orders",
    one="order",
    about="Fibre orders as they were written; `orders` adds what became of each.",
    model=Order,
    columns=(
        count("number"),
        text("supplier", "supplier__name"),
        moment("written_at"),
        text("currency"),
        money("carriage", "carriage_minor"),
        words("runs"),
        day("needed_by", empty=True),
        said("note"),
        key("entry"),
    ),
    filters=(*by(supplier="supplier__name"), *happened("written_at")),
    order=("written_at", "id"),
    key="number",
    key_kind="number",
    parts=(
        Part(
            "lines",
            "So many packs of one offer each, copied as it was ordered.",
            OrderLine,
            "order_id",
            ("number",),
            (
                count("number"),
                text("fibre"),
                text("form"),
                said("code"),
                mass("pack", "pack_mg"),
                count("packs"),
                money("pack_price", "pack_minor"),
                flag("ready_to_dye", "scoured"),
                part("scour_loss"),
            ),
        ),
    ),
)

ORDER_EVENTS = Noun(
    name="order-events",
    one="order event",
    about="What happened to an order after it was written: sent, confirmed with a day, called off.",
    model=OrderEvent,
    columns=(
        key("entry"),
        count("order", "order__number"),
        text("what", among=BECAME),
        moment("at"),
        day("arrives_on", empty=True),
        said("note"),
        moment("recorded_at"),
    ),
    filters=(
        Filter("order", "order__number", "number"),
        one_of("what", BECAME),
        *happened("at"),
    ),
    order=("at", "id"),
    key="entry",
    key_kind="uuid",
)

DELIVERIES = Noun(
    name="deliveries",
    one="delivery",
    about="What came of an order at one moment, weighed in, and the lots that it became.",
    model=Delivery,
    columns=(
        key("entry"),
        count("order", "order__number"),
        moment("at"),
        said("note"),
        moment("recorded_at"),
    ),
    filters=(Filter("order", "order__number", "number"), *happened("at")),
    order=("at", "id"),
    key="entry",
    key_kind="uuid",
    parts=(
        Part(
            "lines",
            "Packs of one line of the order that came, and the lot that they are.",
            DeliveryLine,
            "delivery_id",
            ("id",),
            (
                count("line", "line__number"),
                count("packs"),
                mass("weighed", "net_mg"),
                text("lot", "lot_code"),
                key("entry", "posting__entry", empty=True),
            ),
        ),
    ),
)

NOUNS = (SUPPLIERS, OFFERS, ORDERS, ORDER_EVENTS, DELIVERIES)
