"""Small markets made up by chance: no order costs less than trying everything finds.

`DYE_LARDER_LONG=1` goes through twenty times as many.
"""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sourcing.ordering.costs import faults_of, total_of
from sourcing.ordering.facts import Need, Offer, Stuff, Supplier, Tier
from sourcing.ordering.order import order_ahead, order_now
from sourcing.ordering.problem import ahead, now, slot_of
from sourcing.ordering.solve import CannotBeMet, Effort, search
from sourcing.ordering.step_by_step import step_by_step
from tests.sourcing.ordering.enumerated import least_cost

ON, HALF_KG = date(2026, 11, 23), 500_000
EXACT = Effort(seconds=60, gap=0)
KEEPING = Fraction(7, 2)
MANY = 20 if os.environ.get("DYE_LARDER_LONG") == "1" else 1
PACKS = 7  # beyond any need, tier, least or free carriage below


@dataclass(frozen=True)
class Market:
    suppliers: list[Supplier]
    offers: list[Offer]
    needs: list[Need]


def suppliers(lead: st.SearchStrategy[int]) -> st.SearchStrategy[list[Supplier]]:
    one = st.tuples(
        lead,
        st.sampled_from([0, 300, 900]),  # carriage
        st.sampled_from([None, 0, 1_500, 2_500]),  # free from
        st.sampled_from([0, 1_200, 2_400]),  # least
    )
    return st.lists(one, min_size=1, max_size=2).map(
        lambda rows: [_supplier(f"supplier {n}", *row) for n, row in enumerate(rows)]
    )


def _supplier(name: str, lead: int, carriage: int, free: int | None, least: int) -> Supplier:
    return Supplier(name, lead, carriage_minor=carriage, carriage_free_from_minor=free,
                    least_minor=least)  # fmt: skip


@st.composite
def offers(draw: st.DrawFn, supplier: str, stuff: Stuff, packs: int, *, short: bool) -> list[Offer]:
    found = []
    for n in range(draw(st.integers(1, packs))):
        price = draw(st.integers(500, 900))
        tiers = [Tier(0, price)]
        if draw(st.booleans()):
            tiers.append(Tier(draw(st.integers(2, 6)) * HALF_KG, price - draw(st.integers(0, 100))))
        pack = draw(st.sampled_from([HALF_KG, 700_000]))
        least = draw(st.sampled_from([0, 0, 2 * HALF_KG]))
        loss = Fraction(draw(st.sampled_from([0, 5, 12])), 100)
        most = draw(st.sampled_from([None, 2, 4])) if short else None
        found.append(Offer(supplier, stuff, pack, tuple(tiers), least, loss, most, code=str(n)))
    return found


@st.composite
def one_day(draw: st.DrawFn) -> Market:
    sellers = draw(suppliers(st.just(3)))
    stuffs = [Stuff("wool", "yarn"), Stuff("silk", "yarn")][: draw(st.integers(1, 2))]
    short = draw(st.booleans())
    found = [
        offer
        for seller in sellers
        for stuff in stuffs
        for offer in draw(offers(seller.name, stuff, 2 if len(stuffs) == 1 else 1, short=short))
    ]
    needs = [Need(stuff, ON + timedelta(days=30), Fraction(draw(st.integers(100, 2_500)) * 1_000))
             for stuff in stuffs]  # fmt: skip
    return Market(sellers, found, needs)


@st.composite
def two_days(draw: st.DrawFn) -> Market:
    sellers = draw(suppliers(st.integers(0, 4)))
    wool = Stuff("wool", "yarn")
    found = [
        offer for seller in sellers for offer in draw(offers(seller.name, wool, 1, short=False))
    ]
    first = ON + timedelta(days=draw(st.integers(8, 12)))
    days = [first, first + timedelta(days=draw(st.integers(1, 60)))]
    needs = [Need(wool, day, Fraction(draw(st.integers(100, 1_500)) * 1_000)) for day in days]
    return Market(sellers, found, needs)


@settings(max_examples=40 * MANY, deadline=None)
@given(one_day())
def test_an_order_of_one_day_costs_what_trying_everything_costs(market: Market) -> None:
    problem = now(market.needs, market.suppliers, market.offers, on=ON)
    days = {slot.supplier: [(slot.order_on, slot.arrives_on)] for slot in problem.slots}
    sold = [need for need in market.needs if need not in problem.not_sold]
    least = least_cost(sold, market.suppliers, market.offers, days, packs_at_most=PACKS)

    if least is None:
        with pytest.raises(CannotBeMet):
            order_now(market.needs, market.suppliers, market.offers, on=ON, effort=EXACT)
        return
    plan = order_now(market.needs, market.suppliers, market.offers, on=ON, effort=EXACT)

    assert plan.total_minor == least
    assert plan.proof == "cheapest"
    assert plan.gap == pytest.approx(0, abs=1e-6)
    assert total_of(search(problem, EXACT).picks or (), problem) == least


@settings(max_examples=25 * MANY, deadline=None)
@given(two_days())
def test_orders_over_two_days_cost_what_trying_everything_costs(market: Market) -> None:
    problem = ahead(market.needs, market.suppliers, market.offers, on=ON, keeping=KEEPING)
    days = {name: [(slot.order_on, slot.arrives_on) for slot in slots]
            for name, slots in problem.slots_of.items()}  # fmt: skip
    least = least_cost(market.needs, market.suppliers, market.offers, days, keeping=KEEPING,
                       packs_at_most=PACKS)  # fmt: skip

    plan = order_ahead(market.needs, market.suppliers, market.offers, on=ON, keeping=KEEPING,
                       effort=EXACT)  # fmt: skip

    assert plan.total_minor == least
    assert plan.proof == "cheapest"


@settings(max_examples=15 * MANY, deadline=None)
@given(two_days())
def test_no_day_of_ordering_beside_the_order_by_days_would_be_cheaper(market: Market) -> None:
    problem = ahead(market.needs, market.suppliers, market.offers, on=ON, keeping=KEEPING)
    span = (market.needs[-1].by - ON).days + 1
    every = {slot_of(row, ON + timedelta(days=n)) for row in market.suppliers for n in range(span)}
    wide = replace(problem, slots=tuple({(s.supplier, s.arrives_on): s for s in every}.values()))

    narrow_found, wide_found = (search(each, EXACT).picks for each in (problem, wide))

    assert narrow_found is not None
    assert wide_found is not None
    assert total_of(narrow_found, problem) == total_of(wide_found, wide)


@settings(max_examples=40 * MANY, deadline=None)
@given(one_day())
def test_the_quick_order_keeps_every_promise_and_is_never_cheaper_than_the_cheapest(
    market: Market,
) -> None:
    problem = now(market.needs, market.suppliers, market.offers, on=ON)
    quick = step_by_step(problem)

    if quick is None or not problem.needs:
        return
    plan = order_now(market.needs, market.suppliers, market.offers, on=ON, effort=EXACT)
    assert list(faults_of(quick, problem)) == []
    assert total_of(quick, problem) >= plan.total_minor
