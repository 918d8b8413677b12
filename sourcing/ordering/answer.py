"""What comes back: the orders to write, what they cost, how good that answer is, what it lacks."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Literal

from inventory.science.saying import say
from sourcing.ordering.facts import Need, Offer, Stuff, Tier

Proof = Literal["cheapest", "within the gap", "time ran out", "step by step"]
SAID: dict[Proof, str] = {
    "cheapest": say("No cheaper order exists."),
    "within the gap": say("No order is cheaper by more than the gap that was asked for."),
    "time ran out": say("The time ran out; this is the best order found by then."),
    "step by step": say(
        "The time ran out before an order was found that beats buying each fibre where it is "
        "cheapest, one after another; this is that order."
    ),
}


@dataclass(frozen=True, slots=True)
class Line:
    """One offer in one order, all of it at the price of its tier."""

    offer: Offer
    packs: int  # 1 or more
    tier: Tier
    minor: int

    @property
    def mg(self) -> int:
        return self.packs * self.offer.pack_mg

    @property
    def scoured_mg(self) -> Fraction:
        return self.packs * self.offer.scoured_mg


@dataclass(frozen=True, slots=True)
class Order:
    """Everything that is ordered of one supplier on one day."""

    supplier: str
    order_on: date
    arrives_on: date
    lines: tuple[Line, ...]  # by stuff, then pack
    goods_minor: int
    carriage_minor: int

    @property
    def minor(self) -> int:
        return self.goods_minor + self.carriage_minor


@dataclass(frozen=True, slots=True)
class Surplus:
    """What is bought of one fibre beyond its needs, as it is bought and ready to dye [mg]."""

    stuff: Stuff
    bought_mg: int
    surplus_mg: Fraction  # of `bought_mg`
    surplus_scoured_mg: Fraction


@dataclass(frozen=True, slots=True)
class Late:
    """A need that no supplier asked can meet in time; it is counted at the earliest arrival."""

    need: Need
    earliest: date


@dataclass(frozen=True, slots=True)
class OrderPlan:
    """The orders, their cost and how sure it is that nothing cheaper exists."""

    orders: tuple[Order, ...]  # by day of ordering, then supplier
    cost_minor: int  # fibre and carriage
    keeping_minor: Fraction  # for what lies there before it is needed; 0 where none is charged
    proof: Proof
    bound_minor: float  # no order costs less, keeping counted
    surplus: tuple[Surplus, ...]  # one a fibre that is bought
    late: tuple[Late, ...]
    not_sold: tuple[Need, ...]  # nobody asked offers it, or not enough of it

    @property
    def total_minor(self) -> Fraction:
        """Cost with keeping."""
        return self.cost_minor + self.keeping_minor

    @property
    def gap(self) -> float:
        """By what part of its cost a cheaper order is not ruled out: 0 to 1."""
        total = float(self.total_minor)
        return max(0.0, (total - self.bound_minor) / total) if total > 0 else 0.0

    @property
    def said(self) -> str:
        """How good the answer is, in a sentence."""
        return SAID[self.proof]
