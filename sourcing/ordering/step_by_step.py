"""A quick order without search: each fibre where it is cheapest, one after another.

It takes milliseconds, always stands behind the search, and is never handed out without a word.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from sourcing.ordering.costs import Chosen, Pick, Picks, faults_of, line_of, total_of
from sourcing.ordering.facts import Offer, Stuff
from sourcing.ordering.problem import Problem, Slot

ROUNDS_AT_MOST = 4  # of looking whether a supplier can be done without


def step_by_step(problem: Problem) -> Picks | None:
    """Picks that meet every need, not proved to be the cheapest; None where it finds no way.

    Each fibre goes to the supplier with the cheapest line for all of its needs at once, on the
    last day that serves the first of them. Then the supplier is left out without whom it costs
    least, and again, as long as that is cheaper.
    """
    quotes = _quotes(problem)
    best = _filled(problem, _cheapest(problem, quotes, without=frozenset()), quotes)
    without: frozenset[str] = frozenset()
    for _ in range(ROUNDS_AT_MOST):
        better = _without_one(problem, quotes, without, best)
        if better is None:
            return best
        without, best = better
    return best


Quotes = dict[tuple[Stuff, str], tuple[int, tuple[Pick, ...]]]


def _quotes(problem: Problem) -> Quotes:
    """Of each fibre and supplier the cheapest way found to buy all of it in one order."""
    found: Quotes = {}
    for (stuff, supplier), offers in problem.ways.items():
        first, total = problem.wanted[stuff][0][0], problem.wanted[stuff][-1][1]
        slot = [row for row in problem.slots_of[supplier] if row.arrives_on <= first][-1]
        picks = _buy(slot, offers, total)
        if picks:
            cost = sum(line_of(pick.offer, pick.packs).minor for pick in picks)
            found[stuff, supplier] = (cost, picks)
    return found


def _buy(slot: Slot, offers: tuple[Offer, ...], scoured_mg: Fraction) -> tuple[Pick, ...]:
    """One line that covers all where there is one, else the cheapest packs down to their last."""
    alone = [
        Pick(slot, offer, packs)
        for offer in offers
        for packs in _enough(offer, scoured_mg)
        if offer.most_packs is None or packs <= offer.most_packs
    ]
    if alone:
        return (min(alone, key=lambda pick: line_of(pick.offer, pick.packs).minor),)
    return tuple(_emptied(slot, offers, scoured_mg))


def _enough(offer: Offer, scoured_mg: Fraction) -> set[int]:
    """Numbers of packs that cover an amount: as few as will do, and up to each cheaper tier."""
    few = max(int(-(-scoured_mg // offer.scoured_mg)), offer.least_packs)
    return {max(few, -(-tier.from_mg // offer.pack_mg)) for tier in offer.tiers}


def _emptied(slot: Slot, offers: tuple[Offer, ...], scoured_mg: Fraction) -> Iterator[Pick]:
    """Offers used up one after another, the cheapest by weight first."""
    for offer in sorted(offers, key=lambda row: row.tiers[0].pack_minor / row.scoured_mg):
        most = offer.most_packs
        if scoured_mg > 0 and (most is None or most >= offer.least_packs):
            packs = max(int(-(-scoured_mg // offer.scoured_mg)), offer.least_packs)
            packs = packs if most is None else min(packs, most)
            scoured_mg -= packs * offer.scoured_mg
            yield Pick(slot, offer, packs)


def _cheapest(problem: Problem, quotes: Quotes, *, without: frozenset[str]) -> Chosen | None:
    """The supplier of each fibre by its own line alone; None where one is left without."""
    found: dict[Stuff, str] = {}
    for (stuff, supplier), (cost, _) in sorted(quotes.items()):
        known = found.get(stuff)
        if supplier not in without and (known is None or cost < quotes[stuff, known][0]):
            found[stuff] = supplier
    return found if len(found) == len(problem.wanted) else None


def _filled(problem: Problem, chosen: Chosen | None, quotes: Quotes) -> Picks | None:
    """The orders of a choice, raised to the least value of an order; None where they break it."""
    if chosen is None:
        return None
    picks = [pick for item in chosen.items() for pick in quotes[item][1]]
    for slot in {pick.slot: None for pick in picks}:
        _raise(picks, slot)
    return None if any(faults_of(picks, problem)) else tuple(picks)


def _raise(picks: list[Pick], slot: Slot) -> None:
    """Add packs to the line with the cheapest pack until the least value is reached."""
    mine = [n for n, pick in enumerate(picks) if pick.slot == slot]
    for n in sorted(mine, key=lambda n: picks[n].offer.tiers[-1].pack_minor):
        pick = picks[n]
        others = sum(_minor(picks[m]) for m in mine if m != n)
        packs = _reaching(pick, slot.least_minor - others)
        picks[n] = Pick(slot, pick.offer, packs)


def _reaching(pick: Pick, minor: int) -> int:
    """Packs of a line at which it costs so much, or as many as there are."""
    last = pick.offer.tiers[-1].pack_minor
    if _minor(pick) >= minor or not last:
        return pick.packs
    packs = max(pick.packs, -(-minor // last))
    return packs if pick.offer.most_packs is None else min(packs, pick.offer.most_packs)


def _without_one(
    problem: Problem, quotes: Quotes, without: frozenset[str], best: Picks | None
) -> tuple[frozenset[str], Picks] | None:
    """The best that comes of leaving out one more supplier, where that is cheaper or first to do.

    A supplier whose least value cannot be reached is left out in this way too.
    """
    used = {slot.supplier for slot in problem.slots} - without
    found = {
        name: picks
        for name in sorted(used)
        if (picks := _filled(problem, _cheapest(problem, quotes, without=without | {name}), quotes))
    }
    costs = {name: total_of(picks, problem) for name, picks in found.items()}
    name = min(costs, key=lambda each: costs[each], default=None)
    if name is None or (best is not None and costs[name] >= total_of(best, problem)):
        return None
    return without | {name}, found[name]


def _minor(pick: Pick) -> int:
    return line_of(pick.offer, pick.packs).minor


def cheaper(problem: Problem, found: Iterable[Picks | None]) -> Picks | None:
    """The cheapest of some answers, the first among equals; None where there is none."""
    known = [picks for picks in found if picks is not None]
    return min(known, key=lambda picks: total_of(picks, problem), default=None)
