"""Heat, sharing over pots and money: the worked week's minutes and pounds, and properties."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science.catalogue import figure
from inventory.science.figures import Figure, Figures
from inventory.science.heating import (
    Load,
    OutOfRange,
    Pot,
    heat_kwh,
    heat_up_minutes,
    litres_for,
    mix_c,
    needs_two_people,
    power_kwh,
    run_cost,
    shared_out,
    split_evenly,
    working_litres,
)

MONDAY = date(2026, 11, 23)
WATER_KJ = Fraction(figure(Figures(), "water", "heat_kj_per_kg_k", on=MONDAY).value)
P1, P2, P3 = Pot("P1", Fraction(48)), Pot("P2", Fraction(32)), Pot("P3", Fraction(16))


def minutes(litres: str, start_c: int, goal_c: int, kw: str) -> Fraction:
    return heat_up_minutes(
        Fraction(litres),
        start_c=Fraction(start_c),
        goal_c=Fraction(goal_c),
        ring_kw=Fraction(kw),
        efficiency=Fraction("0.7"),
        heat_kj=WATER_KJ,
    )


# --- minutes ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("litres", "start_c", "goal_c", "kw", "expected_min"),
    [
        # JOB 13.6, heat-up line: R1 3.5 kW, 8 °C, 0.7.
        ("36", 8, 55, "3.5", 48),
        ("36", 8, 82, "3.5", 76),
        ("40", 8, 80, "3.5", 82),
        # The ring times of the same table, holds taken off.
        ("24", 8, 55, "3.0", 37),
        ("24", 8, 82, "3.0", 59),
        ("36", 49, 80, "3.5", 32),
        ("24", 49, 80, "3.0", 25),
        ("12", 8, 80, "3.0", 29),
        ("12", 70, 80, "3.0", 4),
        ("18", 8, 90, "3.0", 49),
        ("18", 50, 82, "3.0", 19),
        ("7.2", 8, 95, "3.5", 18),
    ],
)
def test_heat_up_minutes_of_the_worked_week(
    litres: str, start_c: int, goal_c: int, kw: str, expected_min: int
) -> None:
    assert round(minutes(litres, start_c, goal_c, kw)) == expected_min


@pytest.mark.parametrize(("litres", "expected_min"), [(10, 47), (20, 93)])
def test_heat_up_minutes_of_a_small_hob(litres: int, expected_min: int) -> None:
    # From memory, computed: 15 to 95 °C, 2.0 kW at 60 %, water at 4.19 kJ/(kg K).
    found = heat_up_minutes(
        Fraction(litres),
        start_c=Fraction(15),
        goal_c=Fraction(95),
        ring_kw=Fraction(2),
        efficiency=Fraction("0.6"),
        heat_kj=Fraction("4.19"),
    )

    assert round(found) == expected_min


def test_heat_up_minutes_have_the_dimension_of_time() -> None:
    unit = pint.UnitRegistry()
    heat = 36 * unit.kg * 4.186 * unit.kJ / unit.kg / unit.delta_degC * 47 * unit.delta_degC
    expected = (heat / (3.5 * unit.kW * 0.7)).to(unit.minute).magnitude

    assert float(minutes("36", 8, 55, "3.5")) == pytest.approx(expected)


def test_a_pot_already_at_heat_takes_no_time() -> None:
    assert minutes("36", 80, 80, "3.5") == 0
    assert minutes("36", 90, 80, "3.5") == 0
    assert minutes("36", 79, 80, "3.5") > 0


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"ring_kw": Fraction(0)}, "ring_kw is 0.0; it must be above 0."),
        ({"efficiency": Fraction(0)}, "efficiency is 0.0; it must be above 0, at most 1."),
        ({"efficiency": Fraction("1.01")}, "efficiency is 1.01; it must be above 0, at most 1."),
        ({"start_c": Fraction(-1)}, "start_c is -1.0; it must be at least 0, at most 100."),
        ({"goal_c": Fraction(101)}, "goal_c is 101.0; it must be at least 0, at most 100."),
        ({"litres": Fraction(-1)}, "litres is -1.0; it must be at least 0."),
        ({"heat_kj": Fraction(0)}, "heat_kj is 0.0; it must be above 0."),
    ],
)
def test_heat_up_minutes_name_what_is_out_of_range(
    change: dict[str, Fraction], message: str
) -> None:
    good = {
        "litres": Fraction(36),
        "start_c": Fraction(8),
        "goal_c": Fraction(55),
        "ring_kw": Fraction(3),
        "efficiency": Fraction(1),
    }
    assert heat_up_minutes(**good) > 0

    with pytest.raises(OutOfRange) as caught:
        heat_up_minutes(**good | change)
    assert str(caught.value) == message


def test_blushs_mix_is_49_degrees() -> None:
    assert round(mix_c([(Fraction(40), Fraction(70)), (Fraction(20), Fraction(8))])) == 49
    with pytest.raises(OutOfRange, match=r"^litres is 0\.0; it must be above 0\.$"):
        mix_c([])


parts = st.lists(
    st.tuples(st.integers(1, 500).map(Fraction), st.integers(0, 100).map(Fraction)), min_size=1
)


@given(parts)
def test_a_mix_lies_between_its_parts_and_keeps_their_heat(
    poured: list[tuple[Fraction, Fraction]],
) -> None:
    mixed = mix_c(poured)

    assert min(c for _, c in poured) <= mixed <= max(c for _, c in poured)
    assert mixed * sum(each for each, _ in poured) == sum(each * c for each, c in poured)


# --- money -----------------------------------------------------------------------------------


def kwh(litres: int, start_c: int, goal_c: int) -> Fraction:
    return heat_kwh(
        Fraction(litres), start_c=Fraction(start_c), goal_c=Fraction(goal_c), heat_kj=WATER_KJ
    )


BLUSH_HEATS = [kwh(60, 8, 55), kwh(60, 8, 82), kwh(40, 8, 80), kwh(60, 49, 80)]


def test_blushs_power() -> None:
    # JOB 13.6: heat 4.68 + 7.38 + 4.78 + 3.09 + holds 7 × 0.8 = 25.53 kWh = £7.15.
    drawn = [round(float(heat / Fraction("0.7")), 2) for heat in BLUSH_HEATS]
    whole = power_kwh(BLUSH_HEATS, holds=7, efficiency=Fraction("0.7"), hold_kwh=Fraction("0.8"))

    assert drawn == [4.68, 7.38, 4.78, 3.09]
    assert round(float(whole), 2) == 25.53
    assert round(float(whole * Fraction("0.28")), 2) == 7.15


def test_blush_costs_148_pounds_96() -> None:
    # JOB 13.6: hands 350 min £93.33; wool 2,105 g £46.32; alum £2.16; £74.48 a kg; labour 63 %.
    cost = run_cost(
        fibre_mg=round(Fraction(2_000_000) / Fraction("0.95")),
        fibre_per_kg=Fraction(22),
        supplies=[(240_000, Fraction(9))],
        power_kwh=power_kwh(
            BLUSH_HEATS, holds=7, efficiency=Fraction("0.7"), hold_kwh=Fraction("0.8")
        ),
        power_per_kwh=Fraction("0.28"),
        hands_min=350,
        hands_per_h=Fraction(16),
    )

    money = [round(float(part), 2) for part in (cost.fibre, cost.supplies, cost.power, cost.hands)]
    assert money == [46.32, 2.16, 7.15, 93.33]
    assert round(float(cost.total), 2) == 148.96
    assert round(float(cost.per_kg(2_000_000)), 2) == 74.48
    assert round(float(cost.hands_fraction), 2) == 0.63


def test_ten_kilos_of_wool_heat_36_kwh_of_water_and_ten_hours() -> None:
    # JOB 11: 300 L, 8 to 80 °C, 70 %: 35.9 kWh, 10 h on one 3.5 kW ring.
    assert round(float(kwh(300, 8, 80) / Fraction("0.7")), 1) == 35.9
    assert round(float(minutes("300", 8, 80, "3.5") / 60)) == 10


# --- pots ------------------------------------------------------------------------------------


def test_working_litres_of_the_worked_pots() -> None:
    fill = Fraction("0.8")

    assert [working_litres(Fraction(brim), fill) for brim in (60, 40, 20, 12)] == [
        48,
        32,
        16,
        Fraction("9.6"),
    ]


def test_room_counts_the_swell_of_plant_where_the_studio_does() -> None:
    ratio = Fraction(30)

    assert litres_for(2_000_000, ratio, swell_l_per_kg=Fraction(0)) == 60
    assert litres_for(
        2_000_000, ratio, plant_mg=3_000_000, swell_l_per_kg=Fraction("0.8")
    ) == Fraction("62.4")


def test_over_15_litres_is_a_two_person_lift() -> None:
    assert not needs_two_people(Fraction(15), Figures(), on=MONDAY)
    assert needs_two_people(Fraction("15.1"), Figures(), on=MONDAY)
    strong = Figures((Figure("studio", "two_person_l", Decimal(20), own=True),))
    assert not needs_two_people(Fraction(20), strong, on=MONDAY)


def test_blush_is_shared_over_two_pots_at_one_ratio() -> None:
    loads = shared_out(2_000_000, Fraction(60), [P2, P1])  # P3 is kept for iron

    assert loads == (
        Load("P1", 1, 1_200_000, Fraction(36)),
        Load("P2", 1, 800_000, Fraction(24)),
    )


def test_oak_grey_goes_three_times_through_the_iron_pot() -> None:
    loads = shared_out(900_000, Fraction(36), [P3])

    assert [(load.round, load.weight_mg, load.litres) for load in loads] == [
        (number, 300_000, 12) for number in (1, 2, 3)
    ]


def test_old_rose_takes_two_rounds_of_one_and_a_half_kilos() -> None:
    loads = shared_out(3_000_000, Fraction(120), [P1, P2])

    assert {load.round for load in loads} == {1, 2}
    assert sum(load.weight_mg for load in loads if load.round == 1) == 1_500_000
    assert [load.litres for load in loads] == [36, 24, 36, 24]


def test_a_run_that_just_fits_takes_one_pot_and_a_drop_more_takes_two() -> None:
    assert len(shared_out(1_600_000, Fraction(48), [P1, P2])) == 1
    assert len(shared_out(1_600_001, Fraction("48.00003"), [P1, P2])) == 2


def test_the_smallest_pot_that_holds_it_is_taken() -> None:
    assert [load.pot for load in shared_out(400_000, Fraction(12), [P1, P2, P3])] == ["P3"]
    assert [load.pot for load in shared_out(400_000, Fraction(17), [P1, P2, P3])] == ["P2"]
    twins = [Pot("B", Fraction(16)), Pot("A", Fraction(16))]
    assert [load.pot for load in shared_out(400_000, Fraction(16), twins)] == ["A"]


def test_many_pots_are_shared_in_bounded_time() -> None:
    many = [Pot(f"P{n:03}", Fraction(10 + n % 3)) for n in range(200)]
    loads = shared_out(40_000_000, Fraction(1200), many)

    # 66 pots of 12 L hold 792; 408 more in 38 pots of 11 L.
    assert len(loads) == 104
    assert {load.round for load in loads} == {1}


def test_sharing_refuses_no_pot_and_endless_rounds() -> None:
    with pytest.raises(OutOfRange) as caught:
        shared_out(400_000, Fraction(12), [])
    assert str(caught.value) == "working litres is 0.0; it must be above 0."

    with pytest.raises(OutOfRange) as caught:
        shared_out(400_000, Fraction(16_001), [P3])
    assert str(caught.value) == "rounds is 1001; it must be at least 1, at most 1000."
    assert len(shared_out(400_000, Fraction(16_000), [P3])) == 1000


pot_lists = st.lists(st.integers(min_value=5, max_value=100), min_size=1, max_size=6).map(
    lambda found: [Pot(f"P{n}", Fraction(litres)) for n, litres in enumerate(found)]
)


@given(st.integers(1, 50_000_000), st.integers(10, 60), pot_lists)
def test_shares_sum_to_the_run_and_no_pot_is_overfilled(
    weight_mg: int, ratio: int, pots: list[Pot]
) -> None:
    litres = Fraction(weight_mg * ratio, 1_000_000)
    loads = shared_out(weight_mg, litres, pots)
    room = {pot.code: pot.working_l for pot in pots}
    rounds = max(load.round for load in loads)

    assert sum(load.weight_mg for load in loads) == weight_mg
    assert sum(load.litres for load in loads) == litres
    # A mg more than its share is less than a tenth of a mL.
    assert all(load.litres <= room[load.pot] + Fraction(1, 10_000) for load in loads)
    assert all(load.litres * 1_000_000 == load.weight_mg * ratio for load in loads)
    assert (rounds - 1) * sum(room.values()) < litres
    by_round = [
        sum(load.weight_mg for load in loads if load.round == number)
        for number in range(1, rounds + 1)
    ]
    assert max(by_round) - min(by_round) <= 1


@given(st.integers(1, 50_000_000), st.integers(10, 60), pot_lists)
def test_the_order_of_pots_does_not_matter(weight_mg: int, ratio: int, pots: list[Pot]) -> None:
    litres = Fraction(weight_mg * ratio, 1_000_000)

    assert shared_out(weight_mg, litres, pots) == shared_out(weight_mg, litres, pots[::-1])


@given(st.integers(0, 10**9), st.integers(1, 50))
def test_equal_parts_differ_by_a_milligram_at_most(weight_mg: int, count: int) -> None:
    found = split_evenly(weight_mg, count)

    assert sum(found) == weight_mg
    assert max(found) - min(found) <= 1
