"""Cases printed elsewhere, put through the functions that make an order."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise

import pytest
from ortools.math_opt.python import mathopt

from sourcing.ordering.answer import OrderPlan
from sourcing.ordering.costs import orders_of, total_of
from sourcing.ordering.facts import Need, Offer, Stuff, Supplier, Tier
from sourcing.ordering.model import add_line
from sourcing.ordering.order import order_now
from sourcing.ordering.problem import Problem, Slot, now
from sourcing.ordering.solve import Effort, search

EXACT = Effort(seconds=60, gap=0)
WOOL, KG = Stuff("wool", "yarn"), 1_000_000
DAY = date(2026, 11, 23)
SHOP = Supplier("shop", 0)

# Wagner and Whitin, Management Science 5 (1958) 89 to 96, worked example, Tables 1 and 2.
DEMAND = (69, 29, 36, 61, 61, 26, 34, 67, 45, 67, 79, 56)
SET_UP = (85, 102, 102, 101, 98, 114, 105, 86, 119, 110, 98, 114)
LEAST_COST = (85, 114, 186, 277, 348, 400, 469, 555, 600, 710, 789, 864)


def over_days(demand: tuple[int, ...], set_up: tuple[int, ...], keeping: int) -> Problem:
    """A kg a piece that costs nothing, carriage as the set-up of its day, keeping a kg and day."""
    days = [DAY + timedelta(days=n) for n in range(len(demand))]
    needs = tuple(Need(WOOL, day, Fraction(kg * KG)) for day, kg in zip(days, demand, strict=True))
    slots = tuple(Slot("shop", day, day, cost) for day, cost in zip(days, set_up, strict=True))
    return Problem(needs, slots, (Offer("shop", WOOL, KG, (Tier(0, 0),)),), Fraction(keeping))


@pytest.mark.parametrize("months", range(1, 13))
def test_orders_over_time_cost_what_wagner_and_whitin_print(months: int) -> None:
    problem = over_days(DEMAND[:months], SET_UP[:months], 1)

    found = search(problem, EXACT)

    assert found.picks is not None
    assert total_of(found.picks, problem) == LEAST_COST[months - 1]
    assert found.bound_minor == pytest.approx(LEAST_COST[months - 1], abs=1e-6)


def test_orders_over_time_cost_what_the_machine_shop_example_prints() -> None:
    """Silver-Meal example of Nahmias, Production and Operations Analysis: 310 is the optimum."""
    problem = over_days((18, 30, 42, 5, 20), (80,) * 5, 2)

    found = search(problem, EXACT)

    assert found.picks is not None
    assert total_of(found.picks, problem) == 310
    assert [sum(line.mg for line in order.lines) // KG for order in orders_of(found.picks)] in (
        [48, 47, 20],
        [48, 67],
    )


def covered(need: int, offered: list[tuple[int, int]], most: int | None = None) -> OrderPlan:
    """The cheapest packs, given as grams and price, that cover a need in grams.

    By the plain sum for one fibre where it will do, and by the search: both must agree.
    """
    offers = [
        Offer("shop", WOOL, grams * 1_000, (Tier(0, price),), most_packs=most, code=str(n))
        for n, (grams, price) in enumerate(offered)
    ]
    needs = [Need(WOOL, DAY, Fraction(need * 1_000))]
    plan = order_now(needs, [SHOP], offers, on=DAY, effort=EXACT)
    assert plan.proof == "cheapest"
    problem = now(needs, [SHOP], offers, on=DAY)
    found = search(problem, EXACT).picks
    assert found is not None
    assert total_of(found, problem) == plan.cost_minor
    return plan


def packs(need: int, offered: list[tuple[int, int]], most: int | None = None) -> int:
    """What they cost."""
    return covered(need, offered, most).cost_minor


@pytest.mark.parametrize(
    ("need", "offered", "least", "left_over"),
    [
        (730, [(50, 900), (100, 1_600), (250, 3_600), (500, 6_500)], 10_100, 20),
        (2_300, [(100, 450), (250, 1_000), (1_000, 3_500)], 8_350, 0),
    ],
)
def test_packs_that_cover_a_need_cost_and_leave_over_what_enumeration_finds(
    need: int, offered: list[tuple[int, int]], least: int, left_over: int
) -> None:
    plan = covered(need, offered)

    assert plan.cost_minor == least
    assert plan.surplus[0].surplus_mg == left_over * 1_000


def test_43_is_the_largest_weight_that_packs_of_6_9_and_20_cannot_make() -> None:
    """Coin problem, well known: 43; every weight above it can be made."""
    offered = [(grams, grams) for grams in (6, 9, 20)]

    assert packs(43, offered) == 44
    assert [packs(need, offered) for need in range(44, 50)] == list(range(44, 50))


# J. Burkardt, KNAPSACK_01: capacity, weights, values, best value. What is left out of the sack is
# the cheapest cover of what the sack cannot hold, each thing there once.
SACKS = {
    "P01": (165, (23, 31, 29, 44, 53, 38, 63, 85, 89, 82),
            (92, 57, 49, 68, 60, 43, 67, 84, 87, 72), 309),
    "P03": (190, (56, 59, 80, 64, 75, 17), (50, 50, 64, 46, 50, 5), 150),
    "P05": (104, (25, 35, 45, 5, 25, 3, 2, 2), (350, 400, 450, 20, 70, 8, 5, 5), 900),
    "P07": (750, (70, 73, 77, 80, 82, 87, 90, 94, 98, 106, 110, 113, 115, 118, 120),
            (135, 139, 149, 150, 156, 163, 173, 184, 192, 201, 210, 214, 221, 229, 240), 1_458),
}  # fmt: skip


@pytest.mark.parametrize("sack", SACKS)
def test_packs_of_which_there_is_one_each_are_chosen_as_for_the_known_sacks(sack: str) -> None:
    capacity, weights, values, best = SACKS[sack]

    left_out = packs(sum(weights) - capacity, list(zip(weights, values, strict=True)), most=1)

    assert sum(values) - left_out == best


def repeated_order(
    yearly: int, order_cost: float, keeping: list[float], breaks: list[tuple[int, int]], most: int
) -> tuple[int, float]:
    """Size and yearly cost of the best repeated order, over the tiers that `add_line` makes.

    Per year: fibre, orders, and half an order kept. Orders a year fall as one over the size; the
    tangents at every whole size make that exact for whole sizes.
    """
    tiers = tuple(Tier(start if n else 0, price) for n, (start, price) in enumerate(breaks))
    model = mathopt.Model()
    lines = add_line(model, Offer("shop", WOOL, 1, tiers), most)
    size = mathopt.LinearSum(line.packs for line in lines)
    orders = model.add_variable(lb=0)
    model.add_linear_constraint(mathopt.LinearSum(line.is_used for line in lines) == 1)
    for at in range(1, most + 1):
        model.add_linear_constraint(orders >= order_cost * yearly * (2 / at - size / at**2))
    fibre = mathopt.LinearSum(yearly * line.pack_minor * line.is_used for line in lines)
    kept = mathopt.LinearSum(
        half / 2 * line.packs for half, line in zip(keeping, lines, strict=True)
    )
    model.minimize(fibre + kept + orders)
    params = mathopt.SolveParameters(relative_gap_tolerance=0, absolute_gap_tolerance=0)
    found = mathopt.solve(model, mathopt.SolverType.HIGHS, params=params)
    return round(sum(found.variable_values(line.packs) for line in lines)), found.objective_value()


@pytest.mark.parametrize(
    ("yearly", "order_cost", "rate", "breaks", "size", "cost"),
    [
        # Nahmias, Production and Operations Analysis, all-units discount (bags), in cents.
        (600, 800, 0.2, [(1, 30), (500, 29), (1_000, 28)], 500, 19_810),
        # MGSC 487, quantity discounts (public course solution).
        (1_000, 200, 0.25, [(1, 100), (101, 90), (301, 85)], 301, 88_862.5768),
    ],
)
def test_a_price_break_draws_the_order_up_to_it_as_printed(
    yearly: int, order_cost: int, rate: float, breaks: list[tuple[int, int]], size: int, cost: float
) -> None:
    keeping = [rate * price for _, price in breaks]

    found = repeated_order(yearly, order_cost, keeping, breaks, 1_100)

    assert found == (size, pytest.approx(cost, abs=0.01))


def test_without_tiers_the_repeated_order_is_the_square_root_formula() -> None:
    """Heizer and Render, needles: 200 units, 100 a year in ordering and keeping."""
    assert repeated_order(1_000, 10, [0.5], [(1, 0)], 400) == (200, pytest.approx(100, abs=1e-6))


def test_the_price_of_a_tier_begins_at_its_quantity_and_holds_for_the_whole_line() -> None:
    tiers = (Tier(0, 1_000), Tier(5 * KG, 900), Tier(10 * KG, 800))
    offer = Offer("shop", WOOL, KG, tiers)

    costs = [
        order_now([Need(WOOL, DAY, Fraction(kg * KG))], [SHOP], [offer], on=DAY, effort=EXACT)
        for kg in (4, 5, 8, 9, 10)
    ]

    # 4 kg at 1,000; 5 at 900; 8 at 900; 9 kg would be 8,100 but ten are 8,000.
    assert [plan.cost_minor for plan in costs] == [4_000, 4_500, 7_200, 8_000, 8_000]
    assert all(a.cost_minor <= b.cost_minor for a, b in pairwise(costs))
