"""Orders of one day: borders of carriage and least values, what is late, what nobody sells."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from inventory.science.unclear import OutOfRange
from sourcing.ordering import order as ordering
from sourcing.ordering.answer import OrderPlan
from sourcing.ordering.costs import Picks, total_of
from sourcing.ordering.facts import Need, Offer, Stuff, Supplier, Tier
from sourcing.ordering.one_fibre import one_fibre
from sourcing.ordering.order import (
    OutOfTime,
    order_ahead,
    order_in_rounds,
    order_now,
    side_by_side,
)
from sourcing.ordering.problem import Problem, now
from sourcing.ordering.solve import CannotBeMet, Effort, Found, Progress, search
from sourcing.ordering.step_by_step import step_by_step
from tests.sourcing.ordering.made_up import market

ON = date(2026, 11, 23)
WOOL, SILK, LINEN = (Stuff(fibre, "yarn") for fibre in ("wool", "silk", "linen"))
KG = 1_000_000
SHOP, MILL = Supplier("shop", 3), Supplier("mill", 10)
EXACT = Effort(seconds=60, gap=0)


def need(kg: float, stuff: Stuff = WOOL, *, days: int = 30) -> Need:
    return Need(stuff, ON + timedelta(days=days), Fraction(round(kg * KG)))


def offer(supplier: Supplier, per_kg: int, stuff: Stuff = WOOL) -> Offer:
    return Offer(supplier.name, stuff, KG, (Tier(0, per_kg),))


TWO_FIBRES = (
    [need(1), need(1, SILK)],
    [SHOP],
    [offer(SHOP, 500), offer(SHOP, 500, SILK)],
)


def ordered(needs: list[Need], suppliers: list[Supplier], offers: list[Offer]) -> OrderPlan:
    return order_now(needs, suppliers, offers, on=ON, effort=EXACT)


def bought(plan: OrderPlan) -> dict[str, int]:
    """Kg by supplier and fibre."""
    return {
        f"{order.supplier}: {line.offer.stuff.fibre}": line.mg // KG
        for order in plan.orders
        for line in order.lines
    }


def test_carriage_falls_away_at_its_value_and_not_a_penny_below() -> None:
    free_at = replace(SHOP, carriage_minor=500, carriage_free_from_minor=4_000)
    above = replace(SHOP, carriage_minor=500, carriage_free_from_minor=4_001)

    free, paid = (ordered([need(4)], [row], [offer(row, 1_000)]) for row in (free_at, above))

    assert (free.cost_minor, free.orders[0].carriage_minor) == (4_000, 0)
    assert (paid.cost_minor, paid.orders[0].carriage_minor) == (4_500, 500)


def test_a_pack_more_is_bought_where_it_saves_more_carriage_than_it_costs() -> None:
    dear = replace(SHOP, carriage_minor=1_500, carriage_free_from_minor=5_000)

    plan = ordered([need(4)], [dear], [offer(dear, 1_000)])

    assert bought(plan) == {"shop: wool": 5}
    assert plan.cost_minor == 5_000
    assert plan.surplus[0].surplus_mg == KG


def test_two_fibres_share_one_carriage_where_that_is_cheaper_than_each_at_its_cheapest() -> None:
    shop, mill = (replace(row, carriage_minor=700) for row in (SHOP, MILL))
    offers = [offer(shop, 1_000), offer(mill, 1_300), offer(shop, 2_000, SILK),
              offer(mill, 1_800, SILK)]  # fmt: skip

    plan = ordered([need(1), need(1, SILK)], [shop, mill], offers)

    assert bought(plan) == {"shop: silk": 1, "shop: wool": 1}
    assert plan.cost_minor == 3_700


@pytest.mark.parametrize(("least", "kg"), [(3_000, 3), (3_001, 4)])
def test_an_order_reaches_its_least_value_and_no_more(least: int, kg: int) -> None:
    shop = replace(SHOP, least_minor=least)

    plan = ordered([need(2)], [shop], [offer(shop, 1_000)])

    assert bought(plan) == {"shop: wool": kg}


def test_a_fibre_comes_from_one_supplier_even_where_two_would_be_cheaper() -> None:
    shop = replace(offer(SHOP, 1_000), most_packs=3)

    plan = ordered([need(4)], [SHOP, MILL], [shop, offer(MILL, 1_500)])

    assert bought(plan) == {"mill: wool": 4}


def test_no_fibre_that_comes_from_elsewhere_fills_up_an_order() -> None:
    mill = replace(MILL, least_minor=1_500)

    plan = ordered([need(20), need(1, SILK)], [SHOP, mill],
                   [offer(SHOP, 500), offer(mill, 600), offer(mill, 1_000, SILK)])  # fmt: skip

    # A kilo of wool would fill up the mill's order for 600, a kilo of silk does it for 1,000.
    assert bought(plan) == {"shop: wool": 20, "mill: silk": 2}


def test_packs_of_two_sizes_are_mixed_and_each_line_has_its_own_tier() -> None:
    small = Offer("shop", WOOL, KG // 4, (Tier(0, 300),))
    large = Offer("shop", WOOL, KG, (Tier(0, 1_000), Tier(2 * KG, 900)))

    plan = ordered([need(2.2)], [SHOP], [small, large])

    assert [(line.packs, line.minor) for line in plan.orders[0].lines] == [(1, 300), (2, 1_800)]
    assert plan.surplus[0].surplus_mg == KG // 20


def test_what_arrives_a_day_late_is_not_chosen_while_another_is_in_time() -> None:
    arrives = date(2026, 12, 7)  # mill, ten working days
    offers = [offer(SHOP, 2_000), offer(MILL, 1_000)]

    in_time = ordered([need(1, days=(arrives - ON).days)], [SHOP, MILL], offers)
    late = ordered([need(1, days=(arrives - ON).days - 1)], [SHOP, MILL], offers)

    assert bought(in_time) == {"mill: wool": 1}
    assert bought(late) == {"shop: wool": 1}
    assert (in_time.late, late.late) == ((), ())


def test_what_nobody_brings_in_time_is_ordered_from_the_soonest_and_named() -> None:
    short = need(1, days=1)

    plan = ordered([short, need(1, SILK)], [SHOP, MILL],
                   [offer(SHOP, 2_000), offer(MILL, 1_000), offer(MILL, 500, SILK)])  # fmt: skip

    assert bought(plan) == {"shop: wool": 1, "mill: silk": 1}
    assert [(row.need, row.earliest) for row in plan.late] == [(short, date(2026, 11, 26))]


def test_what_nobody_sells_is_named_and_the_rest_is_ordered() -> None:
    few = replace(offer(SHOP, 100, SILK), most_packs=1)
    needs = [need(1), need(2, SILK), need(1, LINEN)]

    plan = ordered(needs, [SHOP], [offer(SHOP, 1_000), few])

    assert bought(plan) == {"shop: wool": 1}
    assert plan.not_sold == (needs[1], needs[2])


def test_nothing_needed_is_no_order_and_costs_nothing() -> None:
    plan = ordered([], [SHOP], [offer(SHOP, 1_000)])

    assert (plan.orders, plan.cost_minor, plan.proof, plan.gap) == ((), 0, "cheapest", 0.0)


def test_a_least_value_that_the_stock_cannot_reach_is_said_in_a_sentence() -> None:
    shop = replace(SHOP, least_minor=5_000)
    few = replace(offer(shop, 1_000), most_packs=4)

    with pytest.raises(
        CannotBeMet, match="packs that shop can send do not come to the least value"
    ):
        ordered([need(1)], [shop], [few])


def test_the_order_of_what_is_handed_in_changes_nothing() -> None:
    made = market(3, fibres=6, suppliers=3)
    rows = (made.needs, made.suppliers, made.offers)

    forward, backward = (
        order_now(*each, on=ON, effort=EXACT) for each in (rows, [row[::-1] for row in rows])
    )

    assert forward.total_minor == backward.total_minor
    assert forward.proof == backward.proof == "cheapest"


def test_side_by_side_puts_in_time_before_late_and_complete_before_cheap() -> None:
    late = Supplier("late", 40)
    half = Supplier("half", 3)
    offers = [offer(late, 100), offer(late, 100, SILK), offer(half, 100), offer(SHOP, 900),
              offer(SHOP, 900, SILK), offer(MILL, 800), offer(MILL, 800, SILK)]  # fmt: skip
    nobody = Supplier("nobody", 1)

    quotes = side_by_side([need(1), need(1, SILK)], [late, half, SHOP, MILL, nobody], offers, on=ON)

    assert [quote.supplier for quote in quotes] == ["mill", "shop", "half", "late"]
    assert [need.stuff for need in quotes[2].plan.not_sold] == [SILK]


def test_keeping_puts_the_second_order_off_and_carriage_brings_both_together() -> None:
    needs = [need(1, days=14), need(1, days=84)]

    def days(carriage: int) -> list[date]:
        shop = replace(SHOP, carriage_minor=carriage)
        plan = order_ahead(needs, [shop], [offer(shop, 1_000)], on=ON, keeping=Fraction(10),
                           effort=EXACT)  # fmt: skip
        return [order.arrives_on for order in plan.orders]

    # Seventy days at ten a kg are 700.
    assert days(699) == [needs[0].by, needs[1].by]
    assert days(701) == [needs[0].by]


def test_when_the_time_is_out_the_quick_order_is_given_and_said_to_be_that(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def nothing(problem: Problem, effort: Effort, *, known: Picks | None) -> Found:
        return Found(None, 900.0)

    monkeypatch.setattr(ordering, "search", nothing)
    plan = ordered(*TWO_FIBRES)

    assert bought(plan) == {"shop: silk": 1, "shop: wool": 1}
    assert plan.proof == "step by step"
    assert plan.said.startswith("The time ran out before an order was found that beats")
    assert (plan.bound_minor, plan.gap) == (900.0, pytest.approx(0.1))


def test_when_neither_way_finds_an_order_that_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ordering, "search", lambda problem, effort, known: Found(None, 0.0))
    monkeypatch.setattr(ordering, "step_by_step", lambda problem: None)

    with pytest.raises(OutOfTime, match="No order was found in 60 s"):
        ordered(*TWO_FIBRES)


def test_a_search_that_is_given_no_time_says_so_and_still_orders_everything() -> None:
    made = market(1, fibres=60, suppliers=8)

    plan = order_now(made.needs, made.suppliers, made.offers, on=ON, effort=Effort(seconds=0.001))

    assert plan.proof in ("step by step", "time ran out")
    assert plan.gap > 0.001
    assert len({line.offer.stuff for order in plan.orders for line in order.lines}) == 60


def test_a_search_begins_from_the_quick_order_and_is_never_dearer() -> None:
    for seed in range(1, 6):
        made = market(seed, fibres=12, suppliers=4)
        problem = now(made.needs, made.suppliers, made.offers, on=ON)
        quick = step_by_step(problem)
        assert quick is not None

        found = search(problem, Effort(seconds=0.05), known=quick).picks

        # With so little time the search on its own often finds nothing at all.
        assert found is not None
        assert total_of(found, problem) <= total_of(quick, problem)


def test_rounds_of_searching_begin_with_the_quick_order_and_never_get_worse() -> None:
    made = market(1, fibres=20, suppliers=4)

    plans = list(order_in_rounds(made.needs, made.suppliers, made.offers, on=ON, effort=EXACT))

    costs, bounds = [plan.cost_minor for plan in plans], [plan.bound_minor for plan in plans]
    assert plans[0].proof == "step by step"
    assert plans[-1].proof == "cheapest"
    assert costs == sorted(costs, reverse=True)
    assert bounds == sorted(bounds)
    whole = order_now(made.needs, made.suppliers, made.offers, on=ON, effort=EXACT)
    assert costs[-1] == whole.cost_minor


def test_rounds_double_and_come_to_the_effort_and_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    seconds: list[float] = []

    def nothing(problem: Problem, effort: Effort, *, known: Picks | None) -> Found:
        seconds.append(effort.seconds)
        return Found(known, 900.0)

    monkeypatch.setattr(ordering, "search", nothing)
    plans = list(order_in_rounds(*TWO_FIBRES, on=ON, effort=Effort(seconds=9)))

    assert seconds == [2, 4, 3]
    assert [plan.proof for plan in plans] == ["step by step"] * 4
    assert [plan.bound_minor for plan in plans] == [0, 900, 900, 900]


def test_one_fibre_needs_no_rounds() -> None:
    plans = list(order_in_rounds([need(1)], [SHOP], [offer(SHOP, 900)], on=ON, effort=EXACT))

    assert [plan.proof for plan in plans] == ["cheapest"]
    nothing = list(order_in_rounds([], [SHOP], [], on=ON, effort=EXACT))
    assert [plan.orders for plan in nothing] == [()]


def test_progress_begins_with_the_quick_order_and_never_gets_worse() -> None:
    told: list[Progress] = []
    made = market(1, fibres=20, suppliers=4)

    plan = order_now(made.needs, made.suppliers, made.offers, on=ON,
                     effort=Effort(tell=told.append, gap=0))  # fmt: skip

    best = [row.best_minor for row in told if row.best_minor is not None]
    bounds = [row.bound_minor for row in told if row.bound_minor is not None]
    assert (told[0].seconds, told[0].bound_minor) == (0.0, None)
    assert best == sorted(best, reverse=True)
    assert best[-1] == plan.cost_minor
    assert max(bounds) <= plan.cost_minor


def test_whoever_is_told_can_end_the_search() -> None:
    def enough(progress: Progress) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        order_now(*TWO_FIBRES, on=ON, effort=Effort(tell=enough))


def test_one_fibre_is_ordered_without_a_search(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(problem: Problem, effort: Effort, *, known: Picks | None) -> Found:
        raise AssertionError("a search for one fibre")

    monkeypatch.setattr(ordering, "search", never)

    plan = ordered([need(2), need(1, days=40)], [SHOP, MILL], [offer(SHOP, 900), offer(MILL, 800)])

    assert bought(plan) == {"mill: wool": 3}
    assert (plan.proof, plan.bound_minor) == ("cheapest", 2_400.0)


def test_one_fibre_of_too_many_packs_to_try_is_searched_for() -> None:
    grams = (70, 110, 130, 170)
    offers = [Offer("shop", WOOL, each * 1_000, (Tier(0, each + 7),)) for each in grams]

    plan = ordered([need(10)], [SHOP], offers)

    assert one_fibre(now([need(10)], [SHOP], offers, on=ON)) is None
    assert plan.proof == "cheapest"
    assert plan.cost_minor == least_of(dict.fromkeys(grams, 7), 10_000)


def least_of(extra: dict[int, int], grams: int) -> int:
    """The least cost of packs that cover so many grams, each gram a penny and something a pack."""
    least = [0]
    for wanted in range(1, grams + 1):
        least.append(min(least[max(0, wanted - pack)] + pack + more
                         for pack, more in extra.items()))  # fmt: skip
    return least[grams]


@pytest.mark.parametrize(
    ("tiers", "words"),
    [
        ((), "one or more, the first from 0 on"),
        ((Tier(1, 5),), "one or more, the first from 0 on"),
        ((Tier(0, 5), Tier(0, 4)), "in rising quantities"),
        ((Tier(0, 5), Tier(KG, 6)), "never at a higher price"),
    ],
)
def test_price_tiers_that_make_no_sense_are_refused(tiers: tuple[Tier, ...], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        Offer("shop", WOOL, KG, tiers)


def test_bad_figures_are_refused_with_their_range() -> None:
    with pytest.raises(OutOfRange, match="suppliers is shop, shop; it must be one a name"):
        ordered([need(1)], [SHOP, SHOP], [offer(SHOP, 1_000)])
    with pytest.raises(OutOfRange, match="packs of one line is 20001; it must be 20000 at most"):
        ordered([need(20_001)], [SHOP], [offer(SHOP, 1_000)])
    with pytest.raises(OutOfRange, match=r"seconds to search is 0; it must be above 0, 3600"):
        Effort(seconds=0)
    with pytest.raises(OutOfRange, match="within 1200 days of 2026-11-23"):
        order_ahead([need(1, days=1_201)], [SHOP], [], on=ON, keeping=Fraction(0))
