"""Run G of the demo studio on Monday 23 November 2026: far mill or near shop.

Every value is from the worked week that the project's design papers give (13.1, 13.4 to 13.7).
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from sourcing.ordering.answer import OrderPlan
from sourcing.ordering.facts import Need, Offer, Stuff, Supplier, There, Tier, Wanted
from sourcing.ordering.needs import needs_of
from sourcing.ordering.order import order_now, side_by_side

MONDAY = date(2026, 11, 23)
WOOL, LOSS = Stuff("wool", "yarn"), Fraction(5, 100)
KG = 1_000_000
FAR = Supplier("far mill", 12, "GB", "ENG")
NEAR = Supplier("near shop", 5, "GB", "ENG")
OFFERS = (
    Offer("far mill", WOOL, KG, (Tier(0, 2_200),), 5 * KG, LOSS),
    Offer("near shop", WOOL, KG, (Tier(0, 2_800),), scour_loss=LOSS),
)
W88 = There("W-88", WOOL, 2_400_000, LOSS)
BLUSH = Wanted("A", WOOL, 2_000_000, MONDAY)
REORDER = Wanted("G", WOOL, 4_000_000, date(2026, 12, 7))
GROUP = Wanted("F", WOOL, 240_000, date(2026, 11, 28))


def needs(*wanted: Wanted) -> tuple[Need, ...]:
    return needs_of(wanted, [W88])


def only(plan: OrderPlan) -> tuple[str, date, date, int, int]:
    """Supplier, both days, kg and cost of a plan that is one line."""
    (order,) = plan.orders
    (line,) = order.lines
    return order.supplier, order.order_on, order.arrives_on, line.mg // KG, order.minor


def test_the_reorder_lacks_3916_grams_of_wool_as_it_is_bought() -> None:
    (need,) = needs(BLUSH, REORDER)

    assert need.runs == ("G",)
    assert round(need.bought_mg(LOSS) / 1_000) == 3_916


def test_the_order_goes_to_the_near_shop_today_for_112_pounds() -> None:
    plan = order_now(needs(BLUSH, REORDER), [FAR, NEAR], OFFERS, on=MONDAY)

    assert only(plan) == ("near shop", MONDAY, date(2026, 11, 30), 4, 112_00)
    assert (plan.proof, plan.late, plan.not_sold) == ("cheapest", (), ())
    assert round(plan.surplus[0].surplus_mg / 1_000) == 4_000 - 3_916


def test_side_by_side_the_far_mill_is_cheaper_by_two_pounds_and_two_days_late() -> None:
    near, far = side_by_side(needs(BLUSH, REORDER), [FAR, NEAR], OFFERS, on=MONDAY)

    assert only(near.plan) == ("near shop", MONDAY, date(2026, 11, 30), 4, 112_00)
    assert only(far.plan) == ("far mill", MONDAY, date(2026, 12, 9), 5, 110_00)
    assert (near.order_by, near.late_working_days) == (date(2026, 11, 30), 0)
    assert (far.order_by, far.late_working_days) == (date(2026, 11, 19), 2)
    assert far.arrives_on == date(2026, 12, 9)
    assert [late.earliest for late in far.plan.late] == [date(2026, 12, 9)]
    assert round(far.plan.surplus[0].surplus_mg / 1_000) == 5_000 - 3_916


def test_with_the_group_dyed_from_w_88_it_is_five_kilos_for_140_pounds() -> None:
    short = needs(BLUSH, GROUP, REORDER)
    plan = order_now(short, [FAR, NEAR], OFFERS, on=MONDAY)

    assert [round(need.bought_mg(LOSS) / 1_000) for need in short] == [4_168]
    assert only(plan) == ("near shop", MONDAY, date(2026, 11, 30), 5, 140_00)


@pytest.mark.parametrize(
    ("on", "supplier", "minor"),
    [(date(2026, 11, 19), "far mill", 110_00), (date(2026, 11, 20), "near shop", 112_00)],
)
def test_up_to_its_order_by_day_the_far_mill_would_have_been_the_choice(
    on: date, supplier: str, minor: int
) -> None:
    plan = order_now(needs(BLUSH, REORDER), [FAR, NEAR], OFFERS, on=on)

    assert only(plan)[0] == supplier
    assert plan.cost_minor == minor
