"""Fibre orders in words: what to buy, suppliers side by side, the cheapest and how sure it is.

Run G of the demo studio as the project's design papers give it (13.6, 13.7), and borders beside it.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from api.web.orders.cheapest import cheapest_shown, gap_said
from api.web.orders.to_buy import to_buy_shown
from sourcing.ordering.answer import OrderPlan, Proof
from sourcing.ordering.facts import Need, Offer, Stuff, Supplier, Tier
from sourcing.ordering.shopping import ToBuy, Together, to_buy, together

MONDAY = date(2026, 11, 23)
WOOL, LOSS, KG = Stuff("wool", "yarn"), Fraction(5, 100), 1_000_000
FAR = Supplier("far mill", 12, "GB", "ENG")
NEAR = Supplier("near shop", 5, "GB", "ENG")
OFFERS = (
    Offer("far mill", WOOL, KG, (Tier(0, 2_200),), 5 * KG, LOSS),
    Offer("near shop", WOOL, KG, (Tier(0, 2_800),), scour_loss=LOSS),
)
NEED = Need(WOOL, date(2026, 12, 7), Fraction(3_720_000), ("G",))


def bought(*needs: Need, on: date = MONDAY) -> ToBuy:
    return to_buy(WOOL, needs or (NEED,), (FAR, NEAR), OFFERS, on=on)


def test_the_reorder_is_told_as_a_dyer_would_say_it() -> None:
    (row,) = to_buy_shown([bought()], on=MONDAY, currency="GBP")

    assert (row.name, row.amount, row.bought) == ("wool yarn", "3,720 g", "3,916 g")
    assert (row.word, row.tone) == ("order by Mon 30 Nov", "wait")
    assert row.advice == (
        "Order today from near shop: 4 kg for £112, there on Mon 30 Nov. "
        "The last day to order there is Mon 30 Nov.",
        "For far mill the order-by day was Thu 19 Nov, 2 working days ago.",
    )
    assert [(each.amount, each.by, each.runs) for each in row.needs] == [
        ("3,720 g", "Mon 7 Dec", "run G")
    ]


def test_two_suppliers_stand_side_by_side_with_arrival_cost_surplus_and_how_late() -> None:
    (row,) = to_buy_shown([bought()], on=MONDAY, currency="GBP")
    near, far = row.quotes

    assert (near.supplier, near.packs, near.arrives, near.cost, near.over) == (
        "near shop", "4 × 1 kg", "Mon 30 Nov", "£112", "84 g"
    )  # fmt: skip
    assert (far.supplier, far.packs, far.arrives, far.cost, far.over) == (
        "far mill", "5 × 1 kg", "Wed 9 Dec", "£110", "1,084 g"
    )  # fmt: skip
    assert (near.word, near.order_by) == ("in time", "Mon 30 Nov")
    assert (far.word, far.order_by) == ("late by 2 working days", "was Thu 19 Nov")


def test_on_the_order_by_day_itself_it_is_the_last_day_and_the_day_after_it_is_late() -> None:
    last, after = (
        to_buy_shown([bought(on=day)], on=day, currency="GBP")[0]
        for day in (date(2026, 11, 30), date(2026, 12, 1))
    )

    assert (last.word, last.tone) == ("order today, the last day", "see")
    assert last.advice[0].endswith("The last day to order there is today.")
    assert (after.word, after.tone) == ("too late for all", "no")
    assert after.advice[0] == (
        "Order today from near shop: 4 kg for £112, there on Tue 8 Dec, 1 day after it is needed; "
        "the order-by day was Mon 30 Nov, 1 working day ago."
    )


def test_a_fibre_that_nobody_sells_says_what_to_do() -> None:
    row = to_buy(WOOL, [NEED], [FAR], [], on=MONDAY)

    (shown,) = to_buy_shown([row], on=MONDAY, currency="GBP")

    assert (shown.word, shown.tone, shown.quotes) == ("nobody brings it", "no", ())
    assert "Write a supplier and an offer" in shown.advice[0]


def test_carriage_stands_beside_the_cost_that_it_is_part_of() -> None:
    paid = replace(NEAR, carriage_minor=650)

    row = to_buy(WOOL, [NEED], [paid], OFFERS, on=MONDAY)
    (quote,) = to_buy_shown([row], on=MONDAY, currency="GBP")[0].quotes

    assert (quote.cost, quote.carriage) == ("£118.50", "£6.50 of it carriage")


def test_a_need_of_many_runs_names_the_first_and_counts_the_rest() -> None:
    many = replace(NEED, runs=tuple(f"R{n}" for n in range(1, 12)))

    (row,) = to_buy_shown([bought(many)], on=MONDAY, currency="GBP")

    assert row.needs[0].runs == "runs R1, R2, R3, R4, R5, R6, R7, R8 and 3 more"


def found(proof: Proof = "cheapest", bound: float | None = None) -> OrderPlan:
    plan = together([NEED], (FAR, NEAR), OFFERS, on=MONDAY).plan
    assert plan is not None
    return replace(plan, proof=proof, bound_minor=plan.bound_minor if bound is None else bound)


def test_the_cheapest_of_all_says_that_nothing_cheaper_exists() -> None:
    shown = cheapest_shown(Together(found()), on=MONDAY, currency="GBP")

    assert shown is not None
    assert (shown.word, shown.tone, shown.total) == ("the cheapest there is", "yes", "£112")
    assert (shown.said, shown.gap, shown.longer) == ("No cheaper order exists.", "", False)
    assert [(row.supplier, row.arrives, row.total) for row in shown.orders] == [
        ("near shop", "Mon 30 Nov", "£112")
    ]
    assert shown.over == ("84 g wool yarn",)


@pytest.mark.parametrize(
    ("proof", "word", "tone", "longer"),
    [
        ("within the gap", "as good as the cheapest", "yes", False),
        ("time ran out", "the best found in time", "see", True),
        ("step by step", "fibre by fibre, not searched through", "see", True),
    ],
)
def test_an_order_that_is_not_proved_is_shown_as_that(
    proof: Proof, word: str, tone: str, longer: bool
) -> None:
    shown = cheapest_shown(Together(found(proof, 11_143.9)), on=MONDAY, currency="GBP")

    assert shown is not None
    assert (shown.word, shown.tone, shown.longer) == (word, tone, longer)
    assert shown.gap == "A cheaper one could save £0.57 at most, 0.51 %."


def test_what_could_be_saved_is_never_rounded_down() -> None:
    assert gap_said(found("time ran out", 11_199.99), "GBP") == (
        "A cheaper one could save £0.01 at most, 0.01 %."
    )


def test_before_anything_bounds_it_what_could_be_saved_is_not_known() -> None:
    assert gap_said(found("step by step", 0), "GBP") == (
        "How much a cheaper one could save is not known yet."
    )


def test_what_comes_late_and_what_nobody_sells_is_named_beside_the_order() -> None:
    silk = Need(Stuff("silk", "yarn"), NEED.by, Fraction(300_000), ("D",))
    late = replace(NEED, by=MONDAY + timedelta(days=2))

    plan = together([late, silk], (FAR, NEAR), OFFERS, on=MONDAY)
    shown = cheapest_shown(plan, on=MONDAY, currency="GBP")

    assert shown is not None
    assert shown.late == (
        "3,720 g wool yarn is needed by Wed 25 Nov and comes on Mon 30 Nov at the earliest",
    )
    assert shown.not_sold == ("300 g silk yarn",)


def test_no_order_at_all_has_no_words_of_its_own() -> None:
    assert cheapest_shown(Together(None, "Why."), on=MONDAY, currency="GBP") is None
