"""Suppliers, price lists, orders and deliveries as rows of a notebook."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from inventory.models import Studio
from sourcing.models import (
    DeliveryLine,
    Offer,
    Order,
    OrderEvent,
    OrderLine,
    Supplier,
)
from sourcing.notebook.load_shelf import Values
from sourcing.notebook.prices import percent_of
from sourcing.ordered import LineFacts, OrderFacts, order_label

Rows = Iterator[Values]


def order_pages(studio: Studio) -> dict[str, list[Values]]:
    """All pages about buying fibre; every order that was written is kept."""
    return {
        "suppliers": list(_suppliers(studio)),
        "offers": list(_offers(studio)),
        "orders": list(_orders(studio)),
        "order_lines": list(_lines(studio)),
        "order_events": list(_events(studio)),
        "deliveries": list(_deliveries(studio)),
    }


def _suppliers(studio: Studio) -> Rows:
    for row in Supplier.objects.of(studio).order_by("name"):
        yield {
            "supplier": row.name,
            "lead": row.lead_days,
            "works on": tuple(row.weekdays),
            "closed": tuple(
                (date.fromisoformat(first), date.fromisoformat(last))
                for first, last in row.shutdowns
            ),
            "country": row.country,
            "region": row.region,
            "carriage": row.carriage_minor or None,
            "free from": row.carriage_free_from_minor,
            "least order": row.least_minor or None,
            "contact": row.contact,
            "note": row.note,
        }


def _offers(studio: Studio) -> Rows:
    rows = Offer.objects.of(studio).select_related("supplier")
    for row in rows.order_by("supplier__name", "fibre", "form", "pack_mg", "code", "since", "pk"):
        yield {
            "supplier": row.supplier.name,
            "fibre": row.fibre,
            "form": row.form,
            "pack": row.pack_mg,
            "prices": tuple((from_mg, minor) for from_mg, minor in row.tiers),
            "least": row.least_mg or None,
            "scoured": row.scoured,
            "scour loss": percent_of(row.scour_loss),
            "packs there": row.most_packs,
            "code": row.code,
            "since": row.since,
            "until": row.last_on,
            "note": row.note,
        }


def _orders(studio: Studio) -> Rows:
    for row in Order.objects.of(studio).select_related("supplier").order_by("number"):
        yield {
            "order": order_label(row.number),
            "supplier": row.supplier.name,
            "written": row.written_at,
            "currency": row.currency,
            "carriage": row.carriage_minor or None,
            "runs": tuple(row.runs),
            "needed by": row.needed_by,
            "note": row.note,
        }


def _lines(studio: Studio) -> Rows:
    rows = OrderLine.objects.of(studio).select_related("order")
    for row in rows.order_by("order__number", "number"):
        yield {
            "order": order_label(row.order.number),
            "no": row.number,
            "fibre": row.fibre,
            "form": row.form,
            "pack": row.pack_mg,
            "packs": row.packs,
            "price": row.pack_minor,
            "scoured": row.scoured,
            "scour loss": percent_of(row.scour_loss) if row.scour_loss else None,
            "code": row.code,
        }


def line_values(order: OrderFacts, line: LineFacts) -> Values:
    """One line of an order, as the page of lines has it."""
    return {
        "order": order.label,
        "no": line.number,
        "fibre": line.stuff.fibre,
        "form": line.stuff.form,
        "pack": line.pack_mg,
        "packs": line.packs,
        "price": line.pack_minor,
        "scoured": line.scoured,
        "scour loss": percent_of(line.scour_loss) if line.scour_loss else None,
        "code": line.code,
    }


def _events(studio: Studio) -> Rows:
    rows = OrderEvent.objects.of(studio).select_related("order")
    for row in rows.order_by("order__number", "at", "pk"):
        yield {
            "order": order_label(row.order.number),
            "what": row.what,
            "at": row.at,
            "arrives": row.arrives_on,
            "note": row.note,
        }


def _deliveries(studio: Studio) -> Rows:
    rows = DeliveryLine.objects.of(studio).select_related("delivery__order", "line")
    for row in rows.order_by("delivery__order__number", "delivery__at", "line__number"):
        yield {
            "order": order_label(row.delivery.order.number),
            "at": row.delivery.at,
            "no": row.line.number,
            "packs": row.packs,
            "net": row.net_mg,
            "lot": row.lot_code,
            "note": row.delivery.note,
        }
