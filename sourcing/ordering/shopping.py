"""What has to be bought: fibre by fibre with each supplier beside the others, and all together.

One supplier whose days cannot be counted, or who has too little, is named; the others still answer.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from inventory.science.saying import say
from inventory.science.unclear import OutOfRange
from sourcing.ordering.answer import OrderPlan
from sourcing.ordering.facts import Need, Offer, Stuff, Supplier
from sourcing.ordering.order import OutOfTime, Quote, order_now, side_by_side
from sourcing.ordering.problem import has_enough
from sourcing.ordering.solve import CannotBeMet, Effort
from sourcing.ordering.working_days import NoWorkingDays, UnknownCountry, arrives_on, order_by_day

CANNOT = (CannotBeMet, OutOfTime, NoWorkingDays, UnknownCountry, OutOfRange)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A supplier that sells a fibre and cannot be asked for it, and why, as a sentence."""

    supplier: str
    why: str


@dataclass(frozen=True, slots=True)
class ToBuy:
    """One fibre that is lacking, and what each supplier would bring."""

    stuff: Stuff
    needs: tuple[Need, ...]  # one or more, by day
    quotes: tuple[Quote, ...]  # in time before late; the cheapest first, of the late the soonest
    left_out: tuple[LeftOut, ...]

    @property
    def by(self) -> date:
        """The day of the first need."""
        return self.needs[0].by

    @property
    def scoured_mg(self) -> Fraction:
        """All that is lacking, ready to dye [mg], exact."""
        return sum((need.scoured_mg for need in self.needs), Fraction(0))

    @property
    def runs(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(run for need in self.needs for run in need.runs))


@dataclass(frozen=True, slots=True)
class Together:
    """The cheapest order of a day for all needs; where there is none, why, as a sentence."""

    plan: OrderPlan | None
    why: str = ""
    left_out: tuple[LeftOut, ...] = ()


def stuffs_needed(needs: Iterable[Need]) -> tuple[Stuff, ...]:
    """The fibres that are lacking, the one that is needed first in front."""
    first: dict[Stuff, date] = {}
    for need in needs:
        first[need.stuff] = min(need.by, first.get(need.stuff, need.by))
    return tuple(sorted(first, key=lambda stuff: (first[stuff], stuff)))


def to_buy(
    stuff: Stuff,
    needs: Iterable[Need],
    suppliers: Iterable[Supplier],
    offers: Iterable[Offer],
    *,
    on: date,
    effort: Effort | None = None,
) -> ToBuy:
    """What each supplier alone would bring of one fibre that is lacking.

    Parameters
    ----------
    needs, suppliers, offers : any order; those of other fibres are passed over
    on : the day of ordering
    effort : for each supplier, where it takes a search; None: ten seconds, a thousandth
    """
    mine = tuple(sorted((need for need in needs if need.stuff == stuff), key=lambda row: row.by))
    sold = tuple(offer for offer in offers if offer.stuff == stuff)
    quotes: list[Quote] = []
    left_out: list[LeftOut] = []
    for supplier in suppliers:
        if any(offer.supplier == supplier.name for offer in sold):
            answer = _asked(mine, supplier, sold, on, effort)
            if isinstance(answer, Quote):
                quotes.append(answer)
            else:
                left_out.append(answer)
    ranked = sorted(quotes, key=_rank)
    return ToBuy(stuff, mine, tuple(ranked), tuple(sorted(left_out, key=lambda row: row.supplier)))


def together(
    needs: Iterable[Need],
    suppliers: Iterable[Supplier],
    offers: Iterable[Offer],
    *,
    on: date,
    effort: Effort | None = None,
) -> Together:
    """The cheapest order of one day for all that is lacking, as `order_now` finds it."""
    counted, left_out = counted_of(suppliers, on=on)
    try:
        plan = order_now(needs, counted, offers, on=on, effort=effort)
    except CANNOT as error:
        return Together(None, str(error), left_out)
    return Together(plan, left_out=left_out)


def counted_of(
    suppliers: Iterable[Supplier], *, on: date
) -> tuple[tuple[Supplier, ...], tuple[LeftOut, ...]]:
    """Suppliers whose days can be counted from a day on, and the others with the reason."""
    counted: list[Supplier] = []
    left_out: list[LeftOut] = []
    for supplier in suppliers:
        try:
            order_by_day(supplier, needed_by=arrives_on(supplier, ordered_on=on))
        except CANNOT as error:
            left_out.append(LeftOut(supplier.name, str(error)))
        else:
            counted.append(supplier)
    return tuple(counted), tuple(left_out)


def _rank(quote: Quote) -> tuple[bool, date, Fraction, date, str]:
    """In time before late; the cheap before the dear, but among the late the soonest first."""
    late, cost = bool(quote.plan.late), quote.plan.total_minor
    return late, quote.arrives_on if late else date.min, cost, quote.arrives_on, quote.supplier


def _asked(
    needs: tuple[Need, ...],
    supplier: Supplier,
    offers: tuple[Offer, ...],
    on: date,
    effort: Effort | None,
) -> Quote | LeftOut:
    """What a supplier would bring, or why it cannot."""
    own = [offer for offer in offers if offer.supplier == supplier.name]
    if not has_enough(own, sum((need.scoured_mg for need in needs), Fraction(0))):
        return LeftOut(supplier.name, say("{name} has too little of it.", name=supplier.name))
    try:
        quotes = side_by_side(needs, [supplier], own, on=on, effort=effort)
    except CANNOT as error:
        return LeftOut(supplier.name, str(error))
    if not quotes:
        return LeftOut(supplier.name, str(CannotBeMet([supplier.name])))
    return quotes[0]
