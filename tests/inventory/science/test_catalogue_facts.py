"""The shipped catalogue against the world outside: weights of atoms, check digits, the law's table.

Atomic weights: periodictable (its own table of IUPAC values). Agreed allowances: cases/ (Annex IX
of Regulation (EU) 1007/2011 as read in a national annex). Check digits: the CAS registry.
"""

from __future__ import annotations

import csv
import re
from decimal import Decimal
from pathlib import Path

import periodictable
import pytest

from inventory.science.hazard_codes import WORDS, codes_in, strictest
from inventory.science.library import Row, library

CASES = Path(__file__).with_name("cases")
ROWS = [row for thing in library().things for row in thing.rows]
CAS = re.compile(r"\b\d{2,7}-\d\d-\d\b")

# JOB.md section 8 and trade marks, in what a page shows of a row; titles of sources keep theirs.
NEVER = (
    "sku", "asset", "entity", "warehouse", "bin", "pallet", "ticket", "backlog", "sprint",
    "workflow", "dashboard", "widget", "capacity", "utilisation", "throughput", "fifo", "fefo",
    "allocate", "vendor", "customer", "purchase", "batch", "quarantine", "expire", "expired",
    "user", "upload", "template", "pit", "pits", "hack", "non-toxic", "eco-friendly", "resource",
    "tencel", "superwash", "pyrex",
)  # fmt: skip


def typical(item: str, name: str, *, case: str = "") -> Decimal:
    """The one typical figure of a property for a case."""
    found = [
        row.typical for row in ROWS if row.item == item and row.name == name and row.case == case
    ]
    assert len(found) == 1, found
    assert found[0] is not None
    return found[0]


def grams_per_mol(formula: str) -> float:
    return float(periodictable.formula(formula).mass)


@pytest.mark.parametrize(
    ("item", "case", "formula"),
    [
        ("iron acetate (from ferrous sulphate, measured)", "Fe(CH3COO)2", "Fe(CH3COO)2"),
        ("alum (potassium aluminium sulphate dodecahydrate)", "", "KAl(SO4)2(H2O)12"),
        ("aluminium acetate", "Al(CH3COO)3; basic salts differ", "Al(CH3COO)3"),
        ("aluminium triformate", "", "Al(HCOO)3"),
        ("ferrous sulphate heptahydrate", "", "FeSO4(H2O)7"),
        ("copper sulphate pentahydrate", "", "CuSO4(H2O)5"),
        ("tannin (oak gall or other)", "tannic acid, nominal C76H52O46", "C76H52O46"),
        ("rhubarb-leaf liquor (oxalic)", "oxalic acid dihydrate", "C2H2O4(H2O)2"),
        ("soda ash (sodium carbonate anhydrous)", "", "Na2CO3"),
        ("washing soda crystals (sodium carbonate decahydrate)", "", "Na2CO3(H2O)10"),
        ("citric acid", "anhydrous", "C6H8O7"),
        ("citric acid", "monohydrate", "C6H8O7(H2O)"),
        ("vinegar (acetic acid)", "", "C2H4O2"),
        ("cream of tartar (potassium hydrogen tartrate)", "", "KC4H5O6"),
        ("chalk (calcium carbonate)", "", "CaCO3"),
        ("oxalic acid (dihydrate)", "", "C2H2O4(H2O)2"),
    ],
)
def test_molar_masses_agree_with_the_weights_of_atoms(item: str, case: str, formula: str) -> None:
    assert float(typical(item, "molar_mass", case=case)) == pytest.approx(
        grams_per_mol(formula), abs=0.03
    )


def test_every_molar_mass_of_the_tables_is_checked_above() -> None:
    assert len([row for row in ROWS if row.name == "molar_mass"]) == 16


@pytest.mark.parametrize(
    ("item", "name", "element", "formula"),
    [
        ("alum (potassium aluminium sulphate dodecahydrate)", "aluminium_content", "Al",
         "KAl(SO4)2(H2O)12"),
        ("aluminium triformate", "aluminium_content", "Al", "Al(HCOO)3"),
        ("ferrous sulphate heptahydrate", "iron_content", "Fe", "FeSO4(H2O)7"),
        ("copper sulphate pentahydrate", "copper_content", "Cu", "CuSO4(H2O)5"),
    ],
)  # fmt: skip
def test_metal_in_a_salt_is_its_share_of_the_weight(
    item: str, name: str, element: str, formula: str
) -> None:
    percent = 100 * grams_per_mol(element) / grams_per_mol(formula)

    assert float(typical(item, name)) == pytest.approx(percent, abs=0.01)


def test_the_aluminium_of_the_three_acetates_is_low_typical_and_high() -> None:
    (row,) = [r for r in ROWS if r.item == "aluminium acetate" and r.name == "aluminium_content"]
    salts = ("Al(CH3COO)3", "Al(OH)(CH3COO)2", "Al(OH)2(CH3COO)")

    for value, salt in zip(row.numbers, salts, strict=True):
        assert float(value) == pytest.approx(
            100 * grams_per_mol("Al") / grams_per_mol(salt), abs=0.06
        )


@pytest.mark.parametrize("percent", [25, 100 / 3, 50, 100])
def test_iron_liquor_holds_no_more_iron_than_its_acid_dissolves(percent: float) -> None:
    held = [r for r in ROWS if r.item.startswith("iron liquor") and r.name == "iron_dissolved_max"]
    mol_per_l = 50 * percent / 100 / grams_per_mol("C2H4O2") / 2
    values = [float(value) for row in held for value in row.numbers]

    assert min(abs(value - mol_per_l * grams_per_mol("Fe")) for value in values) < 0.06


def test_copper_liquor_holds_no_more_than_copper_acetate_dissolves() -> None:
    (row,) = [r for r in ROWS if r.name == "copper_dissolved_max"]
    at_most = 72 * grams_per_mol("Cu") / grams_per_mol("Cu(CH3COO)2(H2O)")

    assert row.high is not None
    assert float(row.high) == pytest.approx(at_most, abs=0.05)


def test_crystals_and_ash_turn_over_by_their_molar_masses() -> None:
    ash, crystals = grams_per_mol("Na2CO3"), grams_per_mol("Na2CO3(H2O)10")
    (there,) = [r for r in ROWS if r.item.startswith("soda ash") and r.name == "equivalence"]
    (back,) = [r for r in ROWS if r.item.startswith("washing soda") and r.name == "equivalence"]

    assert there.typical is not None
    assert back.typical is not None
    assert float(there.typical) == pytest.approx(crystals / ash, abs=0.005)
    assert float(back.typical) == pytest.approx(ash / crystals, abs=0.005)


@pytest.mark.parametrize("row", [row for row in ROWS if row.name == "cas"], ids=lambda r: r.item)
def test_every_cas_number_keeps_its_check_digit(row: Row) -> None:
    text = row.words
    assert CAS.findall(text)

    for number in CAS.findall(text):
        digits = [int(sign) for sign in number.replace("-", "")]
        weighed = sum(place * digit for place, digit in enumerate(reversed(digits[:-1]), start=1))
        assert weighed % 10 == digits[-1], number


@pytest.mark.parametrize(
    ("fibre", "item", "name"),
    [
        ("wool and animal hair, combed", "wool", "agreed_allowance_combed"),
        ("horsehair, combed", "horsehair and other coarse hair", "agreed_allowance_combed"),
        ("silk", "silk", "agreed_allowance"),
        ("cotton, mercerised", "cotton", "agreed_allowance_mercerised"),
        ("flax (linen)", "linen (flax)", "agreed_allowance"),
        ("jute", "jute", "agreed_allowance"),
        ("viscose", "viscose", "agreed_allowance"),
        ("polyamide, staple", "polyamide", "agreed_allowance_staple"),
    ],
)
def test_agreed_allowances_are_those_of_the_annex(fibre: str, item: str, name: str) -> None:
    with (CASES / "agreed_allowances_eu.csv").open(encoding="utf-8", newline="") as lines:
        annex = {row["fibre"]: row["agreed_allowance_percent"] for row in csv.DictReader(lines)}

    case = "polyamide 6 and 6.6" if item == "polyamide" else ""
    assert typical(item, name, case=case) == Decimal(annex[fibre])


def test_the_annex_s_other_allowances_hold_for_the_kin_of_its_fibres() -> None:
    combed = {r.typical for r in ROWS if r.name == "agreed_allowance_combed"}

    assert combed == {Decimal("18.25"), Decimal("16.00")}
    assert typical("bamboo viscose", "agreed_allowance", case="as viscose") == 13


def test_every_cell_of_hazard_codes_holds_codes_or_says_not_classified() -> None:
    cells = [row for row in ROWS if row.name.startswith("ghs_codes")]

    assert len(cells) > 20
    for row in cells:
        assert row.words == "not classified" or " ".join(codes_in(row.words)) == row.words
        assert all(code in WORDS for code in codes_in(row.words)), row.words


def test_where_suppliers_differ_all_rows_stay_and_the_stricter_wins() -> None:
    shelf = library()
    acetate = [r.words for r in shelf.look_up("copper(II) acetate", "ghs_codes")]
    alum = [
        r.words for r in shelf.look_up("aluminium potassium sulphate dodecahydrate", "ghs_codes")
    ]

    assert len(acetate) == 3
    assert strictest(acetate) == ("H302", "H312", "H314", "H332", "H410")
    assert alum[0] == "not classified"
    assert strictest(alum) == ("H302", "H315", "H319", "H335")


def test_hazard_signs_are_those_that_the_stricter_codes_ask_for() -> None:
    asks = {
        "GHS05": {"H314", "H318"},
        "GHS07": {"H302", "H312", "H332", "H315", "H319", "H335"},
        "GHS09": {"H400", "H410", "H411"},
    }
    for item in ("copper(II) sulphate pentahydrate", "sodium carbonate (anhydrous)"):
        codes = set(strictest(r.words for r in library().look_up(item, "ghs_codes")))
        (signs,) = library().look_up(item, "ghs_pictograms")
        assert signs.words.split() == [sign for sign, named in asks.items() if named & codes]


def test_household_ammonia_is_not_called_a_mere_irritant() -> None:
    bands = {
        r.case: r.words for r in library().look_up("ammonia solution (household)", "ghs_codes")
    }

    assert codes_in(bands["5 % to below 25 %"])[0] == "H314"


def test_percentages_lie_between_none_and_all_but_for_doses_and_spreads() -> None:
    bounded = [row for row in ROWS if row.unit in ("% w/w", "% v/v", "fraction")]

    most = {"fraction": 1}
    assert bounded
    for row in bounded:
        assert all(0 <= value <= most.get(row.unit, 100) for value in row.numbers), row


def test_nothing_alive_or_dyed_is_hotter_than_boiling_or_out_of_the_ph_scale() -> None:
    for row in ROWS:
        if row.unit == "°C":
            assert all(0 <= value <= 100 for value in row.numbers), row
        if row.unit == "pH":
            assert all(0 <= value <= 14 for value in row.numbers), row


def test_what_a_page_shows_is_in_the_words_of_the_trade() -> None:
    shelf = library()
    shown = [row.item for row in ROWS] + [row.words for row in ROWS] + [row.case for row in ROWS]
    shown += [*shelf.property_words.values(), *shelf.unit_words.values()]

    for text in shown:
        assert not set(re.findall(r"[a-z-]+", text.lower())) & set(NEVER), text
        assert "_" not in text, text


def test_what_is_remembered_says_so_and_never_claims_a_source_that_was_read() -> None:
    for row in ROWS:
        assert "from memory" not in row.source or row.basis != "common practice", row
        assert row.basis != "assumed", row


def test_every_duty_sends_to_the_local_rules_and_gives_no_advice() -> None:
    duties = [row for row in ROWS if row.kind == "duty"]

    assert len(duties) >= 20
    for row in duties:
        assert row.words.endswith("check your local rules."), row.words
        assert row.case, row.words
        assert not re.search(r"\byou (must|should|need)\b", row.words), row.words


def test_the_duties_of_the_job_are_all_there() -> None:
    matters = {row.item for row in ROWS if row.kind == "duty"}

    assert {
        "picking wild plants", "nesting birds", "cutting hedges", "drains", "coins",
        "carrying what others throw away", "waste transfer paper", "food waste of a café",
        "copper baths", "fibre labels", "what is claimed", "product passport",
        "children and groups", "waste tracking", "mordants and powders",
    } <= matters  # fmt: skip
