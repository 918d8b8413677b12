"""The cheapest order of one fibre on one day, by trying all that could be it: no search needed.

A studio that lacks one fibre gets its answer in milliseconds, and so does each supplier beside the
others; the search is for several fibres that share an order.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise, product
from math import prod

from sourcing.ordering.costs import Pick, Picks, carriage_of, line_of
from sourcing.ordering.facts import PACKS_AT_MOST, Offer
from sourcing.ordering.problem import Problem, Slot, most_packs
from sourcing.ordering.solve import CannotBeMet

TRIED_AT_MOST = 20_000  # ways to fill up with all packs but one; beyond it the search is quicker


def one_fibre(problem: Problem) -> Picks | None:
    """The cheapest picks where one fibre is wanted of one day's orders, proved by trying them.

    Parameters
    ----------
    problem : as `now` makes it

    Returns
    -------
    picks : among equals the least fibre, then the first supplier by name; None where there are
        several fibres or days, keeping costs something, or there is too much to try

    Raises
    ------
    CannotBeMet
        If a least value of an order stands against what the suppliers have.
    OutOfRange
        As `most_packs`.

    References
    ----------
    Between two price tiers a line costs more with every pack, and carriage falls away once. So the
    fewest packs of each tier that will do, and the fewest that go free of carriage, are all that
    can be cheapest; what other packs there are is counted through.
    """
    if len(problem.wanted) != 1 or problem.keeping or len(problem.slots) > len(problem.slots_of):
        return None
    (rows,) = problem.wanted.values()
    ways = [(problem.slots_of[name][0], offers) for (_, name), offers in problem.ways.items()]
    if sum(_tried(slot, offers, rows[-1][1]) for slot, offers in ways) > TRIED_AT_MOST:
        return None
    found = [picks for slot, offers in ways for picks in _picks(slot, offers, rows[-1][1])]
    if not found:
        raise CannotBeMet(sorted(problem.slots_of))
    return min(found, key=_rank)


def _rank(picks: Picks) -> tuple[int, int, str]:
    slot = picks[0].slot
    goods = sum(line_of(pick.offer, pick.packs).minor for pick in picks)
    mg = sum(pick.packs * pick.offer.pack_mg for pick in picks)
    return goods + carriage_of(slot, goods), mg, slot.supplier


def _tried(slot: Slot, offers: tuple[Offer, ...], scoured_mg: Fraction) -> int:
    *others, _ = _last_is_longest(slot, offers, scoured_mg)
    return prod(len(_counts(offer, most)) for offer, most in others)


def _last_is_longest(
    slot: Slot, offers: tuple[Offer, ...], scoured_mg: Fraction
) -> list[tuple[Offer, int]]:
    """Each offer with the most packs of it that can be wanted, rising."""
    rows = [(offer, most_packs(offer, slot, scoured_mg)) for offer in offers]
    return sorted(rows, key=lambda row: row[1])


def _counts(offer: Offer, most: int) -> list[int]:
    return [0, *range(offer.least_packs, most + 1)]


def _picks(slot: Slot, offers: tuple[Offer, ...], scoured_mg: Fraction) -> Iterator[Picks]:
    """What can be the cheapest order of one supplier."""
    *others, (last, most) = _last_is_longest(slot, offers, scoured_mg)
    for counts in product(*(_counts(offer, at_most) for offer, at_most in others)):
        picks = tuple(
            Pick(slot, offer, packs)
            for (offer, _), packs in zip(others, counts, strict=True)
            if packs
        )
        come = sum((pick.packs * pick.offer.scoured_mg for pick in picks), Fraction(0))
        goods = sum(line_of(pick.offer, pick.packs).minor for pick in picks)
        if picks and come >= scoured_mg and goods >= slot.least_minor:
            yield picks
        for packs in _fills(slot, last, most, scoured_mg - come, goods):
            yield (*picks, Pick(slot, last, packs))


def _fills(
    slot: Slot, offer: Offer, most: int, scoured_mg: Fraction, goods_minor: int
) -> Iterator[int]:
    """Packs of the last line that can be cheapest beside what is bought already."""
    starts = [-(-tier.from_mg // offer.pack_mg) for tier in offer.tiers]
    enough = max(1, offer.least_packs, int(-(-scoured_mg // offer.scoured_mg)))
    for tier, (start, end) in zip(offer.tiers, pairwise([*starts, most + 1]), strict=True):
        for value in {slot.least_minor, slot.carriage_free_from_minor or 0}:
            packs = max(start, enough, _reaching(slot.least_minor - goods_minor, tier.pack_minor),
                        _reaching(value - goods_minor, tier.pack_minor))  # fmt: skip
            if packs <= min(end - 1, most):
                yield packs


def _reaching(minor: int, pack_minor: int) -> int:
    """Packs that come to a value; more than anybody buys where a pack costs nothing."""
    if minor <= 0:
        return 0
    return -(-minor // pack_minor) if pack_minor else PACKS_AT_MOST + 1
