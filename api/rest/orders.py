"""Fibre orders and what has to be bought as JSON under stable names, and their addresses.

Amounts are decimal strings with a unit, money decimal strings in the studio's currency, days and
moments ISO 8601.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal
from fractions import Fraction

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.contract.answers.orders import NEEDS, ORDERS
from api.question import question_of
from api.rest.contract import CURSOR, QUESTION, said
from api.rest.going_on import address_behind, row_before
from api.rest.shelf_values import Json, amount_said, day_said
from api.shopping import cheapest_of, shopping_of
from inventory.science.fibre_names import legal_name
from inventory.science.units import whole
from sourcing.buying import Buying, buying_at
from sourcing.ordered import DeliveryFacts, EventFacts, LineFacts, OrderFacts
from sourcing.ordering.answer import Order, OrderPlan
from sourcing.ordering.facts import Need, Stuff
from sourcing.ordering.order import Quote
from sourcing.ordering.shopping import LeftOut, ToBuy, Together
from sourcing.week.fibre_to_buy import FibreWanted
from sourcing.week.words import decimal_string

ROWS_AT_MOST = 100  # in one answer; more with cursor
NOUN = "orders"


class OrdersView(APIView):
    """GET: the orders with what became of them, the newest first."""

    @said(
        "orders",
        summary="Fibre orders with what became of them, the newest first",
        asks=(*QUESTION, CURSOR),
        answer=ORDERS,
    )
    def get(self, request: Request) -> Response:
        what = "The list of fibre orders"
        question = question_of(request, what=what, more=("cursor",))
        number = row_before(request, question, NOUN)
        found, goes_on = orders_as_json(buying_at(question.studio, at=question.at), number)
        following = None if goes_on is None else address_behind(request, question, NOUN, goes_on)
        return Response({**found, "next": following})


class NeedsView(APIView):
    """GET: what has to be bought, who could bring it, and the cheapest order of all of it."""

    @said(
        "needs",
        summary="What fibre has to be bought, who could bring it, and the cheapest order",
        asks=QUESTION,
        answer=NEEDS,
        errors=(409,),
    )
    def get(self, request: Request) -> Response:
        question = question_of(request, what="The list of what has to be bought")
        return Response(needs_as_json(buying_at(question.studio, at=question.at)))


def orders_as_json(buying: Buying, older_than: int | None = None) -> tuple[Json, int | None]:
    """At most ROWS_AT_MOST orders under their stable names; the last number, if others follow."""
    found = [row for row in buying.orders if older_than is None or row.number < older_than]
    shown = found[:ROWS_AT_MOST]
    said: Json = {
        **_head(buying),
        "orders": [_order(row, buying) for row in shown],
        "counts": {"orders": len(buying.orders)},
        "rows_at_most": ROWS_AT_MOST,
    }
    return said, shown[-1].number if len(found) > len(shown) else None


def needs_as_json(buying: Buying) -> Json:
    """What has to be bought under its stable names."""
    rows = shopping_of(buying)
    return {
        **_head(buying),
        "runs": [_wanted(row) for row in buying.wanted[:ROWS_AT_MOST]],
        "fibres": [_to_buy(row) for row in rows],
        "together": _together(cheapest_of(buying)),
        "counts": {"runs": len(buying.wanted), "fibres": len(buying.stuffs)},
        "rows_at_most": ROWS_AT_MOST,
    }


def money_string(minor: int | Fraction) -> str:
    """Hundredths as a decimal string.

    >>> money_string(11_200), money_string(705)
    ('112.00', '7.05')
    """
    return f"{Decimal(whole(Fraction(minor))) / 100:.2f}"


def _head(buying: Buying) -> Json:
    at = buying.at.isoformat(timespec="seconds")
    return {"studio": buying.studio, "at": at, "currency": buying.currency}


def _stuff(stuff: Stuff) -> Json:
    named = legal_name(stuff.fibre)
    law = None if named is None else named.words
    return {"fibre": stuff.fibre, "form": stuff.form, "legal_name": law}


def _mass(mg: int | Fraction) -> Json:
    return amount_said(whole(Fraction(mg)), "mg")


def _moment(at: datetime) -> str:
    return at.isoformat(timespec="seconds")


# -- orders --------------------------------------------------------------------------------------


def _order(order: OrderFacts, buying: Buying) -> Json:
    return {
        "number": order.number,
        "label": order.label,
        "supplier": order.supplier,
        "state": order.state,
        "open": order.is_open,
        "overdue": order.is_overdue(buying.today),
        "written_at": _moment(order.written_at),
        "expected_on": day_said(order.expected_on),
        "confirmed_on": day_said(order.confirmed_on),
        "needed_by": day_said(order.needed_by),
        "runs": list(order.runs),
        "currency": order.currency,
        "goods": money_string(order.goods_minor),
        "carriage": money_string(order.carriage_minor),
        "total": money_string(order.minor),
        "lines": [_line(row) for row in order.lines[:ROWS_AT_MOST]],
        "happened": [_event(row) for row in order.events[:ROWS_AT_MOST]],
        "deliveries": [_delivery(row) for row in order.deliveries[:ROWS_AT_MOST]],
        "note": order.note or None,
    }


def _line(line: LineFacts) -> Json:
    return {
        "number": line.number,
        **_stuff(line.stuff),
        "code": line.code or None,
        "ready_to_dye": line.scoured,
        "pack": _mass(line.pack_mg),
        "packs": line.packs,
        "pack_price": money_string(line.pack_minor),
        "price": money_string(line.minor),
        "ordered": _mass(line.ordered_mg),
        "packs_come": line.came_packs,
        "weighed_in": _mass(line.came_mg),
        "packs_to_come": line.to_come_packs,
    }


def _event(row: EventFacts) -> Json:
    return {"what": row.what, "at": _moment(row.at), "arrives_on": day_said(row.arrives_on),
            "note": row.note or None}  # fmt: skip


def _delivery(row: DeliveryFacts) -> Json:
    return {
        "at": _moment(row.at),
        "note": row.note or None,
        "lines": [
            {"line": one.line, "packs": one.packs, "weighed": _mass(one.net_mg), "lot": one.lot,
             "over_packs": {"amount": _signed(one.over_mg), "unit": "g"}}
            for one in row.lines[:ROWS_AT_MOST]
        ],
    }  # fmt: skip


def _signed(mg: int) -> str:
    """What was weighed beyond what the packs say, in grams; below 0 less."""
    return decimal_string(Decimal(mg) / 1000)


# -- what has to be bought -----------------------------------------------------------------------


def _wanted(row: FibreWanted) -> Json:
    return {
        "run": row.run,
        "shade": row.shade,
        **_stuff(row.stuff),
        "ready_to_dye": _mass(row.scoured_mg),
        "needed_by": day_said(row.by),
        "whose_day": row.by_said,
        "takes": [{"from": code, "ready_to_dye": _mass(mg)} for code, mg in row.takes],
        "short": _mass(row.short_mg),
    }


def _need(need: Need) -> Json:
    return {"by": day_said(need.by), "ready_to_dye": _mass(need.scoured_mg),
            "runs": list(need.runs)}  # fmt: skip


def _to_buy(row: ToBuy) -> Json:
    return {
        **_stuff(row.stuff),
        "ready_to_dye": _mass(row.scoured_mg),
        "by": day_said(row.by),
        "needs": [_need(need) for need in row.needs[:ROWS_AT_MOST]],
        "suppliers": [_quote(quote) for quote in row.quotes[:ROWS_AT_MOST]],
        "not_counted": _left_out(row.left_out),
    }


def _quote(quote: Quote) -> Json:
    (order,), (over,) = quote.plan.orders, quote.plan.surplus
    return {
        **_asked(order),
        "order_by": day_said(quote.order_by),
        "working_days_late": quote.late_working_days,
        "in_time": not quote.plan.late,
        "proof": quote.plan.proof,
        "left_over": _mass(over.surplus_mg),
        "left_over_ready_to_dye": _mass(over.surplus_scoured_mg),
    }


def _asked(order: Order) -> Json:
    """What a supplier would be asked for."""
    return {
        "supplier": order.supplier,
        "order_on": day_said(order.order_on),
        "arrives_on": day_said(order.arrives_on),
        "lines": [
            {**_stuff(line.offer.stuff), "code": line.offer.code or None,
             "pack": _mass(line.offer.pack_mg), "packs": line.packs,
             "pack_price": money_string(line.tier.pack_minor), "price": money_string(line.minor),
             "scour_loss": decimal_string(round(_decimal(line.offer.scour_loss), 4))}
            for line in order.lines[:ROWS_AT_MOST]
        ],
        "goods": money_string(order.goods_minor),
        "carriage": money_string(order.carriage_minor),
        "total": money_string(order.minor),
    }  # fmt: skip


def _decimal(part: Fraction) -> Decimal:
    return Decimal(part.numerator) / part.denominator


def _together(found: Together) -> Json:
    left_out = _left_out(found.left_out)
    if found.plan is None:
        return {"orders": [], "said": found.why, "proof": None, "not_counted": left_out}
    return {**_plan(found.plan), "not_counted": left_out}


def _plan(plan: OrderPlan) -> Json:
    return {
        "orders": [_asked(order) for order in plan.orders[:ROWS_AT_MOST]],
        "total": money_string(plan.cost_minor),
        "proof": plan.proof,
        "said": plan.said,
        "gap": decimal_string(round(Decimal(plan.gap), 6)),
        "left_over": [
            {**_stuff(row.stuff), **_mass(row.surplus_mg)} for row in plan.surplus[:ROWS_AT_MOST]
        ],
        "late": [
            {**_stuff(row.need.stuff), **_need(row.need), "earliest": day_said(row.earliest)}
            for row in plan.late[:ROWS_AT_MOST]
        ],
        "nobody_sells": [
            {**_stuff(row.stuff), **_need(row)} for row in plan.not_sold[:ROWS_AT_MOST]
        ],
    }


def _left_out(rows: Iterable[LeftOut]) -> list[Json]:
    return [{"supplier": row.supplier, "why": row.why} for row in rows]
