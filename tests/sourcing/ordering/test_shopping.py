"""What has to be bought fibre by fibre: suppliers side by side, and those who cannot be asked."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from sourcing.ordering.facts import Need, Offer, Stuff, Supplier, Tier
from sourcing.ordering.shopping import stuffs_needed, to_buy, together

ON = date(2026, 11, 23)
WOOL, SILK = Stuff("wool", "yarn"), Stuff("silk", "yarn")
KG = 1_000_000
SHOP, MILL = Supplier("shop", 3), Supplier("mill", 10)


def need(kg: int, stuff: Stuff = WOOL, *, days: int = 30, run: str = "A") -> Need:
    return Need(stuff, ON + timedelta(days=days), Fraction(kg * KG), (run,))


def offer(supplier: Supplier, per_kg: int, stuff: Stuff = WOOL) -> Offer:
    return Offer(supplier.name, stuff, KG, (Tier(0, per_kg),))


def test_the_fibre_that_is_needed_first_stands_in_front() -> None:
    needs = [need(1, days=20), need(1, SILK, days=25), need(1, SILK, days=10)]

    assert stuffs_needed(needs) == (SILK, WOOL)
    assert stuffs_needed([]) == ()


def test_a_fibre_has_all_of_its_needs_by_day_and_its_suppliers_cheap_before_dear() -> None:
    needs = [need(2, days=40, run="B"), need(1), need(5, SILK)]

    row = to_buy(WOOL, needs, [SHOP, MILL], [offer(SHOP, 900), offer(MILL, 800)], on=ON)

    assert (row.by, row.scoured_mg, row.runs) == (needs[1].by, 3 * KG, ("A", "B"))
    assert [(quote.supplier, quote.plan.cost_minor) for quote in row.quotes] == [
        ("mill", 2_400),
        ("shop", 2_700),
    ]
    assert row.left_out == ()


def test_a_supplier_in_time_stands_before_a_cheaper_one_that_is_late() -> None:
    row = to_buy(WOOL, [need(1, days=9)], [MILL, SHOP], [offer(SHOP, 900), offer(MILL, 1)], on=ON)

    assert [(quote.supplier, quote.late_working_days > 0) for quote in row.quotes] == [
        ("shop", False),
        ("mill", True),
    ]


def test_where_all_are_late_the_soonest_stands_in_front() -> None:
    row = to_buy(WOOL, [need(1, days=1)], [MILL, SHOP], [offer(SHOP, 900), offer(MILL, 1)], on=ON)

    assert [quote.supplier for quote in row.quotes] == ["shop", "mill"]
    assert all(quote.plan.late for quote in row.quotes)


def test_who_cannot_be_asked_is_named_with_the_reason_and_the_others_still_answer() -> None:
    few = replace(offer(Supplier("barn", 2), 100), most_packs=2)
    unknown = Supplier("far isle", 4, country="XX")
    dear = Supplier("loft", 4, least_minor=5_000)
    stuck = replace(offer(dear, 100), most_packs=4)
    offers = [few, offer(unknown, 100), stuck, offer(SHOP, 900), offer(MILL, 100, SILK)]

    row = to_buy(WOOL, [need(3)], [Supplier("barn", 2), unknown, dear, MILL, SHOP], offers, on=ON)

    assert [quote.supplier for quote in row.quotes] == ["shop"]
    assert [left.supplier for left in row.left_out] == ["barn", "far isle", "loft"]
    assert row.left_out[0].why == "barn has too little of it."
    assert row.left_out[1].why.startswith("No public holidays are known for “XX”.")
    assert "do not come to the least value of an order" in row.left_out[2].why


def test_a_day_beyond_the_known_holidays_leaves_a_supplier_out_and_stops_nothing() -> None:
    on = date(2199, 12, 31)
    home = Supplier("home", 3, "GB", "ENG")
    needs = [Need(WOOL, on + timedelta(days=30), Fraction(KG))]
    offers = [offer(home, 100), offer(SHOP, 900)]

    row = to_buy(WOOL, needs, [home, SHOP], offers, on=on)
    found = together(needs, [home, SHOP], offers, on=on)

    assert [quote.supplier for quote in row.quotes] == ["shop"]
    assert "1970 to 2099" in row.left_out[0].why
    assert found.plan is not None
    assert [order.supplier for order in found.plan.orders] == ["shop"]
    assert [left.supplier for left in found.left_out] == ["home"]


def test_all_together_is_the_cheapest_order_or_a_sentence_why_there_is_none() -> None:
    dear = Supplier("loft", 4, least_minor=5_000)
    stuck = replace(offer(dear, 100), most_packs=4)

    found = together([need(3)], [SHOP], [offer(SHOP, 900)], on=ON)
    none = together([need(3)], [dear], [stuck], on=ON)

    assert found.plan is not None
    assert (found.plan.cost_minor, found.why) == (2_700, "")
    assert none.plan is None
    assert none.why.startswith("No order meets every need: the packs that loft can send")
