"""How much of a jar or a salt: exact where nothing changed, moved by warmth, water and strips."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

import periodictable
import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science.dosing import (
    AboveCeiling,
    Ceiling,
    UsedTooOften,
    alum_left_after_mg,
    alum_to_add_mg,
    as_other_salt,
    ash_for_crystals,
    ceiling,
    crystals_for_ash,
    dose_of,
    ml_for_percent,
    refuse_above_ceiling,
    salt_mg,
    sulphate_at_most_g_per_l,
    tip_out_content_g,
)
from inventory.science.facts import BathFacts, Dip, JarEvent, JarFacts
from inventory.science.figures import Figure, Figures
from inventory.science.liquor import strength_at

LONDON = ZoneInfo("Europe/London")
NONE = Figures()
MONDAY = date(2026, 11, 23)


def own(item: str, name: str, value: str) -> Figure:
    return Figure(item, name, Decimal(value), basis="measured here", own=True)


# The studio's own rules: JOB 13.1 and 13.7.
RULES = Figures(
    (
        own("studio", "shed_c", "8"),
        own("wool", "metal_ceiling_percent", "2"),
        own("silk", "metal_ceiling_percent", "2"),
        own("iron liquor", "usable_from_days", "7"),
        own("iron liquor", "by_clock_days", "14"),
        own("iron liquor", "strip_3_factor", "1.3"),
        own("iron liquor", "strip_5_factor", "0.8"),
        own("copper liquor", "ready_after_h", "24"),
    )
)


def nov(day: int, hour: int = 9) -> datetime:
    return datetime(2026, 11, day, hour, tzinfo=LONDON)


def jar(**more: object) -> JarFacts:
    """Iron 6: one to two, strained on 1 Nov, strip 4 on 2 Nov."""
    return replace(
        JarFacts(
            code="J2",
            name="Iron 6",
            metal="iron",
            vinegar_parts=Fraction(1),
            water_parts=Fraction(2),
            acid_percent=Decimal(5),
            begun_at=datetime(2026, 9, 30, 9, tzinfo=LONDON),
            begun_volume_ul=900_000,
            left_ul=900_000,
            temperature_c=8,
            dips=(Dip(nov(2), 4),),
            events=(JarEvent(nov(1), "strained"),),
        ),
        **more,  # type: ignore[arg-type]
    )


def copper(**more: object) -> JarFacts:
    """Copper 4: one to one, begun Sunday 22 Nov at 16:00."""
    made = jar(
        code="J4",
        name="Copper 4",
        metal="copper",
        water_parts=Fraction(1),
        begun_at=nov(22, 16),
        begun_volume_ul=1_000_000,
        left_ul=1_000_000,
        dips=(),
        events=(),
    )
    return replace(made, **more)  # type: ignore[arg-type]


def ml(one: JarFacts, asked: int = 50, at: datetime = nov(24)) -> Decimal:  # noqa: B008
    return dose_of(one, Decimal(asked), RULES, at=at, zone=LONDON).ml_per_100g


# --- the worked week -------------------------------------------------------------------------


def test_slate_takes_exactly_50_ml_per_100_g_of_iron_6() -> None:
    found = dose_of(jar(), Decimal(50), RULES, at=nov(24), zone=LONDON)

    assert found.ml_per_100g == 50
    assert found.ml_per_100g * 400_000 / 100 == 200_000  # µL for 400 g
    assert found.factor == 1
    assert found.rests_on == "strip 4 of 2 Nov 2026"


def test_oak_grey_takes_exactly_450_ml_after_slate_has_drawn() -> None:
    drawn = JarEvent(nov(24), "drawn", volume_ul=200_000)
    slate_drew = jar(events=(JarEvent(nov(1), "strained"), drawn))

    assert ml(slate_drew, at=nov(30)) * 900_000 / 100 == 450_000


def test_olive_takes_exactly_35_ml_per_100_g_of_copper_4() -> None:
    found = dose_of(copper(), Decimal(35), RULES, at=nov(27), zone=LONDON)

    assert found.ml_per_100g * 600_000 / 100 == 210_000
    assert found.rests_on == "the recipe's dose, no strip"


def test_a_jar_gives_the_recipes_dose_from_the_first_moment_it_is_ready() -> None:
    assert ml(copper(), 35, nov(23, 16)) == 35
    by_clock = jar(begun_at=nov(2, 17), dips=(), events=())
    assert ml(by_clock, 50, nov(16, 0)) == 50


def test_sixty_ml_on_silk_is_refused_and_fifty_is_not() -> None:
    # JOB 12, 14: 60 mL: 2.3 % at most, over 2.0 %; 50 mL: 1.9 %.
    with pytest.raises(AboveCeiling) as caught:
        refuse_above_ceiling(jar(), "silk", Decimal(60), RULES, on=MONDAY)

    assert str(caught.value) == (
        "Iron 6 on silk: 60 mL per 100 g asked for, which can be 2.3 % iron, over 2.0 %."
        " 51 mL per 100 g is allowed."
    )
    refuse_above_ceiling(jar(), "silk", Decimal(50), RULES, on=MONDAY)
    assert top().percent_of(Decimal(50)) == Decimal("1.9")


def test_copper_after_bath_holds_at_most_10_9_g() -> None:
    # JOB 12, 30: 210 mL in 18 L.
    assert round(float(tip_out_content_g(copper(), 210_000, RULES, on=MONDAY)), 1) == 10.9


# --- the ceiling -----------------------------------------------------------------------------


def top(one: JarFacts | None = None, fibre: str = "wool", already: str = "0") -> Ceiling:
    found = ceiling(one or jar(), fibre, RULES, on=MONDAY, already_percent=Decimal(already))
    assert found is not None
    return found


def test_ceiling_of_iron_is_51_8_ml_rounded_down_and_of_copper_38() -> None:
    # JOB 9 (11): 51.8 mL at 38.6 g/L; copper 52.0 g/L, at most 38 mL.
    assert float(20_00 / top().most_g_per_l) == pytest.approx(51.8, abs=0.05)
    assert top().ml_per_100g == 51
    assert top(copper()).ml_per_100g == 38


def test_iron_already_in_the_fibre_leaves_less_room() -> None:
    # 1.5 % left of 2: 1.5 / 38.58 × 1000 = 38.9 mL.
    assert top(already="0.5").ml_per_100g == 38
    assert top(already="2").ml_per_100g == 0
    assert top(already="3").ml_per_100g == 0
    assert top(already="0.5").percent_of(Decimal(50)) == Decimal("2.4")


def test_plant_fibres_have_no_ceiling() -> None:
    assert ceiling(jar(), "lyocell", RULES, on=MONDAY) is None
    refuse_above_ceiling(jar(), "lyocell", Decimal(500), RULES, on=MONDAY)


def test_stronger_vinegar_lowers_the_ceiling_exactly() -> None:
    assert top(jar(acid_percent=Decimal(10))).ml_per_100g == 25
    assert top(jar(water_parts=Fraction(0))).ml_per_100g == 17


def test_topping_up_with_strong_vinegar_lowers_the_ceiling_from_its_day() -> None:
    strong = JarEvent(
        nov(24), "topped up", 900_000, vinegar_parts=Fraction(1), acid_percent=Decimal(5)
    )
    one = jar(events=(strong,))

    # Half at 1/3, half neat: twice the acid.
    assert top(one).ml_per_100g == 51
    found = ceiling(one, "wool", RULES, on=date(2026, 11, 24))
    assert found is not None
    assert found.ml_per_100g == 25


def test_a_jar_that_says_no_acid_is_bounded_by_the_strongest_vinegar() -> None:
    # 10 % neat: 0.8326 mol/L of iron, 231.5 g/L: 8.6 mL.
    unknown = jar(acid_percent=Decimal(0), vinegar_parts=Fraction(0), water_parts=Fraction(0))

    assert top(unknown).ml_per_100g == 8


def test_a_percent_close_to_the_ceiling_is_shown_finely_enough() -> None:
    close = replace(top(), most_g_per_l=Fraction("40.2"))

    assert close.percent_of(Decimal(50)) == Decimal("2.010")
    assert close.percent_of(Decimal(60)) == Decimal("2.4")


@given(
    st.integers(min_value=1, max_value=15),
    st.integers(min_value=0, max_value=5),
    st.decimals(min_value=0, max_value=3, places=2),
)
def test_a_dose_at_the_ceiling_never_passes_it_and_a_ml_more_does(
    acid: int, water: int, already: Decimal
) -> None:
    one = jar(acid_percent=Decimal(acid), water_parts=Fraction(water))
    found = top(one, already=str(already))
    brought = Fraction(already) + found.ml_per_100g * found.most_g_per_l / 1000
    more = Fraction(already) + (found.ml_per_100g + 1) * found.most_g_per_l / 1000

    assert brought <= max(Fraction(2), Fraction(already))
    assert more > 2


# --- what moves a dose -----------------------------------------------------------------------


def test_a_strip_of_three_asks_for_65_and_of_five_for_40() -> None:
    assert ml(jar(dips=(Dip(nov(2), 3),))) == 65
    assert ml(jar(dips=(Dip(nov(2), 5),))) == 40


def test_only_the_last_strip_by_the_moment_counts() -> None:
    one = jar(dips=(Dip(nov(2), 4), Dip(nov(25), 3)))

    assert ml(one, at=nov(24)) == 50
    assert ml(one, at=nov(25)) == 65


def test_a_jar_still_working_since_its_strip_asks_for_less_the_warmer_it_stands() -> None:
    def working(c: float) -> Decimal:
        return ml(jar(begun_at=nov(2), dips=(Dip(nov(10), 3),), events=(), temperature_c=c))

    assert working(20) < working(8) < 65
    assert ml(jar(dips=(Dip(nov(10), 3),))) == 65


def test_topping_up_with_water_after_the_strip_asks_for_more() -> None:
    water = JarEvent(nov(3), "topped up", volume_ul=900_000)
    found = dose_of(
        jar(events=(JarEvent(nov(1), "strained"), water)),
        Decimal(50),
        RULES,
        at=nov(24),
        zone=LONDON,
    )

    # Half the strength, twice the dose.
    assert float(found.ml_per_100g) == pytest.approx(100)
    assert found.rests_on == "strip 4 of 2 Nov 2026, 50 % weaker since"


def test_drying_in_after_the_strip_asks_for_less() -> None:
    lost = JarEvent(nov(3), "evaporated", volume_ul=180_000)

    assert float(ml(jar(events=(JarEvent(nov(1), "strained"), lost)))) == pytest.approx(40)


def test_drawing_leaves_the_dose_of_a_strained_jar_exactly() -> None:
    drawn = [JarEvent(nov(3) + timedelta(hours=h), "drawn", volume_ul=7_001) for h in range(9)]

    assert ml(jar(events=(JarEvent(nov(1), "strained"), *drawn))) == 50


def test_drawing_before_a_topping_up_makes_it_thinner() -> None:
    strained = JarEvent(nov(1), "strained")
    drawn = JarEvent(nov(3), "drawn", volume_ul=600_000)
    water = JarEvent(nov(4), "topped up", volume_ul=300_000)

    assert float(ml(jar(events=(strained, drawn, water)))) == pytest.approx(100)
    assert float(ml(jar(events=(strained, water)))) == pytest.approx(50 * 12 / 9)


def test_a_copper_jar_kept_colder_than_the_shed_asks_for_more() -> None:
    cold, shed = copper(temperature_c=-4), copper()

    assert ml(shed, 35, nov(23, 16)) == 35
    assert ml(cold, 35, nov(23, 16)) > 35
    assert ml(copper(temperature_c=25), 35, nov(23, 16)) == 35


def test_a_copper_jar_topped_up_with_water_asks_for_more() -> None:
    water = JarEvent(nov(26), "topped up", volume_ul=1_000_000)
    found = dose_of(copper(events=(water,)), Decimal(35), RULES, at=nov(26, 10), zone=LONDON)

    assert found.ml_per_100g > 35
    assert found.rests_on.startswith("no strip; by the model ")
    assert found.rests_on.endswith(" % weaker than its make when ready")


def test_a_reading_asks_for_the_strength_of_strip_four() -> None:
    # Strip 4 stands for 0.90 of 0.13877 mol/L: 6,975 mg/L of iron.
    half = jar(dips=(Dip(nov(2), metal_mg_per_l=6_975 / 2),))
    found = dose_of(half, Decimal(50), RULES, at=nov(24), zone=LONDON)

    assert float(found.ml_per_100g) == pytest.approx(100, rel=1e-3)
    assert found.rests_on == "3488 mg/L read 2 Nov 2026"


def test_a_jar_of_unknown_make_goes_by_its_strip_alone() -> None:
    unknown = jar(acid_percent=Decimal(0), dips=(Dip(nov(2), 3),))

    assert ml(unknown) == 65


def test_a_jar_just_begun_asks_for_no_more_than_a_bounded_dose() -> None:
    assert ml(copper(), 35, nov(22, 16)) == 3500


def test_ml_for_a_wanted_percent_follows_the_likely_strength() -> None:
    found = ml_for_percent(jar(), Decimal(2), RULES, at=nov(24))

    # 0.90 of 38.58 g/L: 34.7 g/L; 2 g of it in 57.6 mL.
    assert found == pytest.approx(57.6, abs=0.05)
    assert ml_for_percent(jar(acid_percent=Decimal(0)), Decimal(2), RULES, at=nov(24)) is None


# --- salts and baths -------------------------------------------------------------------------


def test_alum_for_the_worked_runs() -> None:
    # JOB 13.5: 240 g, 48 g, 480 g, 450 g.
    worked = [(2000, 12, 240), (400, 12, 48), (4000, 12, 480), (3000, 15, 450)]

    assert [salt_mg(g * 1000, Decimal(p)) for g, p, _ in worked] == [mg * 1000 for *_, mg in worked]


def test_soda_crystals_there_and_back() -> None:
    # JOB 12, 28: 300 g ash = 810 g crystals.
    assert crystals_for_ash(Fraction(300), RULES, on=MONDAY) == 810
    assert ash_for_crystals(Fraction(810), RULES, on=MONDAY) == 300


@pytest.mark.parametrize(
    ("had", "wanted", "formulas"),
    [
        ("iron", "ferrous sulphate", ("Fe", "FeSO4(H2O)7")),
        ("copper", "copper sulphate", ("Cu", "CuSO4(H2O)5")),
    ],
)
def test_metal_as_crystals_agrees_with_a_general_table(
    had: str, wanted: str, formulas: tuple[str, str]
) -> None:
    metal, crystals = (periodictable.formula(f).mass for f in formulas)
    found = float(as_other_salt(Fraction(1000), had, wanted, NONE, on=MONDAY))

    # periodictable 2.1, masses of CIAAW.
    assert found == pytest.approx(1000 * crystals / metal, rel=1e-5)


def bath(times_used: int, left_mg: int = 0) -> BathFacts:
    return BathFacts("AB", "alum bath", nov(2), 20_000_000, 10, times_used, alum_left_mg=left_mg)


def test_a_fresh_alum_bath_takes_the_whole_dose_and_a_used_one_half() -> None:
    # "Water-saving tips", botanicalcolors.com: half the dose, up to seven times.
    dose = Fraction(240_000)

    assert alum_to_add_mg(bath(0), dose, NONE, on=MONDAY) == 240_000
    assert alum_to_add_mg(bath(1), dose, NONE, on=MONDAY) == 120_000
    assert alum_to_add_mg(bath(6), dose, NONE, on=MONDAY) == 120_000
    assert alum_to_add_mg(bath(1, left_mg=200_000), dose, NONE, on=MONDAY) == 40_000
    assert alum_to_add_mg(bath(1, left_mg=300_000), dose, NONE, on=MONDAY) == 0
    assert alum_left_after_mg(dose, NONE, on=MONDAY) == 120_000


def test_an_alum_bath_used_seven_times_is_refused() -> None:
    with pytest.raises(UsedTooOften) as caught:
        alum_to_add_mg(bath(7), Fraction(240_000), NONE, on=MONDAY)

    assert str(caught.value) == "AB: used 7 times, 7 at most. Make a fresh one, whole dose."


def test_the_bound_of_a_jar_is_the_same_in_every_sum() -> None:
    per_l = sulphate_at_most_g_per_l(jar(), RULES, on=MONDAY)

    assert per_l == top().most_g_per_l
    assert tip_out_content_g(jar(), 1_000_000, RULES, on=MONDAY) == per_l


def test_a_reading_on_copper_asks_for_the_strength_of_its_make_when_ready() -> None:
    alone = copper()
    strength = strength_at(alone, RULES, at=nov(23, 16))
    assert strength is not None
    read = Dip(nov(24), metal_mg_per_l=strength * 1000 * 63.546 / 2)
    strained = JarEvent(nov(24), "strained")

    assert float(ml(copper(dips=(read,), events=(strained,)), 35, nov(27))) == pytest.approx(70)
    undated = copper(begun_at=None, dips=(read,), events=(strained,))
    assert ml(undated, 35, nov(27)) == 35


def test_a_grade_on_copper_does_not_move_its_dose() -> None:
    assert ml(copper(dips=(Dip(nov(24), 2),)), 35, nov(27)) == 35


def test_a_jar_without_acid_written_and_without_a_strip_takes_the_recipes_dose() -> None:
    assert ml(copper(acid_percent=Decimal(0)), 35, nov(27)) == 35
