"""The cheapest order for everything that is lacking, and how sure it is, in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import ceil

from api.web.orders.words import (
    day_said,
    money_said,
    packs_said,
    stuff_said,
    weight_said,
)
from inventory.science.saying import say
from sourcing.ordering.answer import Order, OrderPlan, Proof
from sourcing.ordering.shopping import LeftOut, Together

NOBODY_SELLS = say("nobody who is written down sells what is lacking")
LINES_AT_MOST = 60  # of one order on the page
WORDS: dict[Proof, tuple[str, str]] = {
    "cheapest": (say("the cheapest there is"), "yes"),
    "within the gap": (say("as good as the cheapest"), "yes"),
    "time ran out": (say("the best found in time"), "see"),
    "step by step": (say("fibre by fibre, not searched through"), "see"),
}


@dataclass(frozen=True, slots=True)
class LineShown:
    """Packs of one fibre."""

    name: str
    packs: str
    weight: str
    price: str


@dataclass(frozen=True, slots=True)
class OrderShown:
    """What one supplier would be asked for."""

    supplier: str
    arrives: str
    lines: tuple[LineShown, ...]
    more: int
    goods: str
    carriage: str
    total: str


@dataclass(frozen=True, slots=True)
class CheapestShown:
    """The orders of one day for all needs together."""

    word: str
    tone: str
    said: str
    gap: str  # empty where nothing cheaper exists
    longer: bool  # a longer search may find a cheaper one
    total: str
    orders: tuple[OrderShown, ...]
    over: tuple[str, ...]
    late: tuple[str, ...]
    not_sold: tuple[str, ...]
    left_out: tuple[LeftOut, ...]

    @property
    def why_empty(self) -> str:
        """Why there is nothing to order, though something is lacking; empty where there is."""
        return "" if self.orders else NOBODY_SELLS


def cheapest_shown(found: Together, *, on: date, currency: str) -> CheapestShown | None:
    """A plan in words; None where nothing could be ordered, `found.why` says why."""
    plan = found.plan
    if plan is None:
        return None
    word, tone = WORDS[plan.proof]
    return CheapestShown(
        word=word,
        tone=tone,
        said=plan.said,
        gap=gap_said(plan, currency),
        longer=plan.proof in ("time ran out", "step by step"),
        total=money_said(plan.cost_minor, currency),
        orders=tuple(_order(each, on, currency) for each in plan.orders),
        over=tuple(
            say(
                "{weight_said} {stuff_said}",
                weight_said=weight_said(row.surplus_mg),
                stuff_said=stuff_said(row.stuff),
            )
            for row in plan.surplus[:LINES_AT_MOST]
        ),
        late=tuple(
            say(
                "{weight_said} {stuff_said} is needed by {day_said} and comes on {day_said_2} "
                "at the earliest",
                weight_said=weight_said(row.need.scoured_mg),
                stuff_said=stuff_said(row.need.stuff),
                day_said=day_said(row.need.by, on),
                day_said_2=day_said(row.earliest, on),
            )
            for row in plan.late[:LINES_AT_MOST]
        ),
        not_sold=tuple(
            say(
                "{weight_said} {stuff_said}",
                weight_said=weight_said(row.scoured_mg),
                stuff_said=stuff_said(row.stuff),
            )
            for row in plan.not_sold[:LINES_AT_MOST]
        ),
        left_out=found.left_out,
    )


def gap_said(plan: OrderPlan, currency: str) -> str:
    """What a cheaper order could save at most; empty where none can exist.

    Rounded up to a penny and to a hundredth of a per cent, so that it never promises too much.
    """
    if plan.proof == "cheapest":
        return ""
    if plan.bound_minor <= 0:
        return say("How much a cheaper one could save is not known yet.")
    saved = ceil(float(plan.total_minor) - plan.bound_minor)
    percent = ceil(plan.gap * 10_000) / 100
    return say(
        "A cheaper one could save {money_said} at most, {percent:g} %.",
        money_said=money_said(saved, currency),
        percent=percent,
    )


def _order(order: Order, on: date, currency: str) -> OrderShown:
    return OrderShown(
        supplier=order.supplier,
        arrives=day_said(order.arrives_on, on),
        lines=tuple(
            LineShown(
                stuff_said(line.offer.stuff),
                packs_said(line.packs, line.offer.pack_mg),
                weight_said(line.mg),
                money_said(line.minor, currency),
            )
            for line in order.lines[:LINES_AT_MOST]
        ),
        more=max(0, len(order.lines) - LINES_AT_MOST),
        goods=money_said(order.goods_minor, currency),
        carriage=money_said(order.carriage_minor, currency) if order.carriage_minor else "",
        total=money_said(order.minor, currency),
    )
