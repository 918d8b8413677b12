"""Which vessels may hold a step, in how many rounds, shared how; which steps are still needed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from inventory.science.facts import FibreFacts, RingFacts, VesselFacts
from inventory.science.figures import Figures
from sourcing.week.allowed import allowed_vessels, can_heat, refused_for
from sourcing.week.facts import RunFacts, Step
from sourcing.week.house import house_on
from sourcing.week.stages import (
    Option,
    Room,
    Stage,
    loads_of,
    mixed_c,
    needed_steps,
    options_for,
    stages_for,
    timed,
)
from tests.sourcing.week.pellitory import BLUSH

POT = VesselFacts("P1", "pot", "stainless", 60_000, 48_000)
IRON_POT = replace(POT, iron_pot=True)
DYE = Step("dye", "dye", ("pot",))
IRON = Step("iron", "after-bath", ("iron pot",), metal="iron")
LITRES = {"P1": 48_000, "P2": 32_000, "P4": 9_600}


@pytest.mark.parametrize(
    ("vessel", "step", "bright", "why"),
    [
        (POT, DYE, True, ""),
        (replace(POT, food=True), DYE, False, "is used for food"),
        (replace(POT, material="aluminium"), DYE, False, "is aluminium"),
        (replace(POT, material="copper"), replace(DYE, vessels=("copper pot",)), True, ""),
        (replace(POT, kind="bucket"), DYE, False, "is a bucket"),
        (replace(POT, kind="bucket"), replace(DYE, vessels=("bucket",)), True, ""),
        (IRON_POT, DYE, False, "is kept for iron"),
        (POT, IRON, False, "is not an iron pot"),
        (IRON_POT, IRON, False, ""),
        (replace(POT, chipped=True), DYE, True, "is chipped"),
        (replace(POT, chipped=True), DYE, False, ""),
    ],
)
def test_a_vessel_is_refused_with_its_reason(
    vessel: VesselFacts, step: Step, bright: bool, why: str
) -> None:
    assert refused_for(vessel, step, bright=bright) == why


@pytest.mark.parametrize(
    ("passed", "why"),
    [
        (None, "had iron and has passed no blank swatch since"),
        (date(2027, 1, 8), "had iron and has passed no blank swatch since"),
        (date(2027, 1, 9), ""),
    ],
)
def test_a_bright_needs_a_blank_swatch_from_the_day_of_the_iron_on(
    passed: date | None, why: str
) -> None:
    pot = replace(POT, iron_on=date(2027, 1, 9), blank_passed_on=passed)

    assert refused_for(pot, DYE, bright=True) == why
    assert refused_for(pot, DYE, bright=False) == ""


def test_vessels_stand_by_size_then_code_and_only_those_of_the_site() -> None:
    row = [replace(POT, code="P3"), replace(POT, code="P2"), replace(POT, code="P1", site="barn"),
           replace(POT, code="P4", working_ml=9_600)]  # fmt: skip

    found = allowed_vessels(row, DYE, bright=False, site="yard")
    assert [vessel.code for vessel in found] == ["P4", "P2", "P3"]


def test_a_pot_heats_where_any_ring_takes_it() -> None:
    assert can_heat(POT, [RingFacts("R1", 1, ("P1",)), RingFacts("R2", 1)])
    assert not can_heat(POT, [RingFacts("R1", 1, ("P1",))])


def ways(litres: int, most: int = 3) -> list[tuple[int, str]]:
    found = options_for(Fraction(litres), tuple(LITRES.items()), most)
    return [(option.rounds, "+".join(option.vessels)) for option in found]


def test_one_vessel_is_preferred_and_the_smallest_that_holds_it() -> None:
    assert ways(9_600)[:2] == [(1, "P4"), (1, "P2")]
    assert ways(9_601)[0] == (1, "P2")
    assert ways(48_000)[0] == (1, "P1")


def test_a_millilitre_over_the_biggest_pot_takes_two() -> None:
    # 48,001 mL: P1 + P4 hold 57,600, P1 + P2 80,000; P2 + P4 hold too little.
    assert ways(48_001) == [(1, "P1+P4"), (1, "P1+P2")]


def test_no_pot_is_taken_that_the_others_could_do_without() -> None:
    assert all("P1" not in way or way == "P1" for _, way in ways(30_000))


def test_with_one_ring_more_than_a_potful_goes_in_equal_rounds() -> None:
    assert ways(48_001, most=1) == [(2, "P2"), (2, "P1")]
    assert ways(96_001, most=1) == [(3, "P1")]


def test_without_a_vessel_or_a_ring_there_is_no_way() -> None:
    assert options_for(Fraction(1), (), 1) == ()
    assert options_for(Fraction(1), (("P1", 48_000),), 0) == ()


def test_loads_share_by_working_litres_at_one_ratio() -> None:
    # 2,000 g in 60 L over 48 : 32: 1,200 g in 36 L and 800 g in 24 L, both 30 L/kg.
    option = Option(1, ("P1", "P2"), (48_000, 32_000))
    stage = Stage(DYE, 2_000_000, Fraction(60_000), (option,), 0, 0, (), False, 0)

    assert loads_of(stage, option) == [("P1", 1_200_000, 36_000), ("P2", 800_000, 24_000)]


def test_each_of_three_rounds_takes_a_third() -> None:
    # 900 g in 36 L through a 16 L pot: 300 g in 12 L each time.
    option = Option(3, ("P3",), (16_000,))
    stage = Stage(IRON, 900_000, Fraction(36_000), (option,), 0, 0, (), False, 0)

    assert loads_of(stage, option) == [("P3", 300_000, 12_000)]


def names(fibre: FibreFacts | None) -> list[str]:
    return [step.name for step in needed_steps(BLUSH, fibre)]


def test_unscoured_fibre_goes_through_every_step() -> None:
    assert names(FibreFacts("W", "wool", "yarn", 1, scoured=False)) == [
        "scour", "hot alum", "extract", "dye", "rinse",
    ]  # fmt: skip
    assert names(None)[0] == "scour"


def test_scoured_fibre_is_not_scoured_again() -> None:
    assert names(FibreFacts("W", "wool", "yarn", 1, scoured=True))[0] == "hot alum"


@pytest.mark.parametrize(
    ("mordant", "percent", "first"),
    [("alum", "12", "extract"), ("alum", "11.9", "hot alum"), ("iron", "12", "hot alum")],
)
def test_only_the_right_mordant_at_its_percent_spares_the_step(
    mordant: str, percent: str, first: str
) -> None:
    fibre = FibreFacts("W", "wool", "yarn", 1, True, mordant, Decimal(percent))

    assert names(fibre)[0] == first


WET_OUT = Step("wet out", "wet out", ("tub",))
LONG_WAY = replace(
    BLUSH,
    steps=(BLUSH.steps[0], Step("scour rinse", "rinse"), BLUSH.steps[1], WET_OUT, *BLUSH.steps[2:]),
)


@pytest.mark.parametrize(
    ("scoured", "mordant", "damp", "first"),
    [
        (False, "", False, ["scour", "scour rinse", "hot alum", "extract"]),
        (True, "", False, ["hot alum", "extract"]),
        (True, "alum", False, ["wet out", "extract"]),
        (True, "alum", True, ["extract"]),
    ],
)
def test_cloth_is_wetted_out_unless_it_is_wet_by_then_and_a_scour_takes_its_rinse_away(
    scoured: bool, mordant: str, damp: bool, first: list[str]
) -> None:
    fibre = FibreFacts("W", "wool", "yarn", 1, scoured, mordant, Decimal(12), damp)

    found = [step.name for step in needed_steps(LONG_WAY, fibre)]
    assert found == [*first, "dye", "rinse"]


def test_a_soak_of_the_dyestuff_does_not_wet_the_cloth() -> None:
    recipe = replace(BLUSH, steps=(Step("soak", "soak", ("tub",)), WET_OUT))

    assert needed_steps(recipe, None) == recipe.steps


def test_wetting_out_takes_the_fibres_own_time_where_the_recipe_gives_none() -> None:
    # Shipped: wool 1 to 24 h, 4 h typical; linen 2 to 12 h, 2 h.
    house = house_on(Figures(), on=date(2027, 2, 1))

    assert timed(WET_OUT, "wool", house) == replace(WET_OUT, stand_min=240, stand_max=1440)
    assert timed(WET_OUT, "linen", house) == replace(WET_OUT, stand_min=120, stand_max=720)
    told = replace(WET_OUT, stand_min=30)
    assert timed(told, "wool", house) == told
    assert timed(WET_OUT, "raffia", house) == WET_OUT
    assert timed(DYE, "wool", house) == DYE


def test_an_extract_filled_up_with_cold_water_is_as_warm_as_its_parts() -> None:
    # (40 x 70 + 20 x 8) / 60 = 49.33 -> 49 °C.
    assert mixed_c(Fraction(40), 70, Fraction(60), 8) == 49
    assert mixed_c(Fraction(60), 70, Fraction(60), 8) == 70


def test_a_third_that_does_not_come_out_even_still_fits_its_pot() -> None:
    # 2,000 g at 30:1 is 60 L, three rounds of a 20 L pot; 666,667 mg alone asks for 20.00001 L.
    pot = VesselFacts("P9", "pot", "stainless", 25_000, 20_000, blank_passed_on=date(2026, 11, 16))
    room = Room("", (pot,), (RingFacts("R1", 3500),), None)
    run = RunFacts("A", "Blush", BLUSH.code, "wool", 2_000_000)

    stages = stages_for(run, BLUSH, None, room, house_on(Figures(), on=date(2026, 11, 23)))
    dyes = [stage for stage in stages if stage.step.kind == "dye"]

    assert [stage.options[0].rounds for stage in dyes] == [1, 1, 1]
    assert [stage.weight_mg for stage in dyes] == [666_667, 666_666, 666_667]
    assert [stage.litres_ml for stage in dyes] == [20_000] * 3
