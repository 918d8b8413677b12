"""Cost and water of a run; the figures are those of the worked week (13.6, worked by hand)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from inventory.science.figures import Figure, Figures
from sourcing.week.costs import costs_of
from sourcing.week.plan import Job
from sourcing.week.words import money, rounded
from tests.sourcing.week.pellitory import FACTS, RULES
from tests.sourcing.week.pellitory_answers import NETTLE, blush, group_day, oak_grey, olive, slate


def own(item: str, name: str, value: str) -> Figure:
    return Figure(item, name, Decimal(value), own=True)


def test_warming_of_blush_is_summed_step_by_step() -> None:
    cost = costs_of(FACTS, blush())

    warming = [(step, str(rounded(kwh, "0.01"))) for step, kwh in cost.warming_kwh]

    # 60 L x 4.186 x 47 K / (3,600 x 0.7) = 4.68 kWh, and so on.
    assert warming == [
        ("scour", "4.68"),
        ("hot alum", "7.38"),
        ("extract", "4.78"),
        ("dye", "3.09"),
    ]
    assert cost.holds == 7
    assert rounded(cost.kwh, "0.01") == Decimal("25.53")


def test_blush_costs_what_the_hand_sum_says() -> None:
    cost = costs_of(FACTS, blush())

    parts = {part.what: money(part.money) for part in cost.parts}

    assert parts == {"heat": "7.15", "hands": "93.33", "wool": "46.32", "alum": "2.16"}
    assert money(cost.total) == "148.96"
    assert money(cost.per_kg) == "74.48"
    assert money(cost.per_kg / 10) == "7.45"
    assert rounded(cost.labour_fraction * 100, "1") == 63


def test_the_total_is_rounded_once_and_not_the_sum_of_rounded_parts() -> None:
    rules = tuple(row for row in RULES if row.name != "hands_rate_per_h")
    cheap = (own("studio", "hands_rate_per_h", "0.0016"), own("tannin", "price_per_kg", "0.045"))
    facts = replace(FACTS, figures=Figures((*rules, *cheap)))

    cost = costs_of(facts, oak_grey())

    # 147 min = 0.00392 and 90 g = 0.00405: each alone rounds to nothing.
    assert [money(part.money) for part in cost.parts] == ["0.00", "0.00", "0.00"]
    assert money(cost.total) == "0.01"


def test_water_of_blush_is_six_baths_of_sixty_litres() -> None:
    assert costs_of(FACTS, blush()).water_l == 360


def test_a_run_that_is_not_scoured_saves_the_rinse_after_it() -> None:
    # Dye 18 L and copper 18 L (the soak and the extract go on into the dye), two rinses of 18 L.
    assert costs_of(FACTS, olive()).water_l == 72


def test_the_studios_own_number_of_rinses_is_used() -> None:
    facts = replace(FACTS, figures=Figures((*RULES, own("studio", "rinses_at_end", "3"))))

    assert costs_of(facts, blush()).water_l == 420


def test_each_heating_of_a_step_counts_with_its_own_warmth() -> None:
    cost = costs_of(FACTS, slate())

    # 12 L x 4.186 x (72 + 10) K / (3,600 x 0.7): 8 to 80, then 70 to 80.
    assert cost.warming_kwh == (("dye", Fraction(12) * Fraction("4.186") * 82 / 2520),)
    assert cost.holds == 2


def test_an_unheated_run_pays_no_power() -> None:
    cost = costs_of(FACTS, oak_grey())

    assert cost.kwh == 0
    assert {part.what: money(part.money) for part in cost.parts} == {
        "heat": "0.00",
        "hands": "39.20",  # 147 min at 16 an hour
    }


def test_what_has_no_price_is_named_and_not_guessed() -> None:
    assert costs_of(FACTS, blush()).unpriced == ("avocado stones",)
    assert costs_of(FACTS, oak_grey()).unpriced == ("lyocell", "tannin", "iron")


def test_a_price_of_the_studios_own_is_counted() -> None:
    facts = replace(FACTS, figures=Figures((*RULES, own("tannin", "price_per_kg", "30"))))

    parts = {part.what: money(part.money) for part in costs_of(facts, oak_grey()).parts}

    assert parts["tannin"] == "2.70"


def test_hands_of_a_job_belong_to_the_run_that_asks_for_it() -> None:
    job = Job("freeze X", date(2026, 11, 23), "freeze X today", "A", 30, "put by", "X")

    cost = costs_of(FACTS, replace(blush(), jobs=(job,)))

    assert next(part.amount for part in cost.parts if part.what == "hands") == 380


def test_a_bath_made_for_the_run_is_paid_once() -> None:
    answer = group_day()
    made = replace(answer, steps=(NETTLE, *answer.steps))

    cost = costs_of(FACTS, made)

    # 40 min for the nettle bath, 10 min to freeze the cabbage.
    assert next(part.amount for part in cost.parts if part.what == "hands") == 50
    # 7.2 L x 4.186 x 87 K / (3,600 x 0.7) and one hold.
    assert cost.warming_kwh == (
        ("make nettle bath", Fraction("7.2") * Fraction("4.186") * 87 / 2520),
    )
    assert cost.holds == 1


def test_a_bath_without_a_starting_warmth_is_heated_from_the_studios_water() -> None:
    cold = replace(group_day(), steps=(replace(NETTLE, start_c=None),))

    assert (
        costs_of(FACTS, cold).warming_kwh[0][1] == Fraction("7.2") * Fraction("4.186") * 87 / 2520
    )


def test_a_dearer_hour_changes_hands_and_nothing_else() -> None:
    rules = tuple(row for row in RULES if row.name != "hands_rate_per_h")
    facts = replace(FACTS, figures=Figures((*rules, own("studio", "hands_rate_per_h", "24"))))

    dearer, usual = costs_of(facts, blush()), costs_of(FACTS, blush())

    assert dearer.total - usual.total == Fraction(350 * 8, 60)
