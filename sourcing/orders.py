"""Orders of fibre: written, sent, confirmed, weighed in, called off; amounts go through the ledger.

What happened to an order is added to, not changed; how it stands follows from that.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID, uuid5
from zoneinfo import ZoneInfo

from django.db import transaction
from django.db.models import Max

from inventory import fibre
from inventory.draft import number_of
from inventory.entries import Fibre, NewLot, Place, Weighed
from inventory.errors import EntryUsed, NotKept
from inventory.hindrance import said_in_words
from inventory.models import Posting, Studio
from inventory.posting import digest_of
from inventory.said import check_entry, check_row, check_said
from inventory.science.figures import Figures
from inventory.science.saying import joined, say
from inventory.shelves import figures_of
from sourcing.errors import (
    AlreadySent,
    ArrivesBeforeSaid,
    BeforeTheOrder,
    BelowLeastOfLine,
    BelowLeastOfOrder,
    LineTwice,
    MoreThanOffered,
    MoreThanOrdered,
    NoSuchLine,
    NoSuchOffer,
    NoSuchOrder,
    NoSuchRun,
    NoSuchSupplier,
    NothingOrdered,
    NotWholePacks,
    OrderNotSent,
    OrderOver,
    TermsUnclear,
    TooManyLines,
    TooManyOrders,
)
from sourcing.gather import gather
from sourcing.models import (
    Delivery,
    DeliveryLine,
    Order,
    OrderEvent,
    OrderLine,
    Run,
    Supplier,
)
from sourcing.ordered import (
    NUMBERS_A_YEAR,
    LineFacts,
    OfferFacts,
    OrderFacts,
    offer_queries,
    offers_in,
    order_label,
    order_queries,
    orders_in,
    suppliers_in,
)
from sourcing.ordering.answer import OrderPlan
from sourcing.ordering.costs import line_of
from sourcing.ordering.facts import Need
from sourcing.ordering.facts import Supplier as Terms
from sourcing.ordering.working_days import NoWorkingDays, arrives_on

LINES_AT_MOST = 60


@dataclass(frozen=True, slots=True)
class Ordered:
    """One line to be ordered: an offer by its key, in packs or by weight in whole packs."""

    offer: int
    packs: int | None = None
    weight_mg: int | None = None


@dataclass(frozen=True, slots=True)
class Came:
    """Packs of one line of an order that came, weighed in, and the lot that they become."""

    line: int  # its number in the order
    packs: int
    lot: str  # code of the new lot
    weight: int | Weighed  # net, dry


@said_in_words()
def write_order(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    supplier: str,
    lines: Sequence[Ordered],
    runs: Sequence[str] = (),
    needed_by: date | None = None,
    note: str = "",
) -> OrderFacts:
    """An order written, at the prices of that day; the same entry again changes nothing.

    Parameters
    ----------
    runs : codes of the runs that it is for

    Raises
    ------
    NoSuchSupplier, NoSuchOffer, NoSuchRun
    NothingOrdered, TooManyLines, LineTwice
    NotWholePacks, BelowLeastOfLine, MoreThanOffered, BelowLeastOfOrder
        If the supplier does not sell it so.
    """
    check_entry(entry, at)
    check_said({"at": at, "supplier": supplier, "runs": list(runs), "note": note})
    body = {"at": at, "supplier": supplier, "lines": tuple(lines), "runs": tuple(runs)}
    digest = digest_of({**body, "needed_by": needed_by, "note": note})
    with transaction.atomic():
        Studio.objects.select_for_update().get(pk=studio.pk)  # numbers are given one by one
        known = Order.objects.of(studio).filter(entry=entry).first()
        if known is not None:
            if known.body_sha256 != digest:
                raise EntryUsed(entry=entry, kind="order", at=_here(studio, known.written_at))
            return _facts(studio, known.pk)
        day = _here(studio, at).date()
        seller, offers = _seller(studio, supplier, day)
        chosen = _chosen(lines, offers, supplier, day)
        _check_runs(studio, runs)
        goods = sum(line_of(row.offer, packs).minor for row, packs in chosen)
        if goods < seller.least_minor:
            raise BelowLeastOfOrder(
                supplier=supplier,
                goods_minor=goods,
                least_minor=seller.least_minor,
                currency=studio.currency,
            )
        order = Order(
            studio=studio,
            entry=entry,
            body_sha256=digest,
            number=_next_number(studio, day.year),
            supplier=seller,
            written_at=at,
            currency=studio.currency,
            carriage_minor=_carriage(seller, goods),
            runs=list(runs),
            needed_by=needed_by,
            note=note,
        )
        check_row(order)
        order.save(force_insert=True)
        for number, (row, packs) in enumerate(chosen, start=1):
            _write_line(studio, order, number, row, packs)
        return _facts(studio, order.pk)


@said_in_words()
def write_plan(
    studio: Studio, *, entry: UUID, at: datetime, plan: OrderPlan, needs: Iterable[Need] = ()
) -> tuple[OrderFacts, ...]:
    """Every order of a plan written, all or none; each has an entry made of the plan's.

    Parameters
    ----------
    needs : what the plan was made for; its runs and first day stand on the order that serves them
    """
    check_entry(entry, at)
    with transaction.atomic():
        day = _here(studio, at).date()
        offers = {row.offer: row.key for row in offers_on(studio, day)}
        needs = tuple(needs)
        found = []
        for order in plan.orders:
            stuffs = {line.offer.stuff for line in order.lines}
            mine = [need for need in needs if need.stuff in stuffs]
            facts = write_order(
                studio,
                entry=uuid5(entry, order.supplier),
                at=at,
                supplier=order.supplier,
                lines=[Ordered(offers.get(line.offer, 0), line.packs) for line in order.lines],
                runs=sorted({run for need in mine for run in need.runs}),
                needed_by=min((need.by for need in mine), default=None),
            )
            found.append(facts)
    return tuple(found)


@said_in_words()
def send(studio: Studio, *, entry: UUID, at: datetime, order: int, note: str = "") -> OrderFacts:
    """An order sent; the day on which it then comes is counted by its supplier's working days.

    Raises
    ------
    AlreadySent, OrderOver, BeforeTheOrder
    """
    check_entry(entry, at)
    check_said({"at": at, "note": note})
    with transaction.atomic():
        row, facts = _locked(studio, order)
        if _said_before(studio, row, entry, what="sent", at=at, note=note):
            return facts
        sent = facts.last("sent")
        if sent is not None:
            raise AlreadySent(order=facts.label, at=sent.at)
        _check_open(facts)
        _check_after(studio, facts, "written", at, facts.written_at)
        terms = _terms(studio, facts.supplier)
        try:
            day = arrives_on(terms, ordered_on=_here(studio, at).date())
        except NoWorkingDays as wrong:
            raise TermsUnclear(facts.supplier, str(wrong)) from wrong
        _note_event(studio, row, entry, what="sent", at=at, arrives_on=day, note=note)
        return _facts(studio, row.pk)


@said_in_words()
def confirm(
    studio: Studio, *, entry: UUID, at: datetime, order: int, day: date, note: str = ""
) -> OrderFacts:
    """The supplier has said the day on which it comes; said again, the last word holds.

    Raises
    ------
    OrderNotSent, OrderOver, BeforeTheOrder, ArrivesBeforeSaid
    """
    check_entry(entry, at)
    check_said({"at": at, "note": note})
    with transaction.atomic():
        row, facts = _locked(studio, order)
        if _said_before(studio, row, entry, what="confirmed", at=at, note=note, arrives_on=day):
            return facts
        _check_open(facts)
        _check_after_sent(studio, facts, "confirmed", at)
        said = _here(studio, at).date()
        if day < said:
            raise ArrivesBeforeSaid(order=facts.label, day=day, said=said)
        _note_event(studio, row, entry, what="confirmed", at=at, arrives_on=day, note=note)
        return _facts(studio, row.pk)


@said_in_words()
def call_off(
    studio: Studio, *, entry: UUID, at: datetime, order: int, note: str = ""
) -> OrderFacts:
    """An order called off, or what is still to come of it; what came stays.

    Raises
    ------
    OrderOver, BeforeTheOrder
    """
    check_entry(entry, at)
    check_said({"at": at, "note": note})
    with transaction.atomic():
        row, facts = _locked(studio, order)
        if _said_before(studio, row, entry, what="called off", at=at, note=note):
            return facts
        _check_open(facts)
        _check_after(studio, facts, "written", at, facts.written_at)
        _note_event(studio, row, entry, what="called off", at=at, note=note)
        return _facts(studio, row.pk)


@said_in_words()
def receive_delivery(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    order: int,
    came: Sequence[Came],
    place: Place | None = None,
    note: str = "",
) -> OrderFacts:
    """What came of an order, weighed in: each line becomes a lot of fibre on the shelf.

    What it weighs more or less than its packs should is kept beside; how many packs came decides
    whether the order is received.

    Raises
    ------
    OrderNotSent, OrderOver, BeforeTheOrder
    NothingOrdered, NoSuchLine, LineTwice, MoreThanOrdered
        If what came is not what is still to come.
    CodeTaken, UnknownFibre
        From the shelves.
    EntryUsed
        If the same entry came before with other words.
    """
    check_entry(entry, at)
    check_said({"at": at, "came": tuple(came), "place": place, "note": note})
    body = {"at": at, "order": order, "came": tuple(came), "place": place, "note": note}
    digest = digest_of(body)
    with transaction.atomic():
        row, facts = _locked(studio, order)
        known = Delivery.objects.of(studio).filter(entry=entry).first()
        if known is not None:
            if known.body_sha256 != digest:
                raise EntryUsed(entry=entry, kind="delivery", at=_here(studio, known.at))
            return facts
        _check_open(facts)
        _check_after_sent(studio, facts, "received", at)
        lines = _check_came(facts, came)
        delivery = Delivery(
            studio=studio, order=row, entry=entry, body_sha256=digest, at=at, note=note
        )
        check_row(delivery)
        delivery.save(force_insert=True)
        keys = dict(OrderLine.objects.of(studio).filter(order=row).values_list("number", "id"))
        for one in came:
            posting = _weigh_in(studio, entry, at, facts, lines[one.line], one, place)
            net = one.weight.amount if isinstance(one.weight, Weighed) else one.weight
            line = DeliveryLine(
                studio=studio,
                delivery=delivery,
                line_id=keys[one.line],
                packs=one.packs,
                net_mg=net,
                lot_code=one.lot,
                posting=posting,
            )
            check_row(line)
            line.save(force_insert=True)
        return _facts(studio, row.pk)


def order_of(studio: Studio, number: int) -> OrderFacts:
    """One order with all that is known of it.

    Raises
    ------
    NoSuchOrder
        With the number as it is written.
    """
    row = Order.objects.of(studio).filter(number=number).first()
    if row is None:
        raise NoSuchOrder(order_label(number))
    return _facts(studio, row.pk)


# -- what is ordered -------------------------------------------------------------------------


def _seller(studio: Studio, name: str, day: date) -> tuple[Supplier, dict[int, OfferFacts]]:
    """A supplier, and the offers of a day by their keys."""
    seller = Supplier.objects.of(studio).filter(name=name).first()
    if seller is None:
        raise NoSuchSupplier(name)
    return seller, {row.key: row for row in offers_on(studio, day) if row.offer.supplier == name}


def offers_on(studio: Studio, day: date) -> tuple[OfferFacts, ...]:
    """The offers of every supplier that hold on a day."""
    rows = gather(offer_queries(studio, day))
    return offers_in(rows, Figures(figures_of(studio)), on=day)


def _chosen(
    lines: Sequence[Ordered], offers: Mapping[int, OfferFacts], supplier: str, day: date
) -> list[tuple[OfferFacts, int]]:
    """Each line's offer and packs, as the supplier sells them."""
    if not lines:
        raise NothingOrdered("an order")
    if len(lines) > LINES_AT_MOST:
        raise TooManyLines(lines=len(lines), most=LINES_AT_MOST)
    found: list[tuple[OfferFacts, int]] = []
    for line in lines:
        row = offers.get(line.offer)
        if row is None:
            raise NoSuchOffer(offer=line.offer, supplier=supplier, day=day)
        if any(row is other for other, _ in found):
            raise LineTwice(_what(row))
        found.append((row, _packs(line, row)))
    return found


def _packs(line: Ordered, row: OfferFacts) -> int:
    """How many packs a line asks for, within what is sold."""
    if (line.packs is None) == (line.weight_mg is None):
        raise NotKept(
            "line", line, say("says packs and weight, or neither"), say("Say one of the two.")
        )
    offer = row.offer
    if line.packs is not None:
        packs = number_of(line.packs, least=1)
    else:
        assert line.weight_mg is not None
        packs, rest = divmod(number_of(line.weight_mg, least=1), offer.pack_mg)
        if rest:
            raise NotWholePacks(what=_what(row), asked_mg=line.weight_mg, pack_mg=offer.pack_mg)
    if packs < offer.least_packs:
        raise BelowLeastOfLine(
            supplier=offer.supplier,
            what=_what(row),
            packs=packs,
            least=offer.least_packs,
            pack_mg=offer.pack_mg,
        )
    if offer.most_packs is not None and packs > offer.most_packs:
        raise MoreThanOffered(
            supplier=offer.supplier, what=_what(row), packs=packs, most=offer.most_packs
        )
    return packs


def _what(row: OfferFacts) -> str:
    return joined(" ", row.offer.stuff)


def _check_runs(studio: Studio, runs: Sequence[str]) -> None:
    known = set(Run.objects.of(studio).filter(code__in=list(runs)).values_list("code", flat=True))
    for run in runs:
        if run not in known:
            raise NoSuchRun(run)


def _carriage(seller: Supplier, goods_minor: int) -> int:
    free = seller.carriage_free_from_minor
    return 0 if free is not None and goods_minor >= free else seller.carriage_minor


def _next_number(studio: Studio, year: int) -> int:
    first = year * NUMBERS_A_YEAR
    of_year = Order.objects.of(studio).filter(number__gt=first, number__lt=first + NUMBERS_A_YEAR)
    last: int = of_year.aggregate(last=Max("number"))["last"] or first
    if last + 1 == first + NUMBERS_A_YEAR:
        raise TooManyOrders(year=year, most=NUMBERS_A_YEAR - 1)
    return last + 1


def _write_line(studio: Studio, order: Order, number: int, row: OfferFacts, packs: int) -> None:
    offer = row.offer
    line = OrderLine(
        studio=studio,
        order=order,
        number=number,
        offer_id=row.key,
        fibre=offer.stuff.fibre,
        form=offer.stuff.form,
        pack_mg=offer.pack_mg,
        packs=packs,
        pack_minor=line_of(offer, packs).tier.pack_minor,
        scoured=row.scoured,
        scour_loss=offer.scour_loss,
        code=offer.code,
    )
    check_row(line)
    line.save(force_insert=True)


# -- what happens to an order ----------------------------------------------------------------


def _locked(studio: Studio, number: int) -> tuple[Order, OrderFacts]:
    """An order, locked till the end of the transaction, with all that is known of it."""
    row = Order.objects.of(studio).select_for_update().filter(number=number).first()
    if row is None:
        raise NoSuchOrder(order_label(number))
    return row, _facts(studio, row.pk)


def _facts(studio: Studio, key: int) -> OrderFacts:
    orders = Order.objects.of(studio).filter(pk=key)
    rows = gather({"suppliers": Supplier.objects.of(studio), **order_queries(studio, orders)})
    names = {row["id"]: row["name"] for row in rows["suppliers"]}
    (found,) = orders_in(rows, names, ZoneInfo(studio.zone))
    return found


def _terms(studio: Studio, name: str) -> Terms:
    rows = gather({"suppliers": Supplier.objects.of(studio).filter(name=name)})
    (found,) = suppliers_in(rows)
    return found.terms


def _said_before(
    studio: Studio,
    order: Order,
    entry: UUID,
    *,
    what: str,
    at: datetime,
    note: str,
    arrives_on: date | None = None,
) -> bool:
    """Whether the same entry has said the same before; with other words it is refused."""
    known = OrderEvent.objects.of(studio).filter(entry=entry).first()
    if known is None:
        return False
    day = known.arrives_on if what == "confirmed" else None
    if (known.order_id, known.what, known.at, known.note, day) != (
        order.pk, what, at, note, arrives_on,
    ):  # fmt: skip
        raise EntryUsed(entry=entry, kind=known.what, at=_here(studio, known.at))
    return True


def _note_event(studio: Studio, order: Order, entry: UUID, **words: Any) -> None:
    row = OrderEvent(studio=studio, order=order, entry=entry, **words)
    check_row(row)
    row.save(force_insert=True)


def _check_open(facts: OrderFacts) -> None:
    if not facts.is_open:
        raise OrderOver(order=facts.label, state=facts.state)


def _check_after_sent(studio: Studio, facts: OrderFacts, what: str, at: datetime) -> None:
    sent = facts.last("sent")
    if sent is None:
        raise OrderNotSent(order=facts.label, what=what)
    _check_after(studio, facts, "sent", at, sent.at)


def _check_after(
    studio: Studio, facts: OrderFacts, what: str, at: datetime, since: datetime
) -> None:
    if at < since:
        here = _here(studio, at)
        raise BeforeTheOrder(order=facts.label, what=what, at=here, since=_here(studio, since))


def _check_came(facts: OrderFacts, came: Sequence[Came]) -> dict[int, LineFacts]:
    """The lines that came, each once and no more than is still to come of it."""
    if not came:
        raise NothingOrdered("a delivery")
    lines = {line.number: line for line in facts.lines}
    seen: set[int] = set()
    for one in came:
        line = lines.get(one.line)
        if line is None:
            raise NoSuchLine(order=facts.label, line=one.line, lines=len(lines))
        if one.line in seen:
            raise LineTwice(say("Line {line} of order {label}", line=one.line, label=facts.label))
        seen.add(one.line)
        if number_of(one.packs, least=1) > line.to_come_packs:
            raise MoreThanOrdered(
                order=facts.label,
                what=joined(" ", line.stuff),
                packs=one.packs,
                ordered=line.packs,
                came=line.came_packs,
            )
    return lines


def _weigh_in(
    studio: Studio,
    entry: UUID,
    at: datetime,
    facts: OrderFacts,
    line: LineFacts,
    one: Came,
    place: Place | None,
) -> Posting:
    """The lot that some packs become, in the ledger."""
    lot = NewLot(
        code=one.lot,
        what=line.stuff.fibre,
        place=place,
        source=say("{supplier}, order {label}", supplier=facts.supplier, label=facts.label),
        gathered_on=_here(studio, at).date(),
    )
    inner = uuid5(entry, say("line {line}", line=one.line))
    fibre.receive(
        studio,
        entry=inner,
        at=at,
        lot=lot,
        amount=one.weight,
        form=line.stuff.form,
        fibre=Fibre(scoured=line.scoured),
    )
    return Posting.objects.of(studio).get(entry=inner)


def _here(studio: Studio, at: datetime) -> datetime:
    return at.astimezone(ZoneInfo(studio.zone))
