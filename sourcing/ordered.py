"""Suppliers, their offers, and orders with what became of them, as frozen facts.

Their tables are asked together with the other small ones, in one question.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from fractions import Fraction
from typing import Any, Literal
from zoneinfo import ZoneInfo

from django.db.models import Exists, F, OuterRef, Q, QuerySet, Subquery, Sum
from django.db.models.functions import Coalesce

from inventory.models import Studio
from inventory.science.catalogue import figure, find_figure
from inventory.science.facts import FibreFacts
from inventory.science.figures import Figures
from inventory.science.saying import say
from sourcing.gather import Cells
from sourcing.models import (
    Delivery,
    DeliveryLine,
    Offer,
    Order,
    OrderEvent,
    OrderLine,
    Supplier,
)
from sourcing.ordering import facts
from sourcing.ordering.working_days import NoWorkingDays, arrives_on

ORDERS_AT_MOST = 200  # the newest; those still to come are always among them
NUMBERS_A_YEAR = 1_000

Rows = Mapping[str, Sequence[Cells]]
State = Literal["written", "sent", "confirmed", "received in part", "received", "called off"]


def order_label(number: int) -> str:
    """An order's number as it is written on it.

    >>> order_label(2026003)
    '2026-003'
    """
    return f"{number // NUMBERS_A_YEAR}-{number % NUMBERS_A_YEAR:03}"


def number_in(label: str) -> int | None:
    """The number that an order's label says; None where it says none.

    >>> number_in("2026-003"), number_in("2026-000"), number_in("3")
    (2026003, None, None)
    """
    found = re.fullmatch(r"((?:19|20|21)\d\d)-(\d{3})", label, re.ASCII)
    if found is None or not int(found[2]):
        return None
    return int(found[1]) * NUMBERS_A_YEAR + int(found[2])


@dataclass(frozen=True, slots=True)
class SupplierFacts:
    """A supplier as the studio knows it."""

    name: str
    terms: facts.Supplier
    contact: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class OfferFacts:
    """One offer of a price list that holds."""

    key: int  # names it where an order is written
    offer: facts.Offer
    scoured: bool  # sold ready to dye
    own_loss: bool  # its scour loss is its own, else the studio's figure for the fibre
    since: date | None = None
    last_on: date | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class CameFacts:
    """Packs of one line that came with one delivery."""

    line: int
    packs: int
    net_mg: int
    lot: str
    over_mg: int  # weighed more than the packs say; below 0: less


@dataclass(frozen=True, slots=True)
class DeliveryFacts:
    """One delivery as it was weighed in."""

    at: datetime
    lines: tuple[CameFacts, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class LineFacts:
    """One line of an order as it was written, and what has come of it."""

    number: int
    stuff: facts.Stuff
    pack_mg: int
    packs: int
    pack_minor: int
    scoured: bool
    scour_loss: Fraction
    code: str = ""
    came_packs: int = 0
    came_mg: int = 0

    @property
    def ordered_mg(self) -> int:
        return self.packs * self.pack_mg

    @property
    def minor(self) -> int:
        return self.packs * self.pack_minor

    @property
    def to_come_packs(self) -> int:
        return max(self.packs - self.came_packs, 0)

    @property
    def to_come_mg(self) -> int:
        return self.to_come_packs * self.pack_mg


@dataclass(frozen=True, slots=True)
class EventFacts:
    """What happened to an order: sent, confirmed or called off."""

    what: str
    at: datetime
    arrives_on: date | None = None
    note: str = ""


@dataclass(frozen=True)
class OrderFacts:
    """One order with all that is known of it."""

    number: int
    supplier: str
    written_at: datetime
    currency: str
    carriage_minor: int
    runs: tuple[str, ...]
    needed_by: date | None
    lines: tuple[LineFacts, ...]
    events: tuple[EventFacts, ...] = ()  # as they happened
    deliveries: tuple[DeliveryFacts, ...] = ()
    note: str = ""

    @property
    def label(self) -> str:
        return order_label(self.number)

    @property
    def goods_minor(self) -> int:
        return sum(line.minor for line in self.lines)

    @property
    def minor(self) -> int:
        return self.goods_minor + self.carriage_minor

    @property
    def state(self) -> State:
        """How it stands; called off after a part has come, it is received: no more comes."""
        if not any(line.to_come_packs for line in self.lines):
            return "received"
        called_off = self.last("called off") is not None
        if self.deliveries:
            return "received" if called_off else "received in part"
        if called_off:
            return "called off"
        if self.last("confirmed") is not None:
            return "confirmed"
        return "written" if self.last("sent") is None else "sent"

    @property
    def is_open(self) -> bool:
        """Whether something is still to come of it."""
        return self.state not in ("received", "called off")

    @property
    def confirmed_on(self) -> date | None:
        """The day that the supplier said last."""
        said = self.last("confirmed")
        return said.arrives_on if said is not None else None

    @property
    def expected_on(self) -> date | None:
        """The day on which it comes: as said, else as counted when it was sent."""
        sent = self.last("sent")
        return self.confirmed_on or (sent.arrives_on if sent is not None else None)

    @property
    def rest_called_off(self) -> bool:
        return self.last("called off") is not None and bool(self.deliveries)

    def last(self, what: str) -> EventFacts | None:
        """The last time that something happened to it."""
        return next((row for row in reversed(self.events) if row.what == what), None)

    def is_overdue(self, today: date) -> bool:
        """Whether it should have come by the day before."""
        return self.is_open and self.expected_on is not None and self.expected_on < today


# -- queries ---------------------------------------------------------------------------------


def open_orders(studio: Studio) -> QuerySet[Order]:
    """Orders of which something is still to come."""
    came = (
        DeliveryLine.objects.of(studio)
        .filter(line=OuterRef("pk"))
        .order_by()
        .values("line")
        .annotate(packs_in=Sum("packs"))
        .values("packs_in")
    )
    left = OrderLine.objects.of(studio).annotate(came=Coalesce(Subquery(came), 0))
    off = OrderEvent.objects.of(studio).filter(what="called off", order=OuterRef("pk"))
    return Order.objects.of(studio).filter(
        Exists(left.filter(order=OuterRef("pk"), packs__gt=F("came"))), ~Exists(off)
    )


def all_orders(studio: Studio) -> QuerySet[Order]:
    """The newest orders of every state, and all of which something is still to come."""
    newest = Order.objects.of(studio).order_by("-number").values("pk")[:ORDERS_AT_MOST]
    return Order.objects.of(studio).filter(
        Q(pk__in=newest) | Q(pk__in=open_orders(studio).order_by().values("pk"))
    )


def offer_queries(studio: Studio, today: date) -> dict[str, QuerySet[Any]]:
    """The queries of who sells, and what holds of their price lists on a day."""
    return {
        "suppliers": Supplier.objects.of(studio),
        "offers": Offer.objects.of(studio).filter(
            Q(since__isnull=True) | Q(since__lte=today),
            Q(last_on__isnull=True) | Q(last_on__gte=today),
        ),
    }


def order_queries(studio: Studio, orders: QuerySet[Order]) -> dict[str, QuerySet[Any]]:
    """The queries of some orders and of what hangs on them."""
    keys = orders.order_by().values("pk")
    deliveries = Delivery.objects.of(studio).filter(order__in=keys)
    return {
        "orders": orders,
        "order_lines": OrderLine.objects.of(studio).filter(order__in=keys),
        "order_events": OrderEvent.objects.of(studio).filter(order__in=keys),
        "deliveries": deliveries,
        "delivery_lines": DeliveryLine.objects.of(studio).filter(
            delivery__in=deliveries.order_by().values("pk")
        ),
    }


# -- facts -----------------------------------------------------------------------------------


def suppliers_in(rows: Rows) -> tuple[SupplierFacts, ...]:
    """Suppliers by name."""
    found = [
        SupplierFacts(row["name"], _terms(row), row["contact"], row["note"])
        for row in rows["suppliers"]
    ]
    return tuple(sorted(found, key=lambda row: row.name))


def _terms(row: Cells) -> facts.Supplier:
    return facts.Supplier(
        name=row["name"],
        lead_days=row["lead_days"],
        country=row["country"],
        region=row["region"],
        shutdowns=tuple(
            (date.fromisoformat(first), date.fromisoformat(last))
            for first, last in row["shutdowns"]
        ),
        weekdays=tuple(row["weekdays"]),
        carriage_minor=row["carriage_minor"],
        carriage_free_from_minor=row["carriage_free_from_minor"],
        least_minor=row["least_minor"],
    )


def offers_in(rows: Rows, figures: Figures, *, on: date) -> tuple[OfferFacts, ...]:
    """Offers by supplier, fibre and pack; of two price lists the later one holds."""
    names = {row["id"]: row["name"] for row in rows["suppliers"]}
    latest: dict[tuple[Any, ...], Cells] = {}
    for row in sorted(rows["offers"], key=lambda row: (row["since"] or date.min, row["id"])):
        key = (row["supplier_id"], row["fibre"], row["form"], row["pack_mg"], row["code"])
        latest[key] = row
    found = [_offer(row, names[row["supplier_id"]], figures, on) for row in latest.values()]
    return tuple(
        sorted(found, key=lambda row: (row.offer.supplier, row.offer.stuff, row.offer.pack_mg))
    )


def _offer(row: Cells, supplier: str, figures: Figures, on: date) -> OfferFacts:
    loss = row["scour_loss"]
    if loss is None and not row["scoured"]:
        found = find_figure(figures, row["fibre"], "scour_loss_fraction", on=on)
        loss = Fraction(found.value) if found is not None else None
    offer = facts.Offer(
        supplier=supplier,
        stuff=facts.Stuff(row["fibre"], row["form"]),
        pack_mg=row["pack_mg"],
        tiers=tuple(facts.Tier(from_mg, minor) for from_mg, minor in row["tiers"]),
        least_mg=row["least_mg"],
        scour_loss=loss or Fraction(0),
        most_packs=row["most_packs"],
        code=row["code"],
    )
    return OfferFacts(
        key=row["id"],
        offer=offer,
        scoured=row["scoured"],
        own_loss=row["scour_loss"] is not None,
        since=row["since"],
        last_on=row["last_on"],
        note=row["note"],
    )


def orders_in(
    rows: Rows, names: Mapping[int, str], zone: ZoneInfo, *, at: datetime | None = None
) -> tuple[OrderFacts, ...]:
    """Orders, the newest first.

    Parameters
    ----------
    rows : what `order_queries` found
    names : what each supplier is called, by key
    at : aware; what was written or happened later is left out; None: all that is known
    """
    if at is not None:
        rows = _up_to(rows, at)
    hanging = _Hanging(rows, zone)
    found = [hanging.order(row, names[row["supplier_id"]]) for row in rows["orders"]]
    return tuple(sorted(found, key=lambda row: -row.number))


def _up_to(rows: Rows, at: datetime) -> Rows:
    """The rows of what had happened by a moment."""
    deliveries = [row for row in rows["deliveries"] if row["at"] <= at]
    keys = {row["id"] for row in deliveries}
    return {
        **rows,
        "orders": [row for row in rows["orders"] if row["written_at"] <= at],
        "order_events": [row for row in rows["order_events"] if row["at"] <= at],
        "deliveries": deliveries,
        "delivery_lines": [row for row in rows["delivery_lines"] if row["delivery_id"] in keys],
    }


class _Hanging:
    """What hangs on an order, by its key."""

    def __init__(self, rows: Rows, zone: ZoneInfo) -> None:
        self.zone = zone
        self.lines = _grouped(rows["order_lines"], "order_id", "number")
        self.events = _grouped(rows["order_events"], "order_id", "at", "id")
        self.deliveries = _grouped(rows["deliveries"], "order_id", "at", "id")
        self.came = _grouped(rows["delivery_lines"], "delivery_id", "id")

    def order(self, row: Cells, supplier: str) -> OrderFacts:
        lines = {line["id"]: _line(line) for line in self.lines.get(row["id"], ())}
        deliveries = tuple(
            self._delivery(found, lines) for found in self.deliveries.get(row["id"], ())
        )
        came = [one for delivery in deliveries for one in delivery.lines]
        return OrderFacts(
            number=row["number"],
            supplier=supplier,
            written_at=row["written_at"].astimezone(self.zone),
            currency=row["currency"],
            carriage_minor=row["carriage_minor"],
            runs=tuple(row["runs"]),
            needed_by=row["needed_by"],
            lines=tuple(_with_what_came(line, came) for line in lines.values()),
            events=tuple(self._event(found) for found in self.events.get(row["id"], ())),
            deliveries=deliveries,
            note=row["note"],
        )

    def _event(self, row: Cells) -> EventFacts:
        at = row["at"].astimezone(self.zone)
        return EventFacts(row["what"], at, row["arrives_on"], row["note"])

    def _delivery(self, row: Cells, lines: Mapping[int, LineFacts]) -> DeliveryFacts:
        came = tuple(
            CameFacts(
                line=lines[one["line_id"]].number,
                packs=one["packs"],
                net_mg=one["net_mg"],
                lot=one["lot_code"],
                over_mg=one["net_mg"] - one["packs"] * lines[one["line_id"]].pack_mg,
            )
            for one in self.came.get(row["id"], ())
        )
        return DeliveryFacts(row["at"].astimezone(self.zone), came, row["note"])


def _grouped(rows: Iterable[Cells], key: str, *order: str) -> dict[int, list[Cells]]:
    found: dict[int, list[Cells]] = {}
    for row in sorted(rows, key=lambda row: tuple(row[name] for name in order)):
        found.setdefault(row[key], []).append(row)
    return found


def _line(row: Cells) -> LineFacts:
    return LineFacts(
        number=row["number"],
        stuff=facts.Stuff(row["fibre"], row["form"]),
        pack_mg=row["pack_mg"],
        packs=row["packs"],
        pack_minor=row["pack_minor"],
        scoured=row["scoured"],
        scour_loss=row["scour_loss"],
        code=row["code"],
    )


def _with_what_came(line: LineFacts, came: Iterable[CameFacts]) -> LineFacts:
    mine = [one for one in came if one.line == line.number]
    return replace(
        line,
        came_packs=sum(one.packs for one in mine),
        came_mg=sum(one.net_mg for one in mine),
    )


def coming_of(
    orders: Iterable[OrderFacts], suppliers: Iterable[SupplierFacts], *, today: date
) -> tuple[facts.Coming, ...]:
    """What is still to come of open orders, the earliest first.

    What is overdue counts as coming today; an order that is written and not sent, as if it were
    sent today.
    """
    terms = {row.name: row.terms for row in suppliers}
    found = [
        _coming(order, line, terms[order.supplier], today)
        for order in orders
        if order.is_open
        for line in order.lines
        if line.to_come_packs
    ]
    return tuple(sorted(found, key=lambda row: (row.arrives_on, row.code)))


def _coming(order: OrderFacts, line: LineFacts, terms: facts.Supplier, today: date) -> facts.Coming:
    arrives = _arrival(order, terms, today)
    return facts.Coming(
        code=_code(order, line),
        label=order.label,
        supplier=order.supplier,
        state=order.state,
        stuff=line.stuff,
        left_mg=line.to_come_mg,
        scoured=line.scoured,
        scour_loss=line.scour_loss,
        arrives_on=max(arrives, today),
        confirmed=order.confirmed_on is not None,
        overdue_since=arrives if order.is_overdue(today) else None,
    )


def fibre_coming(
    coming: Iterable[facts.Coming], figures: Figures, *, at: datetime
) -> tuple[FibreFacts, ...]:
    """What suppliers have confirmed, as fibre that arrives on its day; only sent is no promise.

    Parameters
    ----------
    at : aware, in the studio's zone; what should have come by then is not here, so it is left out
    """
    hour = figure(figures, "studio", "post_by_h", on=at.date()).value
    by = time(int(hour), int(hour % 1 * 60))
    found = [
        FibreFacts(
            code=row.code,
            fibre=row.stuff.fibre,
            form=row.stuff.form,
            left_mg=row.left_mg,
            scoured=row.scoured,
            arrives_at=datetime.combine(row.arrives_on, by, tzinfo=at.tzinfo),
        )
        for row in coming
        if row.confirmed and not row.is_overdue
    ]
    return tuple(row for row in found if row.arrives_at is not None and row.arrives_at > at)


def _code(order: OrderFacts, line: LineFacts) -> str:
    which = say(", line {number}", number=line.number) if len(order.lines) > 1 else ""
    return say("order {label}{which}", label=order.label, which=which)


def _arrival(order: OrderFacts, terms: facts.Supplier, today: date) -> date:
    if order.expected_on is not None:
        return order.expected_on
    try:
        return arrives_on(terms, ordered_on=today)
    except NoWorkingDays:
        return date.max
