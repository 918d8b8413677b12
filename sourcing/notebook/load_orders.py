"""Loading suppliers, price lists, and orders with what became of them.

Suppliers and offers are kept up to date; what was ordered and what came is added once.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from inventory.models import Lot
from inventory.models.scope import OfStudio
from sourcing.models import (
    Delivery,
    DeliveryLine,
    Offer,
    Order,
    OrderEvent,
    OrderLine,
    Supplier,
)
from sourcing.notebook.check_orders import terms_of
from sourcing.notebook.loading import Loading
from sourcing.notebook.page import Row
from sourcing.notebook.prices import share_of
from sourcing.ordered import number_in
from sourcing.suppliers import columns_of


def load_orders(loading: Loading) -> None:
    """Suppliers and offers, then orders, their lines and events, and deliveries."""
    page, keep = loading.notebook.page, loading.keep
    for row in page("suppliers"):
        values = {**columns_of(terms_of(row)), "contact": row.text("contact")}
        keep(row, Supplier, {"name": row.text("supplier")}, {**values, "note": row.text("note")})
    suppliers = loading.kept(Supplier, ("name",))
    for row in page("offers"):
        seller = suppliers[(row.text("supplier"),)]
        keep(row, Offer, *_offer(row, seller.pk))
    for row in page("orders"):
        _once(loading, row, Order, {"number": _number(row)}, _order(loading, row, suppliers))
    orders = loading.kept(Order, ("number",))
    for row in page("order_lines"):
        key = {"order_id": orders[(_number(row),)].pk, "number": row.whole("no")}
        _once(loading, row, OrderLine, key, _line(row))
    for row in page("order_events"):
        event: dict[str, Any] = {
            "order_id": orders[(_number(row),)].pk,
            "what": row.text("what"),
            "at": row.moment("at"),
        }
        values = {"arrives_on": row.day("arrives"), "note": row.text("note")}
        _once(loading, row, OrderEvent, event, values, entry=loading.entry(row))
    _deliveries(loading, orders)


def _offer(row: Row, supplier: int) -> tuple[dict[str, Any], dict[str, Any]]:
    tiers = row.values["prices"]
    assert isinstance(tiers, tuple)
    key = {
        "supplier_id": supplier,
        "fibre": row.text("fibre"),
        "form": row.text("form"),
        "pack_mg": row.whole("pack"),
        "code": row.text("code"),
        "since": row.day("since"),
    }
    values = {
        "tiers": [list(tier) for tier in tiers],
        "least_mg": row.whole("least"),
        "scoured": row.yes("scoured"),
        "scour_loss": share_of(row.number("scour loss")),
        "most_packs": row.whole_or_none("packs there"),
        "last_on": row.day("until"),
        "note": row.text("note"),
    }
    return key, values


def _number(row: Row) -> int:
    number = number_in(row.text("order"))
    assert number is not None  # the check has seen to it
    return number


def _order(
    loading: Loading, row: Row, suppliers: dict[tuple[Any, ...], Supplier]
) -> dict[str, Any]:
    return {
        "supplier_id": suppliers[(row.text("supplier"),)].pk,
        "written_at": row.moment("written"),
        "currency": row.text("currency"),
        "carriage_minor": row.whole("carriage"),
        "runs": list(row.words("runs")),
        "needed_by": row.day("needed by"),
        "note": row.text("note"),
    }


def _line(row: Row) -> dict[str, Any]:
    return {
        "fibre": row.text("fibre"),
        "form": row.text("form"),
        "pack_mg": row.whole("pack"),
        "packs": row.whole("packs"),
        "pack_minor": row.whole("price"),
        "scoured": row.yes("scoured"),
        "scour_loss": share_of(row.number("scour loss")) or 0,
        "code": row.text("code"),
    }


def _deliveries(loading: Loading, orders: dict[tuple[Any, ...], Order]) -> None:
    """Rows of one order and moment are one delivery."""
    lines = loading.kept(OrderLine, ("order_id", "number"))
    lots = {lot.code: lot.posting_id for lot in Lot.objects.of(loading.studio)}
    for row in loading.notebook.page("deliveries"):
        order = orders[(_number(row),)]
        key = {"order_id": order.pk, "at": row.moment("at")}
        known = loading.kept(Delivery, tuple(key))
        found = known.get(tuple(key.values()))
        if found is None:
            more = {"note": row.text("note"), "entry": loading.entry(row), "body_sha256": ""}
            found = known[tuple(key.values())] = loading.add(Delivery, {**key, **more})
        line = lines[order.pk, row.whole("no")]
        values = {
            "packs": row.whole("packs"),
            "net_mg": row.whole("net"),
            "lot_code": row.text("lot"),
        }
        posting = lots.get(row.text("lot"))
        one = {"delivery_id": found.pk, "line_id": line.pk}
        _once(loading, row, DeliveryLine, one, values, posting_id=posting)


def _once(
    loading: Loading,
    row: Row,
    model: type[OfStudio],
    key: dict[str, Any],
    values: dict[str, Any],
    **only_new: Any,
) -> None:
    """A row of what happened, added where it is new; one that says otherwise is refused."""
    rows = loading.kept(model, tuple(key))
    found = rows.get(tuple(key.values()))
    if found is not None:
        if _differs(found, values.items()):
            note = "This was loaded before with other words or amounts, and what was ordered is "
            loading.problem(row, f"{note}not changed. Write it as it was.")
        return
    if model is Order:
        only_new = {"entry": loading.entry(row), "body_sha256": ""}
    rows[tuple(key.values())] = loading.add(model, {**key, **values, **only_new})
    loading.new[row.page] += 1


def _differs(found: OfStudio, values: Iterable[tuple[str, Any]]) -> bool:
    return any(getattr(found, name) != value for name, value in values)
