"""What an order costs, worked out exactly: lines at their tier, carriage, and keeping till use."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from inventory.science.saying import joined, say
from inventory.science.unclear import OutOfRange
from sourcing.ordering.answer import Line, Order, Surplus
from sourcing.ordering.facts import Offer, Stuff, Tier
from sourcing.ordering.problem import Problem, Slot

MG_PER_KG = 1_000_000


@dataclass(frozen=True, slots=True)
class Pick:
    """So many packs of one offer on one day of its supplier."""

    slot: Slot
    offer: Offer
    packs: int  # 1 or more


def tier_of(offer: Offer, packs: int) -> Tier:
    """The tier whose price the whole of a line is charged at.

    Raises
    ------
    OutOfRange
        If it is less than one pack, less than the least of the line or more than there is.

    Examples
    --------
    >>> tiers = (Tier(0, 2200), Tier(5_000_000, 2000))
    >>> mill = Offer("mill", Stuff("wool", "yarn"), 1_000_000, tiers)
    >>> tier_of(mill, 4).pack_minor, tier_of(mill, 5).pack_minor
    (2200, 2000)
    """
    least = offer.least_packs
    if packs < least or (offer.most_packs is not None and packs > offer.most_packs):
        most = (
            ""
            if offer.most_packs is None
            else say(", {most_packs} at most", most_packs=offer.most_packs)
        )
        raise OutOfRange(
            say("packs of {stuff}", stuff=joined(" ", offer.stuff)),
            packs,
            say("{least} or more{most}", least=least, most=most),
        )
    mg = packs * offer.pack_mg
    return next(tier for tier in reversed(offer.tiers) if tier.from_mg <= mg)


def line_of(offer: Offer, packs: int) -> Line:
    """A line with its price."""
    tier = tier_of(offer, packs)
    return Line(offer, packs, tier, packs * tier.pack_minor)


def carriage_of(slot: Slot, goods_minor: int) -> int:
    """What one order costs beside its fibre."""
    free = slot.carriage_free_from_minor
    return 0 if free is not None and goods_minor >= free else slot.carriage_minor


def orders_of(picks: Iterable[Pick]) -> tuple[Order, ...]:
    """The orders that some picks make, by day of ordering, then supplier."""
    rows: dict[Slot, list[Line]] = {}
    for pick in picks:
        rows.setdefault(pick.slot, []).append(line_of(pick.offer, pick.packs))
    orders = (_order(slot, lines) for slot, lines in rows.items())
    return tuple(sorted(orders, key=lambda row: (row.order_on, row.supplier)))


def keeping_of(picks: Iterable[Pick], problem: Problem) -> Fraction:
    """What it costs to keep what is bought until it is needed [minor units], exact.

    From the day of arrival to the last need of its fibre; what is taken on a day is not kept on
    that day, and what is left at the end is not counted further.
    """
    if not problem.keeping:
        return Fraction(0)
    kept = Fraction(0)  # mg and days
    for pick in picks:
        last = problem.wanted[pick.offer.stuff][-1][0]
        kept += pick.packs * pick.offer.scoured_mg * max((last - pick.slot.arrives_on).days, 0)
    return problem.keeping * (kept - taken_mg_days(problem)) / MG_PER_KG


def taken_mg_days(problem: Problem) -> Fraction:
    """What the needs take off what is kept: each by the days from it to the last of its fibre."""
    return sum(
        (need.scoured_mg * (problem.wanted[need.stuff][-1][0] - need.by).days
         for need in problem.needs),
        Fraction(0),
    )  # fmt: skip


def surplus_of(picks: Iterable[Pick], problem: Problem) -> tuple[Surplus, ...]:
    """What is left of each fibre that is bought."""
    bought: dict[Stuff, tuple[int, Fraction]] = {}
    for pick in picks:
        mg, scoured = bought.get(pick.offer.stuff, (0, Fraction(0)))
        more = pick.packs * pick.offer.pack_mg
        bought[pick.offer.stuff] = (mg + more, scoured + pick.packs * pick.offer.scoured_mg)
    return tuple(_surplus(stuff, *bought[stuff], problem) for stuff in sorted(bought))


def faults_of(picks: Iterable[Pick], problem: Problem) -> Iterator[str]:
    """Every promise that some picks break, one sentence each; none when they can be ordered."""
    picks = tuple(picks)
    for stuff, rows in problem.wanted.items():
        mine = [pick for pick in picks if pick.offer.stuff == stuff]
        if len({pick.slot.supplier for pick in mine}) > 1:
            yield say("{stuff} comes from two suppliers.", stuff=joined(" ", stuff))
        for day, scoured_mg in rows:
            come = sum(row.packs * row.offer.scoured_mg for row in mine
                       if row.slot.arrives_on <= day)  # fmt: skip
            if come < scoured_mg:
                yield say(
                    "{stuff}: {come} mg by {day}, {scoured_mg} mg needed.",
                    stuff=joined(" ", stuff),
                    come=come,
                    day=day,
                    scoured_mg=scoured_mg,
                )
    yield from _faults_of_orders(picks)


def _faults_of_orders(picks: tuple[Pick, ...]) -> Iterator[str]:
    goods: dict[Slot, int] = {}
    for pick in picks:
        if pick.offer.supplier != pick.slot.supplier:
            yield say(
                "{supplier} does not sell through {pick_slot_supplier}.",
                supplier=pick.offer.supplier,
                pick_slot_supplier=pick.slot.supplier,
            )
        minor = line_of(pick.offer, pick.packs).minor
        goods[pick.slot] = goods.get(pick.slot, 0) + minor
    for slot, minor in goods.items():
        if minor < slot.least_minor:
            yield say(
                "{supplier}: an order of {minor}, the least is {least_minor}.",
                supplier=slot.supplier,
                minor=minor,
                least_minor=slot.least_minor,
            )


def _order(slot: Slot, lines: list[Line]) -> Order:
    goods = sum(line.minor for line in lines)
    ranked = sorted(lines, key=lambda row: (row.offer.stuff, row.offer.pack_mg))
    return Order(slot.supplier, slot.order_on, slot.arrives_on, tuple(ranked), goods,
                 carriage_of(slot, goods))  # fmt: skip


def _surplus(stuff: Stuff, mg: int, scoured: Fraction, problem: Problem) -> Surplus:
    over = scoured - problem.wanted[stuff][-1][1]
    return Surplus(stuff, mg, mg * over / scoured, over)


def total_of(picks: Iterable[Pick], problem: Problem) -> Fraction:
    """What some picks cost with carriage and keeping [minor units], exact."""
    picks = tuple(picks)
    return keeping_of(picks, problem) + sum(order.minor for order in orders_of(picks))


Picks = tuple[Pick, ...]
Chosen = Mapping[Stuff, str]  # supplier of each fibre
