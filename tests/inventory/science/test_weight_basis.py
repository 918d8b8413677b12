"""Weights in one state turned into another: published cases, worked cases, there and back."""

import csv
import re
from collections.abc import Callable, Iterable
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import periodictable
import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science.catalogue import shipped
from inventory.science.unclear import OutOfRange
from inventory.science.weight_basis import (
    ash_for_crystals,
    blend_regain,
    commercial_mass,
    content_from_regain,
    crystals_for_ash,
    dried_from_fresh,
    dried_per_fresh_of,
    fresh_from_dried,
    in_state,
    oven_dry_mass,
    raw_for_scoured,
    regain_from_content,
    scour_loss_of,
    scoured_from_raw,
    to_grams,
    to_mg,
)

CASES = Path(__file__).parent / "cases"
KG = 1_000_000  # mg
MONDAY = date(2026, 11, 23)
PERCENT = Decimal("0.01")

masses = st.integers(0, 10**11)
fractions = st.fractions(Fraction(1, 1000), 1, max_denominator=1000)
losses = st.fractions(0, Fraction(999, 1000), max_denominator=1000)


def rows(name: str) -> Iterable[dict[str, str]]:
    with (CASES / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


MOISTURE = {row["id"]: row for row in rows("moisture_examples.csv")}


# --- fibre: unscoured and scoured --------------------------------------------------------------


def test_two_kilos_scoured_take_2105_g_raw_and_leave_295_of_2400() -> None:
    # The demo studio's W-88, scour loss 5 %: 2,000 / 0.95 = 2,105.26; 2,400 - 2,105.26 = 294.74.
    raw = raw_for_scoured(2 * KG, scour_loss=Decimal("0.05"))

    assert to_grams(raw) == 2105
    assert to_grams(2_400_000 - raw) == 295
    assert to_mg(raw) == 2_105_263


def test_rounding_once_gives_the_net_need_of_the_reorder() -> None:
    # 4,000 / 0.95 = 4,210.53; less what Blush leaves, 294.74: 3,915.79.
    left = 2_400_000 - raw_for_scoured(2 * KG, scour_loss=Decimal("0.05"))
    need = raw_for_scoured(4 * KG, scour_loss=Decimal("0.05"))
    group = raw_for_scoured(240_000, scour_loss=Decimal("0.05"))

    assert to_grams(need) == 4211
    assert to_grams(need - left) == 3916
    assert to_grams(group) == 253
    assert to_grams(need - left + group) == 4168


def test_unscoured_wool_is_good_for_95_hundredths_of_it() -> None:
    assert scoured_from_raw(2_400_000, scour_loss=Decimal("0.05")) == 2_280_000


def test_mass_is_conserved_by_a_scour() -> None:
    raw = to_mg(raw_for_scoured(2 * KG, scour_loss=Decimal("0.05")))

    assert to_grams(raw) - 105 == 2000  # 2,105 g raw = 2,000 g scoured + 105 g loss


def test_no_loss_changes_nothing() -> None:
    assert raw_for_scoured(900_000, scour_loss=0) == scoured_from_raw(900_000, scour_loss=0)


def test_the_studios_own_loss_comes_from_two_weighings() -> None:
    assert scour_loss_of(raw_mg=2_400_000, scoured_mg=2_280_000) == Fraction(1, 20)


@given(masses, losses)
def test_scoured_there_and_back_is_the_same(mass: int, loss: Fraction) -> None:
    assert scoured_from_raw(raw_for_scoured(mass, scour_loss=loss), scour_loss=loss) == mass


@given(masses, losses)
def test_scoured_never_weighs_more_than_raw(mass: int, loss: Fraction) -> None:
    assert scoured_from_raw(mass, scour_loss=loss) <= mass <= raw_for_scoured(mass, scour_loss=loss)


# --- plant matter: fresh, frozen, dried --------------------------------------------------------


def test_1400_g_of_fresh_privet_dry_to_560() -> None:
    # The demo studio's PR-1003: 1,400 g fresh x 0.40.
    assert dried_from_fresh(1_400_000, dried_per_fresh=Decimal("0.40")) == 560_000


def test_480_g_dried_take_1200_g_fresh() -> None:
    assert fresh_from_dried(480_000, dried_per_fresh=Decimal("0.40")) == 1_200_000


def test_freezing_keeps_the_weight_unless_it_drips() -> None:
    state = {"had": "fresh", "wanted": "frozen", "dried_per_fresh": Decimal("0.4")}

    assert in_state(KG, **state) == KG  # type: ignore[arg-type]
    assert in_state(KG, **state, frozen_per_fresh=Decimal("0.9")) == 900_000  # type: ignore[arg-type]


def test_the_same_state_leaves_the_weight_alone() -> None:
    assert in_state(1234, had="dried", wanted="dried", dried_per_fresh=Decimal("0.3")) == 1234


def test_a_damp_lot_has_no_fixed_weight() -> None:
    with pytest.raises(OutOfRange) as trouble:
        in_state(300_000, had="damp", wanted="dried", dried_per_fresh=Decimal("0.4"))

    assert str(trouble.value) == (
        "had is damp; it must be fresh, frozen or dried; dry it and weigh it again."
    )


def test_the_studios_own_dry_fraction_comes_from_two_weighings() -> None:
    assert dried_per_fresh_of(fresh_mg=1_400_000, dried_mg=560_000) == Fraction(2, 5)


@given(masses, fractions)
def test_dried_there_and_back_is_the_same(mass: int, part: Fraction) -> None:
    assert (
        fresh_from_dried(dried_from_fresh(mass, dried_per_fresh=part), dried_per_fresh=part) == mass
    )


# --- moisture ----------------------------------------------------------------------------------


def test_a_published_invoice_mass_of_a_blend() -> None:
    # MR1: Textile Calculation (2015), correct invoice weight, problem 2: 19,587.84 kg.
    case = MOISTURE["MR1"]
    dry = 20_000 * KG * (1 - Fraction(4, 100))
    regain = blend_regain([(Decimal("0.8"), Decimal("0.004")), (Decimal("0.2"), Decimal("0.085"))])

    assert dry == Fraction(case["oven_dry_kg"]) * KG
    assert regain * 100 == Fraction(case["blend_regain_percent"])
    assert commercial_mass(dry, allowance=regain) == Fraction(case["expected_published"]) * KG


def test_a_published_blend_regain_and_content() -> None:
    # MR2: Textile Calculation (2015), problem 1: regain 10.3 %, content 9.34 %.
    regain = blend_regain([(Decimal("0.6"), Decimal("0.085")), (Decimal("0.4"), Decimal("0.13"))])

    assert regain == Fraction("0.103")
    assert float(content_from_regain(regain)) * 100 == pytest.approx(9.34, abs=0.005)


def test_conditioned_wool_becomes_commercial_mass() -> None:
    # MR3: definition; allowance 17 % of Regulation (EU) 1007/2011, Annex IX.
    case = MOISTURE["MR3"]
    dry = oven_dry_mass(KG, regain=Decimal("0.16"))

    assert float(dry) / KG == pytest.approx(float(case["oven_dry_kg"]), abs=1e-6)
    sold = commercial_mass(dry, allowance=Decimal("0.17"))
    assert float(sold) / KG == pytest.approx(float(case["commercial_kg"]), abs=1e-6)


def test_wet_cotton_becomes_commercial_mass() -> None:
    # MR4: content 12 % of the gross, allowance 8.5 %.
    case = MOISTURE["MR4"]
    dry = oven_dry_mass(10 * KG, regain=regain_from_content(Decimal("0.12")))

    assert dry == Fraction(case["oven_dry_kg"]) * KG
    assert commercial_mass(dry, allowance=Decimal("0.085")) == Fraction(case["commercial_kg"]) * KG


@pytest.mark.parametrize("code", [code for code in MOISTURE if code.startswith("MR-C")])
def test_regain_becomes_content(code: str) -> None:
    # M = R / (1 + R); definitions of ASTM D2118: source column of the file.
    said = re.search(r"[\d.]+", MOISTURE[code]["expected_published"])
    regain = Decimal(code.removeprefix("MR-C")) * PERCENT
    assert said

    assert float(content_from_regain(regain)) * 100 == pytest.approx(float(said[0]), abs=1e-6)


def test_the_note_of_the_regain_standard_holds() -> None:
    # ASTM D2118: 13.04 % content equals 15.0 % regain.
    assert float(regain_from_content(Decimal("0.1304"))) == pytest.approx(0.15, abs=5e-4)


@pytest.mark.parametrize("row", rows("agreed_allowances_eu.csv"), ids=lambda row: row["fibre"])
def test_a_kilo_of_dry_fibre_is_sold_with_its_agreed_allowance(row: dict[str, str]) -> None:
    # Regulation (EU) 1007/2011, Annex IX: source column of the file.
    percent = Decimal(row["agreed_allowance_percent"])

    sold = commercial_mass(KG, allowance=percent * PERCENT)

    assert sold == KG + percent * 10_000
    assert oven_dry_mass(sold, regain=percent * PERCENT) == KG


@pytest.mark.parametrize("row", rows("commercial_regain_astm.csv"), ids=lambda row: row["fibre"])
def test_a_commercial_regain_goes_there_and_back(row: dict[str, str]) -> None:
    # ASTM D1909-13; rows marked memory in the file are the weaker check.
    regain = Decimal(row["commercial_moisture_regain_percent"]) * PERCENT

    assert regain_from_content(content_from_regain(regain)) == Fraction(regain)


@given(masses, fractions)
def test_oven_dry_there_and_back_is_the_same(mass: int, regain: Fraction) -> None:
    assert commercial_mass(oven_dry_mass(mass, regain=regain), allowance=regain) == mass


@given(fractions)
def test_content_is_always_below_regain(regain: Fraction) -> None:
    assert 0 < content_from_regain(regain) < regain
    assert regain_from_content(content_from_regain(regain)) == regain


# --- crystals and ash --------------------------------------------------------------------------


def test_300_g_of_ash_are_810_g_of_crystals() -> None:
    ratio = shipped().get("soda ash", "crystals_per_ash", on=MONDAY).value

    crystals = crystals_for_ash(300_000, crystals_per_ash=ratio)

    assert to_grams(crystals) == 810
    assert to_grams(1_500_000 - crystals) == 690
    assert to_grams(2 * crystals - 1_500_000) == 120  # a second scour is short by 120 g


def test_the_shipped_ratio_is_the_chemical_one() -> None:
    # periodictable: molar masses of the decahydrate and the anhydrous salt.
    chemical = periodictable.formula("Na2CO3(H2O)10").mass / periodictable.formula("Na2CO3").mass
    ratio = shipped().get("soda ash", "crystals_per_ash", on=MONDAY).value

    assert round(chemical, 2) == float(ratio) == 2.70


@given(masses, st.fractions(1, 3, max_denominator=100))
def test_crystals_there_and_back_are_the_same(mass: int, ratio: Fraction) -> None:
    crystals = crystals_for_ash(mass, crystals_per_ash=ratio)

    assert ash_for_crystals(crystals, crystals_per_ash=ratio) == mass


# --- borders -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        (lambda: raw_for_scoured(-1, scour_loss=0), "mass is -1 mg; it must be 0 or more."),
        (lambda: raw_for_scoured(KG, scour_loss=1),
         "scour_loss is 1; it must be 0 or more and below 1."),
        (lambda: scoured_from_raw(KG, scour_loss=Decimal("-0.01")),
         "scour_loss is -0.01; it must be 0 or more and below 1."),
        (lambda: scour_loss_of(raw_mg=100, scoured_mg=101),
         "scoured_mg is 101; it must be above 0, at most raw_mg (100)."),
        (lambda: scour_loss_of(raw_mg=100, scoured_mg=0),
         "scoured_mg is 0; it must be above 0, at most raw_mg (100)."),
        (lambda: dried_from_fresh(KG, dried_per_fresh=0),
         "dried_per_fresh is 0; it must be above 0, at most 1.1."),
        (lambda: dried_from_fresh(KG, dried_per_fresh=Decimal("1.11")),
         "dried_per_fresh is 1.11; it must be above 0, at most 1.1."),
        (lambda: dried_per_fresh_of(fresh_mg=0, dried_mg=1), "fresh_mg is 0; it must be above 0."),
        (lambda: content_from_regain(Decimal("1.01")), "regain is 1.01; it must be 0 to 1."),
        (lambda: regain_from_content(1), "content is 1; it must be 0 or more and below 1."),
        (lambda: oven_dry_mass(KG, regain=-1), "regain is -1; it must be 0 to 1."),
        (lambda: commercial_mass(KG, allowance=2), "allowance is 2; it must be 0 to 1."),
        (lambda: blend_regain([(Decimal("0.5"), 0)]),
         "sum of the parts is 1/2; it must be 1, with none below 0."),
        (lambda: blend_regain([(2, 0), (-1, 0)]),
         "sum of the parts is 1; it must be 1, with none below 0."),
        (lambda: crystals_for_ash(KG, crystals_per_ash=Decimal("0.99")),
         "crystals_per_ash is 0.99; it must be 1 to 3."),
        (lambda: ash_for_crystals(KG, crystals_per_ash=4),
         "crystals_per_ash is 4; it must be 1 to 3."),
    ],
)  # fmt: skip
def test_a_figure_out_of_range_is_refused(wrong: Callable[[], object], message: str) -> None:
    with pytest.raises(OutOfRange) as trouble:
        wrong()

    assert str(trouble.value) == message


@pytest.mark.parametrize(
    "right",
    [
        lambda: raw_for_scoured(0, scour_loss=Decimal("0.99")),
        lambda: dried_from_fresh(KG, dried_per_fresh=Decimal("1.1")),
        lambda: content_from_regain(1),
        lambda: regain_from_content(Decimal("0.99")),
        lambda: crystals_for_ash(KG, crystals_per_ash=1),
        lambda: crystals_for_ash(KG, crystals_per_ash=3),
    ],
)
def test_a_figure_just_within_its_range_is_worked_with(right: Callable[[], Fraction]) -> None:
    assert right() >= 0


def test_half_a_gram_is_rounded_to_the_even_side() -> None:
    assert [to_grams(mg) for mg in (499, 500, 501, 1500, 2500)] == [0, 0, 1, 2, 2]
