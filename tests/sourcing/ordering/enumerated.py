"""The least cost of a small market by trying everything; it shares no sum with the orders."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from fractions import Fraction
from itertools import product

from sourcing.ordering.facts import Need, Offer, Stuff, Supplier

Day = tuple[date, date]  # of ordering and of arrival


def least_cost(
    needs: Sequence[Need],
    suppliers: Sequence[Supplier],
    offers: Sequence[Offer],
    days: dict[str, list[Day]],
    *,
    keeping: Fraction = Fraction(0),
    packs_at_most: int,
) -> Fraction | None:
    """Over every choice of a supplier a fibre and every number of packs a line and day."""
    stuffs = sorted({need.stuff for need in needs})
    costs = (
        sum(
            (_least_at(supplier, [stuff for stuff, name in zip(stuffs, names, strict=True)
                                  if name == supplier.name],
                       needs, offers, days[supplier.name], keeping, packs_at_most)
             for supplier in suppliers if supplier.name in names),
            Choice(Fraction(0)),
        )
        for names in product([row.name for row in suppliers], repeat=len(stuffs))
    )  # fmt: skip
    return min((choice.cost for choice in costs if choice.cost is not None), default=None)


class Choice:
    """A cost that may be out of reach."""

    def __init__(self, cost: Fraction | None) -> None:
        self.cost = cost

    def __add__(self, other: Choice) -> Choice:
        if self.cost is None or other.cost is None:
            return Choice(None)
        return Choice(self.cost + other.cost)


def _least_at(
    supplier: Supplier, stuffs: list[Stuff], needs: Sequence[Need], offers: Sequence[Offer],
    days: list[Day], keeping: Fraction, packs_at_most: int,
) -> Choice:  # fmt: skip
    mine = [row for row in offers if row.supplier == supplier.name and row.stuff in stuffs]
    wanted = [need for need in needs if need.stuff in stuffs]
    keys = [(offer, day) for offer in mine for day in days]
    counts = [_counts(offer, packs_at_most) for offer, _ in keys]
    costs = (
        cost
        for packs in product(*counts)
        if (cost := _cost(supplier, list(zip(keys, packs, strict=True)), wanted, keeping))
        is not None
    )
    return Choice(min(costs, default=None))


def _counts(offer: Offer, packs_at_most: int) -> list[int]:
    most = packs_at_most if offer.most_packs is None else offer.most_packs
    return [n for n in range(most + 1) if n == 0 or n * offer.pack_mg >= offer.least_mg]


def _cost(
    supplier: Supplier, bought: list[tuple[tuple[Offer, Day], int]], wanted: list[Need],
    keeping: Fraction,
) -> Fraction | None:  # fmt: skip
    if not all(_is_met(need, bought, wanted) for need in wanted):
        return None
    total = Fraction(0)
    for day in {day for (_, day), packs in bought if packs}:
        goods = sum(packs * _price(offer, packs) for (offer, on), packs in bought if on == day)
        if goods < supplier.least_minor:
            return None
        free = supplier.carriage_free_from_minor
        total += goods + (0 if free is not None and goods >= free else supplier.carriage_minor)
    return total + keeping * sum(_kept(stuff, bought, wanted) for stuff in
                                 {need.stuff for need in wanted}) / 1_000_000  # fmt: skip


def _price(offer: Offer, packs: int) -> int:
    return min(tier.pack_minor for tier in offer.tiers if tier.from_mg <= packs * offer.pack_mg)


def _is_met(need: Need, bought: list[tuple[tuple[Offer, Day], int]], wanted: list[Need]) -> bool:
    return _stock(need.stuff, need.by, bought, wanted) >= 0


def _stock(
    stuff: Stuff, day: date, bought: list[tuple[tuple[Offer, Day], int]], wanted: list[Need]
) -> Fraction:
    come = sum(packs * offer.pack_mg * (1 - offer.scour_loss) for (offer, on), packs in bought
               if offer.stuff == stuff and on[1] <= day)  # fmt: skip
    return come - sum((row.scoured_mg for row in wanted if row.stuff == stuff and row.by <= day),
                      Fraction(0))  # fmt: skip


def _kept(
    stuff: Stuff, bought: list[tuple[tuple[Offer, Day], int]], wanted: list[Need]
) -> Fraction:
    """Milligrams and nights until the last need, night by night."""
    last = max(need.by for need in wanted if need.stuff == stuff)
    first = min([on[1] for (offer, on), packs in bought if packs and offer.stuff == stuff])
    return sum(
        (_stock(stuff, night, bought, wanted) for night in _nights(first, last)), Fraction(0)
    )


def _nights(first: date, last: date) -> Iterator[date]:
    return (date.fromordinal(n) for n in range(first.toordinal(), last.toordinal()))
