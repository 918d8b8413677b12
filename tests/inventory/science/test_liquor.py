"""What is in a jar: the acid's bound, the model against a general solver, events, strips."""

import csv
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from inventory.science.facts import Dip, JarEvent, JarFacts
from inventory.science.figures import Figure, Figures
from inventory.science.liquor import (
    Liquor,
    acid_as_begun,
    liquor_at,
    metal_g_per_mol,
    pace_of,
    reaches_at,
    strength_at,
    strongest_possible,
)

MONDAY = date(2026, 11, 23)
BEGUN = datetime(2026, 11, 3, 9, tzinfo=UTC)
CASES = Path(__file__).parent / "cases"
NONE = Figures()


def rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((CASES / name).read_text("utf-8").splitlines()))


def jar(metal: str = "iron", parts: tuple[int, int] | None = None, **more: object) -> JarFacts:
    vinegar, water = parts or {"iron": (1, 2), "copper": (1, 1)}.get(metal, (1, 2))
    return replace(
        JarFacts(
            code="J1",
            name="Iron 7",
            metal=metal,
            vinegar_parts=Fraction(vinegar),
            water_parts=Fraction(water),
            acid_percent=Decimal(5),
            begun_at=BEGUN,
            begun_volume_ul=3_000_000,
            left_ul=3_000_000,
            temperature_c=20,
        ),
        **more,  # type: ignore[arg-type]
    )


def after(days: float, one: JarFacts, figures: Figures = NONE) -> Liquor:
    found = liquor_at(one, figures, at=BEGUN + timedelta(days=days))
    assert found is not None
    return found


# --- the bound -------------------------------------------------------------------------------


def test_iron_at_one_to_two_holds_at_most_the_worked_figures() -> None:
    # JOB 9 (11), 12 (34): 0.139 mol/L; 38.6 g/L; 115.7 g and 10.0 L of gas in 3.0 L.
    most = strongest_possible(jar(), NONE, on=MONDAY)

    assert round(float(most.metal_mol_per_l), 3) == 0.139
    assert round(float(most.sulphate_g_per_l), 1) == 38.6
    assert round(float(most.sulphate_g), 1) == 115.7
    assert round(float(most.gas_l), 1) == 10.0
    assert most.limited_by == "acid"


def test_copper_at_one_to_one_holds_at_most_52_g_and_gives_no_gas() -> None:
    most = strongest_possible(jar("copper"), NONE, on=MONDAY)

    assert round(float(most.sulphate_g_per_l), 1) == 52.0
    assert most.gas_l == 0


@pytest.mark.parametrize("row", rows("liquor_acid_limit.csv"), ids=lambda row: row["id"])
def test_bound_agrees_with_stoichiometry(row: dict[str, str]) -> None:
    # Masses from periodictable (CIAAW); see the file's column `source`.
    dilution = row["dilution_vinegar_to_water"]
    vinegar, water = (1, 0) if dilution == "undiluted" else map(int, dilution.split(":"))
    acid_percent = Decimal(row["vinegar_percent_w_v"])
    iron = jar("iron", (vinegar, water), acid_percent=acid_percent)
    copper = jar("copper", (vinegar, water), acid_percent=acid_percent)

    assert float(acid_as_begun(iron, NONE, on=MONDAY)) == pytest.approx(
        float(row["acid_mol_per_L"]), rel=5e-4
    )
    iron_most = strongest_possible(iron, NONE, on=MONDAY)
    fe_g_per_l = iron_most.metal_mol_per_l * metal_g_per_mol("iron", NONE, on=MONDAY)
    assert float(fe_g_per_l) == pytest.approx(float(row["max_Fe_g_per_L"]), rel=5e-4)
    copper_most = strongest_possible(copper, NONE, on=MONDAY)
    cu_g_per_l = copper_most.metal_mol_per_l * metal_g_per_mol("copper", NONE, on=MONDAY)
    if row["copper_acetate_limit"].startswith("below"):
        assert copper_most.limited_by == "acid"
        assert float(cu_g_per_l) == pytest.approx(float(row["max_Cu_g_per_L"]), rel=5e-4)
    else:
        assert copper_most.limited_by == "solubility"
        assert cu_g_per_l < Decimal(row["max_Cu_g_per_L"])


@pytest.mark.parametrize("row", rows("limiting_metal.csv"), ids=lambda row: row["id"])
def test_bound_by_the_metal_put_in(row: dict[str, str]) -> None:
    # 2 mol acetic acid per mol metal; masses by periodictable.
    metal = {"Fe": "iron", "Cu": "copper"}[row["metal"]]
    volume_ul = int(row["vinegar_mL"]) * 1000
    one = jar(
        metal,
        (1, 0),
        acid_percent=Decimal(row["vinegar_percent_w_v"]),
        begun_volume_ul=volume_ul,
        metal_put_in_mg=int(Decimal(row["metal_g"]) * 1000),
    )
    most = strongest_possible(one, NONE, on=MONDAY)
    dissolved_mol = most.metal_mol_per_l * volume_ul / 1_000_000

    assert most.limited_by == row["limiting"]
    assert float(dissolved_mol) == pytest.approx(float(row["max_mol_dissolved"]), rel=5e-4)


def test_copper_stops_at_what_dissolves() -> None:
    strong = jar("copper", (1, 0), acid_percent=Decimal(10))
    # 72 g/L of 199.649 g/mol, Wikipedia citing handbook values.
    assert after(60, strong).metal_mol_per_l == pytest.approx(72 / 199.649)
    assert after(60, strong).acid_left_mol_per_l > 0.9


# --- the model -------------------------------------------------------------------------------


def test_iron_at_20_c_meets_the_trades_window() -> None:
    # DESIGN 5, common practice: usable from day 7 (a strip reads 3: 0.90 / 1.3 of the bound),
    # full at day 14 (a strip reads 4: 0.90 of it).
    assert after(0, jar()).fraction == 0
    assert after(7, jar()).fraction == pytest.approx(0.69)
    assert after(14, jar()).fraction == pytest.approx(1 - 0.31**2)
    assert after(14, jar()).fraction >= 0.90
    assert after(13, jar()).fraction < 0.90


def test_copper_at_20_c_meets_one_to_two_days() -> None:
    assert after(1, jar("copper")).fraction == pytest.approx(0.80)
    assert after(2, jar("copper")).fraction == pytest.approx(0.96)


def test_a_cold_shed_is_slower_by_q10() -> None:
    cold, mild = jar(temperature_c=8), jar(temperature_c=20)

    # 12 degrees colder at Q10 = 2: 2 ** 1.2 = 2.2974 times as long.
    assert after(7 * 2**1.2, cold).fraction == pytest.approx(after(7, mild).fraction)
    assert after(7, cold).fraction < 0.5


def test_a_jar_without_warmth_stands_in_the_shed() -> None:
    shed = Figures((Figure("studio", "shed_c", Decimal(8), own=True),))

    assert after(7, jar(temperature_c=None), shed) == after(7, jar(temperature_c=8), shed)


def test_warming_a_jar_speeds_it_from_that_moment() -> None:
    moved = jar(
        temperature_c=8,
        events=(JarEvent(BEGUN + timedelta(days=3), "kept at", temperature_c=20),),
    )

    assert after(3, moved) == replace(after(3, jar(temperature_c=8)), rests_on="model")
    assert after(7, jar(temperature_c=8)).fraction < after(7, moved).fraction
    assert after(7, moved).fraction < after(7, jar(temperature_c=20)).fraction


def test_drawing_changes_volume_and_no_strength() -> None:
    drawn = jar(events=(JarEvent(BEGUN + timedelta(days=7), "drawn", volume_ul=1_000_000),))

    assert after(9, drawn).metal_mol_per_l == after(9, jar()).metal_mol_per_l
    assert after(9, drawn).volume_l == 2
    assert after(9, drawn).gas_at_most_l < after(9, jar()).gas_at_most_l


def test_drawing_from_a_jar_short_of_metal_makes_what_is_left_stronger() -> None:
    drawn = JarEvent(BEGUN + timedelta(days=1), "drawn", volume_ul=2_000_000)
    short, shorter = jar(metal_put_in_mg=5_000), jar(metal_put_in_mg=5_000, events=(drawn,))

    # The scrap stays in the jar: more of it for each litre left.
    assert after(60, shorter).metal_mol_per_l > 1.5 * after(60, short).metal_mol_per_l


def test_topping_up_with_water_thins_and_keeps_the_metal() -> None:
    strained = JarEvent(BEGUN + timedelta(days=14), "strained")
    water = JarEvent(BEGUN + timedelta(days=15), "topped up", volume_ul=1_000_000)
    before = after(14, jar(events=(strained,)))
    thin = after(20, jar(events=(strained, water)))

    assert thin.metal_mol_per_l == pytest.approx(before.metal_mol_per_l * 3 / 4)
    assert thin.most_mol_per_l == before.most_mol_per_l * 3 / 4
    assert thin.volume_l == 4


def test_topping_up_in_the_same_parts_keeps_the_bound_and_feeds_the_iron() -> None:
    same = JarEvent(
        BEGUN + timedelta(days=14),
        "topped up",
        volume_ul=1_000_000,
        vinegar_parts=Fraction(1, 3),
        acid_percent=Decimal(5),
    )
    fed = jar(events=(same,))

    assert after(15, fed).most_mol_per_l == after(15, jar()).most_mol_per_l
    assert after(14, fed).metal_mol_per_l == pytest.approx(after(14, jar()).metal_mol_per_l * 0.75)
    assert after(60, fed).fraction > 0.99


def test_straining_ends_the_working() -> None:
    strained = jar(events=(JarEvent(BEGUN + timedelta(days=7), "strained"),))

    assert after(100, strained).metal_mol_per_l == after(7, jar()).metal_mol_per_l
    assert after(100, strained).gas_l == after(100, strained).gas_at_most_l


def test_evaporation_thickens() -> None:
    lost = JarEvent(BEGUN + timedelta(days=14), "evaporated", volume_ul=600_000)
    strained = JarEvent(BEGUN + timedelta(days=13), "strained")
    thick = after(14, jar(events=(strained, lost)))

    assert thick.metal_mol_per_l == pytest.approx(after(13, jar()).metal_mol_per_l * 3 / 2.4)
    assert thick.most_mol_per_l == after(13, jar()).most_mol_per_l * Fraction(3000, 2400)


def test_evaporated_copper_falls_out_at_what_dissolves() -> None:
    lost = JarEvent(BEGUN + timedelta(days=14), "evaporated", volume_ul=2_400_000)
    thick = after(14, jar("copper", events=(lost,)))

    assert thick.metal_mol_per_l == pytest.approx(72 / 199.649)


def test_gas_of_iron_follows_the_metal_dissolved() -> None:
    seven = after(7, jar())

    assert seven.gas_l == pytest.approx(seven.metal_mol_per_l * 3 * 24.0)
    assert round(seven.gas_at_most_l, 1) == 10.0
    assert after(7, jar("copper")).gas_at_most_l == 0


def test_little_metal_bounds_the_jar() -> None:
    few = jar(metal_put_in_mg=5_000)

    # 5 g of iron in 3 L: 0.0298 mol/L, all of it dissolved after some weeks.
    assert after(60, few).metal_mol_per_l == pytest.approx(5 / 55.845 / 3)
    assert after(60, few).fraction == pytest.approx(1)


# --- strips and readings ---------------------------------------------------------------------


def test_a_strip_resets_the_estimate_and_not_history() -> None:
    dip = Dip(BEGUN + timedelta(days=10), grade=3)
    dipped = jar(dips=(dip,))

    # Strip 4 stands for 0.90 of the bound of 5 % at one to two; strip 3 for 1 / 1.3 of that.
    assert after(10, dipped).fraction == pytest.approx(0.90 / 1.3)
    assert after(9.99, dipped) == after(9.99, jar())
    assert after(10, dipped).rests_on == "strip 3 on 2026-11-13"
    assert after(9, dipped).rests_on == "model"


def test_a_strip_never_lifts_the_estimate_above_the_acid() -> None:
    weak = jar(parts=(1, 5), dips=(Dip(BEGUN + timedelta(days=10), grade=5),))
    found = after(10, weak)

    assert found.metal_mol_per_l == float(found.most_mol_per_l)
    assert found.fraction == 1


def test_a_reading_in_mg_per_litre_is_taken_as_read() -> None:
    dip = Dip(BEGUN + timedelta(days=10), metal_mg_per_l=5_584.5)
    found = after(10, jar(dips=(dip,)))

    assert found.metal_mol_per_l == pytest.approx(0.1)
    assert found.low_mol_per_l == pytest.approx(0.075)
    assert found.high_mol_per_l == pytest.approx(0.125)
    assert found.rests_on == "reading on 2026-11-13"


def test_a_jar_without_a_date_begins_at_its_first_strip() -> None:
    dip = Dip(BEGUN, grade=4)
    strained = jar(
        begun_at=None, dips=(dip,), events=(JarEvent(BEGUN - timedelta(days=1), "strained"),)
    )

    assert after(30, strained).fraction == pytest.approx(0.90)
    assert liquor_at(jar(begun_at=None), NONE, at=BEGUN) is None


def test_a_jar_of_unknown_make_has_no_strength() -> None:
    unknown = (jar(metal=""), jar(parts=(0, 0)), jar(acid_percent=Decimal(0)))

    assert [liquor_at(one, NONE, at=BEGUN) for one in unknown] == [None, None, None]


def test_the_moment_of_reaching_a_fraction_is_where_the_model_has_it() -> None:
    for one in (jar(), jar(temperature_c=8), jar("copper")):
        moment = reaches_at(one, NONE, fraction=0.5, at=BEGUN)
        assert moment is not None
        found = liquor_at(one, NONE, at=moment)
        assert found is not None
        assert found.fraction == pytest.approx(0.5)


def test_a_jar_strained_too_soon_never_reaches_its_fraction() -> None:
    strained = jar(events=(JarEvent(BEGUN + timedelta(days=2), "strained"),))
    late = BEGUN + timedelta(days=30)

    assert reaches_at(strained, NONE, fraction=0.5, at=late) is None
    assert reaches_at(strained, NONE, fraction=0.2, at=late) is not None
    # Asked on the first day, the straining has not happened.
    assert reaches_at(strained, NONE, fraction=0.5, at=BEGUN) is not None


# --- properties ------------------------------------------------------------------------------

events = st.lists(
    st.builds(
        lambda hours, kind, volume_ul, percent, c: JarEvent(
            BEGUN + timedelta(hours=hours),
            kind,
            volume_ul=volume_ul,
            vinegar_parts=Fraction(1, 2),
            acid_percent=Decimal(percent),
            temperature_c=c,
        ),
        hours=st.integers(min_value=0, max_value=900),
        kind=st.sampled_from(["topped up", "drawn", "evaporated", "strained", "kept at"]),
        volume_ul=st.integers(min_value=0, max_value=900_000),
        percent=st.integers(min_value=0, max_value=10),
        c=st.integers(min_value=-5, max_value=35),
    ),
    max_size=6,
).map(lambda found: tuple(sorted(found, key=lambda event: event.at)))
metals = st.sampled_from(["iron", "copper"])
put_in = st.one_of(st.none(), st.integers(min_value=1, max_value=60_000))


@given(metals, events, put_in, st.integers(min_value=0, max_value=2000))
def test_a_jar_never_holds_more_than_its_bound(
    metal: str, happened: tuple[JarEvent, ...], metal_mg: int | None, hours: int
) -> None:
    one = jar(metal, events=happened, metal_put_in_mg=metal_mg)
    found = after(hours / 24, one)

    assert 0 <= found.low_mol_per_l <= found.metal_mol_per_l <= found.high_mol_per_l
    acid = 2 * found.metal_mol_per_l + found.acid_left_mol_per_l
    assert found.metal_mol_per_l <= acid / 2 + 1e-12
    assert 0 <= found.fraction <= 1
    assert found.gas_l <= found.gas_at_most_l + 1e-9


@given(metals, events, st.integers(min_value=0, max_value=900), st.integers(1, 900))
def test_looking_at_a_jar_on_the_way_changes_nothing(
    metal: str, happened: tuple[JarEvent, ...], first_h: int, more_h: int
) -> None:
    # The solution is closed between events: an empty draw in between must not move it.
    look = JarEvent(BEGUN + timedelta(hours=first_h), "drawn")
    seen = after((first_h + more_h) / 24, jar(metal, events=(*happened, look)))
    unseen = after((first_h + more_h) / 24, jar(metal, events=happened))

    assert seen.metal_mol_per_l == pytest.approx(unseen.metal_mol_per_l, abs=1e-12)


@given(events, st.integers(min_value=0, max_value=900))
def test_more_time_without_events_never_weakens_a_jar(
    happened: tuple[JarEvent, ...], more_h: int
) -> None:
    soon, late = after(40, jar(events=happened)), after(40 + more_h / 24, jar(events=happened))

    assert late.metal_mol_per_l >= soon.metal_mol_per_l


def test_the_closed_solution_agrees_with_a_general_solver() -> None:
    steps = (
        JarEvent(BEGUN + timedelta(days=4), "kept at", temperature_c=20),
        JarEvent(
            BEGUN + timedelta(days=7),
            "topped up",
            volume_ul=500_000,
            vinegar_parts=Fraction(1, 2),
            acid_percent=Decimal(5),
        ),
        JarEvent(BEGUN + timedelta(days=9), "drawn", volume_ul=1_200_000),
    )
    one = jar(temperature_c=8, events=steps)
    pace = pace_of(one, NONE, on=MONDAY)

    # Moles of free acid and of metal, integrated by scipy between the events.
    def stretch(amounts: list[float], days: float, c: float) -> list[float]:
        k = pace.at(c)

        def slopes(_t: float, y: "np.ndarray[tuple[int], np.dtype[np.float64]]") -> list[float]:
            return [-k * y[0], k * y[0] / 2]

        solved = solve_ivp(slopes, (0, days), amounts, rtol=1e-11, atol=1e-13)
        return [float(row[-1]) for row in solved.y]

    amounts = [float(acid_as_begun(one, NONE, on=MONDAY)) * 3, 0.0]
    amounts = stretch(amounts, 4, 8)
    amounts = stretch(amounts, 3, 20)
    amounts[0] += 0.5 * 0.5 * 50 / 60.052
    amounts = stretch(amounts, 2, 20)
    amounts = [amount * 2.3 / 3.5 for amount in amounts]
    amounts = stretch(amounts, 6, 20)

    found = after(15, one)
    assert found.metal_mol_per_l == pytest.approx(amounts[1] / 2.3, rel=1e-8)
    assert found.acid_left_mol_per_l == pytest.approx(amounts[0] / 2.3, rel=1e-8)


def test_acid_of_a_jar_agrees_with_printed_molarities() -> None:
    # OpenStax, Chemistry 2e, section Molarity: 25.2 g in 0.500 L is 0.839 M; 5 % w/v is 0.832612.
    def neat(percent: str) -> float:
        return float(
            acid_as_begun(jar(parts=(1, 0), acid_percent=Decimal(percent)), NONE, on=MONDAY)
        )

    assert neat("5.04") == pytest.approx(0.839, abs=5e-4)
    assert neat("5") == pytest.approx(0.832612, abs=1e-4)


def test_a_jar_of_unknown_make_never_reaches_a_fraction() -> None:
    assert reaches_at(jar(parts=(0, 0)), NONE, fraction=0.5, at=BEGUN) is None
    assert strength_at(jar(parts=(0, 0)), NONE, at=BEGUN) is None
    assert strength_at(jar(), NONE, at=BEGUN + timedelta(days=7)) == after(7, jar()).metal_mol_per_l


@given(events)
def test_likely_strength_is_the_same_alone_and_with_its_range(
    happened: tuple[JarEvent, ...],
) -> None:
    at = BEGUN + timedelta(days=40)
    one = jar(events=happened)
    whole = liquor_at(one, NONE, at=at)

    assert whole is not None
    if whole.volume_l:
        assert strength_at(one, NONE, at=at) == pytest.approx(whole.metal_mol_per_l, rel=1e-12)


def test_draws_move_neither_the_strength_nor_its_range() -> None:
    drawn = jar(events=tuple(JarEvent(BEGUN + timedelta(days=n), "drawn", 9_000) for n in range(6)))

    found, whole = after(9, drawn), after(9, jar())

    for name in ("low_mol_per_l", "metal_mol_per_l", "high_mol_per_l"):
        assert getattr(found, name) == pytest.approx(getattr(whole, name), rel=1e-9)
    assert found.volume_l == whole.volume_l - Fraction(54, 1000)
