"""What fibre has to be bought, from whom it could come, what is ordered, as of a moment."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID, uuid5
from zoneinfo import ZoneInfo

from django.db.models import QuerySet

from inventory.models import Studio
from sourcing.gather import Gathered, gather
from sourcing.models import Order, Supplier
from sourcing.ordered import (
    OfferFacts,
    OrderFacts,
    SupplierFacts,
    coming_of,
    offers_in,
    order_queries,
    orders_in,
    suppliers_in,
)
from sourcing.ordering.answer import OrderPlan
from sourcing.ordering.facts import Coming, Need, Offer, Stuff
from sourcing.ordering.facts import Supplier as Terms
from sourcing.ordering.order import Quote, order_now, side_by_side
from sourcing.ordering.solve import Effort
from sourcing.outlook import facts_and_rows
from sourcing.week.fibre_to_buy import FibreWanted, fibre_needs, fibre_wanted

LAST_NUMBER = 2_199_999  # of an order: its year and its number in it
DAYS = 7  # of the facts that are gathered; the hours of all days ahead come with them


@dataclass(frozen=True)
class Buying:
    """Everything about buying fibre, as of a moment; what has to be searched for is a question."""

    studio: str
    zone: ZoneInfo
    at: datetime
    currency: str  # three letters
    suppliers: tuple[SupplierFacts, ...]  # by name
    offers: tuple[OfferFacts, ...]  # that hold today, by supplier, fibre and pack
    wanted: tuple[FibreWanted, ...]  # one a run, the earliest first
    needs: tuple[Need, ...]  # what has to be bought for runs with a date
    coming: tuple[Coming, ...]  # what is still to come of orders
    orders: tuple[OrderFacts, ...]  # the newest first, every open one among them

    @property
    def today(self) -> date:
        return self.at.date()

    @property
    def stuffs(self) -> tuple[Stuff, ...]:
        """The fibres that have to be bought."""
        return tuple(sorted({need.stuff for need in self.needs}))

    @property
    def undated(self) -> tuple[FibreWanted, ...]:
        """Runs short of fibre that have no date or one too far ahead: nobody orders for them."""
        return tuple(row for row in self.wanted if row.by is None and row.short_mg > 0)

    def needs_of(self, stuff: Stuff) -> tuple[Need, ...]:
        """What has to be bought of one fibre, the earliest first."""
        return tuple(need for need in self.needs if need.stuff == stuff)

    def quotes(self, stuff: Stuff, *, effort: Effort | None = None) -> tuple[Quote, ...]:
        """What each supplier alone would bring of one fibre, ordered today."""
        return side_by_side(
            self.needs_of(stuff), self._terms(), self._offers(), on=self.today, effort=effort
        )

    def plan(self, *, effort: Effort | None = None) -> OrderPlan:
        """The cheapest orders of today for all that has to be bought."""
        return order_now(self.needs, self._terms(), self._offers(), on=self.today, effort=effort)

    def order(self, number: int) -> OrderFacts | None:
        """One order by its number."""
        return next((row for row in self.orders if row.number == number), None)

    def _terms(self) -> list[Terms]:
        return [row.terms for row in self.suppliers]

    def _offers(self) -> list[Offer]:
        return [row.offer for row in self.offers]


def buying_at(studio: Studio, *, at: datetime) -> Buying:
    """What has to be bought and what is ordered, as of a moment.

    Parameters
    ----------
    studio : whose
    at : aware; needs, prices and arrivals are counted from its day
    """
    facts, rows = facts_and_rows(studio, at=at, days=DAYS, over_orders=True)
    today = facts.at.date()
    suppliers = suppliers_in(rows)
    orders = orders_in(rows, _names(rows), facts.zone, at=facts.at)
    wanted = fibre_wanted(facts)
    return Buying(
        studio=facts.studio,
        zone=facts.zone,
        at=facts.at,
        currency=studio.currency,
        suppliers=suppliers,
        offers=offers_in(rows, facts.figures, on=today),
        wanted=wanted,
        needs=fibre_needs(wanted),
        coming=coming_of(orders, suppliers, today=today),
        orders=orders,
    )


def order_at(studio: Studio, number: int) -> tuple[OrderFacts, SupplierFacts] | None:
    """One order, however old, and its supplier as known now; None where there is none."""
    if not 0 < number <= LAST_NUMBER:
        return None
    rows = gather(_one_order(studio, number))
    suppliers = {row.name: row for row in suppliers_in(rows)}
    found = orders_in(rows, _names(rows), ZoneInfo(studio.zone))
    return (found[0], suppliers[found[0].supplier]) if found else None


def orders_of_plan(studio: Studio, entry: UUID) -> tuple[OrderFacts, ...]:
    """The orders that one entry has written already, by `write_plan`; none where it has not."""
    names = Supplier.objects.of(studio).values_list("name", flat=True)
    entries = [uuid5(entry, name) for name in names]
    orders = Order.objects.of(studio).filter(entry__in=entries)
    suppliers = Supplier.objects.of(studio).filter(pk__in=orders.order_by().values("supplier"))
    rows = gather({"suppliers": suppliers, **order_queries(studio, orders)})
    return tuple(reversed(orders_in(rows, _names(rows), ZoneInfo(studio.zone))))


def _names(rows: Gathered) -> dict[int, str]:
    return {row["id"]: row["name"] for row in rows["suppliers"]}


def _one_order(studio: Studio, number: int) -> dict[str, QuerySet[Any]]:
    order = Order.objects.of(studio).filter(number=number)
    suppliers = Supplier.objects.of(studio).filter(pk__in=order.order_by().values("supplier"))
    return {"suppliers": suppliers, **order_queries(studio, order)}
