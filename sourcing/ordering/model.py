"""The order as a sum over whole packs: what is chosen, what must hold, what is to be least.

For a fibre i, supplier s, day of ordering t, offer o and its price tier k:
    x[i,s]   the fibre comes from this supplier              0 or 1
    y[s,t]   an order is written                             0 or 1
    z[o,t,k] the line is bought at this tier                 0 or 1
    q[o,t,k] packs at this tier                              whole, 0 or more
    f[s,t]   the order goes free of carriage                 0 or 1
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from math import gcd, lcm
from typing import TYPE_CHECKING, Any

from sourcing.ordering.costs import MG_PER_KG, Pick, line_of, taken_mg_days
from sourcing.ordering.facts import Offer, Stuff
from sourcing.ordering.problem import Problem, Slot, most_packs

if TYPE_CHECKING:
    from ortools.math_opt.python import mathopt

Variable = Any  # of the solver, which is imported only where it is used


@dataclass(frozen=True, slots=True)
class TierPacks:
    """Packs of one line that are bought at one tier, and whether they are."""

    packs: Variable
    is_used: Variable
    pack_minor: int
    low: int  # packs, both ends counted
    high: int


@dataclass(slots=True)
class OrderModel:
    """The model with its variables by what they stand for."""

    model: mathopt.Model
    from_supplier: dict[tuple[Stuff, str], Variable] = field(default_factory=dict)
    is_written: dict[Slot, Variable] = field(default_factory=dict)
    is_free: dict[Slot, Variable] = field(default_factory=dict)
    lines: dict[tuple[Slot, Offer], tuple[TierPacks, ...]] = field(default_factory=dict)

    def picks(self, values: dict[Variable, float]) -> tuple[Pick, ...]:
        """What a solution orders."""
        found = []
        for (slot, offer), tiers in self.lines.items():
            packs = sum(round(values[tier.packs]) for tier in tiers)
            if packs:
                found.append(Pick(slot, offer, packs))
        return tuple(found)

    def values(self, picks: Iterable[Pick]) -> dict[Variable, float]:
        """What every variable is where some picks are ordered, for a search to begin from.

        Parameters
        ----------
        picks : that break no promise
        """
        picks = tuple(picks)
        found: dict[Variable, float] = dict.fromkeys(self._variables(), 0.0)
        goods: defaultdict[Slot, int] = defaultdict(int)
        for pick in picks:
            line = line_of(pick.offer, pick.packs)
            goods[pick.slot] += line.minor
            found[self.from_supplier[pick.offer.stuff, pick.slot.supplier]] = 1.0
            found[self.is_written[pick.slot]] = 1.0
            for tier in self.lines[pick.slot, pick.offer]:
                if tier.low <= pick.packs <= tier.high:
                    found[tier.packs], found[tier.is_used] = float(pick.packs), 1.0
        for slot, free in self.is_free.items():
            reached = slot.carriage_free_from_minor is not None and slot in goods
            found[free] = float(reached and goods[slot] >= (slot.carriage_free_from_minor or 0))
        return found

    def _variables(self) -> Iterator[Variable]:
        for held in (self.from_supplier, self.is_written, self.is_free):
            yield from held.values()
        for tiers in self.lines.values():
            for tier in tiers:
                yield from (tier.packs, tier.is_used)


def model_of(problem: Problem) -> OrderModel:
    """The model of a problem.

    References
    ----------
    Uncapacitated lot sizing with supplier choice and all-unit discounts: H. M. Wagner and
    T. M. Whitin, Management Science 5 (1958) 89 to 96, for one fibre and supplier; price tiers
    as one binary a segment, the usual form for a piecewise linear cost with jumps.
    """
    from ortools.math_opt.python import mathopt

    made = OrderModel(mathopt.Model(name="order"))
    for slot in problem.slots:
        made.is_written[slot] = made.model.add_binary_variable()
    for (stuff, supplier), offers in problem.ways.items():
        _add_way(made, problem, stuff, supplier, offers)
    for stuff in problem.wanted:
        comes = [made.from_supplier[key] for key in made.from_supplier if key[0] == stuff]
        made.model.add_linear_constraint(_sum((1, each) for each in comes) == 1)
    goods = _goods(made)
    for slot in problem.slots:
        _add_order(made, slot, _sum(goods[slot]))
    made.model.minimize(_sum(_costs(made, problem), offset=_offset(problem)))
    return made


def add_line(model: mathopt.Model, offer: Offer, most: int) -> tuple[TierPacks, ...]:
    """One line, all of it at one tier's price: at most one tier may be used.

    Parameters
    ----------
    most : packs, 0 or more; fewer than the least of the line: the line cannot be bought
    """
    starts = [-(-tier.from_mg // offer.pack_mg) for tier in offer.tiers]
    found = []
    for tier, (start, end) in zip(offer.tiers, pairwise([*starts, most + 1]), strict=True):
        low, high = max(start, offer.least_packs), min(end - 1, most)
        if low <= high:
            found.append(_add_tier(model, low, high, tier.pack_minor))
    return tuple(found)


def _add_tier(model: mathopt.Model, low: int, high: int, pack_minor: int) -> TierPacks:
    """From `low` to `high` packs where the tier is used, none where it is not."""
    packs = model.add_integer_variable(lb=0, ub=high)
    used = model.add_binary_variable()
    model.add_linear_constraint(packs >= low * used)
    model.add_linear_constraint(packs <= high * used)
    return TierPacks(packs, used, pack_minor, low, high)


def _add_way(
    made: OrderModel, problem: Problem, stuff: Stuff, supplier: str, offers: tuple[Offer, ...]
) -> None:
    """A fibre from one supplier: its lines on each day, and that they come in time."""
    chosen = made.model.add_binary_variable()
    made.from_supplier[stuff, supplier] = chosen
    total = problem.wanted[stuff][-1][1]
    slots = problem.open_slots(stuff, supplier)
    for slot in slots:
        for offer in offers:
            tiers = add_line(made.model, offer, most_packs(offer, slot, total))
            made.lines[slot, offer] = tiers
            used = _sum((1, tier.is_used) for tier in tiers)
            made.model.add_linear_constraint(used <= chosen)
            made.model.add_linear_constraint(used <= made.is_written[slot])
    for day, scoured_mg in problem.wanted[stuff]:
        in_time = [slot for slot in slots if slot.arrives_on <= day]
        _add_cover(made, [(slot, o) for slot in in_time for o in offers], scoured_mg, chosen)


def _add_cover(
    made: OrderModel, keys: list[tuple[Slot, Offer]], scoured_mg: Fraction, chosen: Variable
) -> None:
    """Enough by a day, counted in the largest part that goes evenly into every pack.

    Nothing is lost by rounding the need up to such parts, and the numbers stay small.
    """
    part = _common_part({offer.scoured_mg for _, offer in keys})
    come = (
        (int(offer.scoured_mg / part), tier.packs)
        for slot, offer in keys
        for tier in made.lines[slot, offer]
    )
    made.model.add_linear_constraint(_sum(come) >= -(-scoured_mg // part) * chosen)


def _add_order(made: OrderModel, slot: Slot, goods: Any) -> None:
    """The least value of an order, and from what value of its `goods` it goes free of carriage."""
    written = made.is_written[slot]
    if slot.least_minor:
        made.model.add_linear_constraint(goods >= slot.least_minor * written)
    if slot.carriage_free_from_minor is not None and slot.carriage_minor:
        free = made.model.add_binary_variable()
        made.is_free[slot] = free
        made.model.add_linear_constraint(goods >= slot.carriage_free_from_minor * free)
        made.model.add_linear_constraint(free <= written)


def _goods(made: OrderModel) -> defaultdict[Slot, list[tuple[float, Variable]]]:
    """What the fibre of each order costs."""
    found: defaultdict[Slot, list[tuple[float, Variable]]] = defaultdict(list)
    for (slot, _), tiers in made.lines.items():
        found[slot] += ((tier.pack_minor, tier.packs) for tier in tiers)
    return found


def _costs(made: OrderModel, problem: Problem) -> Iterator[tuple[float, Variable]]:
    """Fibre, carriage, and keeping from arrival to the last need."""
    for (slot, offer), tiers in made.lines.items():
        days = (problem.wanted[offer.stuff][-1][0] - slot.arrives_on).days
        kept = float(problem.keeping * offer.scoured_mg * days / MG_PER_KG)
        yield from ((tier.pack_minor + kept, tier.packs) for tier in tiers)
    yield from ((slot.carriage_minor, each) for slot, each in made.is_written.items())
    yield from ((-slot.carriage_minor, each) for slot, each in made.is_free.items())


def _offset(problem: Problem) -> float:
    """What the needs take off the keeping; the same for every order."""
    if not problem.keeping:
        return 0.0
    return float(-problem.keeping * taken_mg_days(problem) / MG_PER_KG)


def _common_part(amounts: Iterable[Fraction]) -> Fraction:
    """The largest amount of which each is a whole multiple.

    Examples
    --------
    >>> _common_part([Fraction(250), Fraction(100)])
    Fraction(50, 1)
    """
    amounts = list(amounts)
    return Fraction(
        gcd(*(each.numerator for each in amounts)), lcm(*(each.denominator for each in amounts))
    )


def _sum(terms: Iterable[tuple[float, Variable]], *, offset: float = 0.0) -> Any:
    """A linear sum, made in one go: adding up one by one takes the square of the time."""
    from ortools.math_opt.python import mathopt

    gathered: dict[Variable, float] = defaultdict(float)
    for factor, variable in terms:
        gathered[variable] += factor
    return mathopt.LinearSum(factor * each for each, factor in gathered.items()) + offset
