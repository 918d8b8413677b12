"""Loads: pots that may hold them, one ratio, fair shares, rounds as few as can be, true heats."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from inventory.science.facts import RingFacts, VesselFacts
from sourcing.week.checking.loads import most_together
from sourcing.week.plan import Week
from tests.sourcing.week.checking.breaking import (
    FACTS,
    in_recipe,
    kinds,
    on_shelf,
    texts,
    with_step,
)
from tests.sourcing.week.pellitory import nov


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"iron_on": date(2026, 11, 17)}, "had iron and has passed no blank swatch since"),
        ({"chipped": True}, "is chipped"),
        ({"food": True}, "is used for food"),
        ({"material": "aluminium"}, "is of aluminium"),
    ],
)
def test_bright_is_barred_from_a_pot(change: dict[str, Any], why: str) -> None:
    facts = on_shelf("vessels", "P2", **change)

    assert f"dye may not be in P2: it {why}" in texts("pot", facts)
    assert kinds(facts) == {"pot"}


def test_pot_kept_for_iron_is_no_pot_for_a_bright() -> None:
    facts = on_shelf("vessels", "P2", iron_pot=True)

    assert "dye may not be in P2: it is not a pot but an iron pot" in texts("pot", facts)


def test_bright_may_be_in_a_pot_proved_on_the_day_after_iron() -> None:
    assert kinds(on_shelf("vessels", "P2", iron_on=date(2026, 11, 16))) == set()


def test_chip_does_not_bar_a_dull_shade() -> None:
    assert kinds(on_shelf("vessels", "P3", chipped=True)) == set()


def test_iron_is_only_in_a_pot_kept_for_it() -> None:
    facts = on_shelf("vessels", "P3", iron_pot=False)

    assert kinds(facts) == {"pot"}


def test_soft_metal_is_allowed_where_the_step_names_it() -> None:
    facts = on_shelf("vessels", "B2", material="copper")

    assert kinds(facts) == {"pot"}
    named = in_recipe("slate", "cold alum", facts, vessels=("copper bucket",))
    assert texts("pot", named) == ["soak may not be in B2: it is of copper"]


def test_pot_is_not_filled_above_its_working_litres() -> None:
    assert kinds(on_shelf("vessels", "P3", working_ml=12_000)) == set()
    assert kinds(on_shelf("vessels", "P3", working_ml=11_999)) == {"litres"}


def test_ring_takes_the_pot() -> None:
    facts = on_shelf("rings", "R2", not_for=("P1", "P3"))

    assert texts("ring", facts) == ["R2 does not take P3"]
    assert kinds(facts) == {"ring"}


def test_unheated_step_stands_on_no_ring() -> None:
    assert kinds(week=with_step("D", "iron", ring="R1")) == {"ring"}


def test_heating_takes_its_minutes() -> None:
    """36 L from 8 to 55 °C on 3.5 kW at 0.7: 36 x 4.186 x 47 / (2.45 x 60) = 48.2 min."""
    week = with_step("A", "scour", heat_min=47)

    assert texts("heat", week=week) == ["scour: 36 L on R1 come up in 48 min, not 47"]
    assert kinds(week=week) == {"heat"}


def test_weaker_ring_takes_longer() -> None:
    assert kinds(on_shelf("rings", "R1", watts=3400)) == {"heat"}


def test_hold_is_the_recipes() -> None:
    assert kinds(week=with_step("A", "scour", hold_min=59)) == {"hold"}


def test_after_bath_is_not_cut_short() -> None:
    assert kinds(in_recipe("oak-grey", "iron", stand_min=91)) == {"too short"}


def test_every_load_has_the_recipes_ratio() -> None:
    week = with_step("D", "iron", litres=Decimal("11.9"))

    assert texts("ratio", week=week) == ["iron: 11.9 L for 400.0 g, 12 L wanted"]
    assert kinds(week=week) == {"ratio"}


def test_shares_follow_the_pots_working_litres() -> None:
    half = {"litres": Decimal(30), "weight_mg": 1_000_000}
    week = with_step("A", "dye", **half, heat_min=26, end=nov(24, 13, 41))
    week = with_step("A", "dye", week, load=2, **half, heat_min=31, end=nov(24, 13, 46))

    assert kinds(week=week) == {"shares"}


def test_loads_make_the_run() -> None:
    lighter = with_step("D", "iron", litres=Decimal("11.97"), weight_mg=399_000)

    assert texts("weight", week=lighter) == ["loads of iron make 399.0 g, the run is 400.0 g"]
    assert kinds(week=lighter) == {"weight"}


def _iron_loads(*grams: int) -> Week:
    week = with_step("E", "iron")
    for number, weight in enumerate(grams, start=1):
        litres = Decimal(weight) * 40 / 1000
        week = with_step("E", "iron", week, load=number, weight_mg=weight * 1000, litres=litres)
    return week


def test_rounds_are_equal() -> None:
    assert kinds(week=_iron_loads(300, 300, 300)) == set()
    assert kinds(week=_iron_loads(200, 400, 300)) == {"rounds"}


def test_rounds_are_as_few_as_the_pots_allow() -> None:
    second = VesselFacts("P5", "pot", "stainless", 20_000, 16_000, iron_pot=True)
    shelf = replace(FACTS.shelf, vessels=(*FACTS.shelf.vessels, second))

    assert texts("fewest rounds", replace(FACTS, shelf=shelf)) == [
        "iron is worked in 3 rounds, 2 would do"
    ]


def test_extract_of_one_lot_is_in_one_pot() -> None:
    assert kinds(in_recipe("blush", "dye", one_lot=True)) == {"one vessel"}


def test_pots_that_share_their_only_ring_do_not_count_together() -> None:
    pots = (("P1", 48_000), ("P2", 32_000), ("P3", 16_000))

    assert most_together(pots, None) == 96_000
    assert most_together(pots, ((), ("P1", "P2"))) == 64_000
    assert most_together(pots, (("P2",), ("P2",))) == 64_000
    assert most_together(pots, ((), ("P1",))) == 80_000


def test_site_has_its_own_pots() -> None:
    facts = on_shelf("vessels", "P3", site="mill")
    facts = on_shelf("rings", "R2", facts, site="barn")

    assert "site" in kinds(facts)


def test_ring_of_a_second_stove_counts() -> None:
    shelf = replace(FACTS.shelf, rings=(*FACTS.shelf.rings, RingFacts("R3", 4000)))

    assert kinds(replace(FACTS, shelf=shelf)) == set()
