"""Each unit holds exactly what its definition says, and pint agrees with our own factors."""

import csv
import subprocess
import sys
from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science.units import (
    CLOCK,
    METRIC,
    POUNDS,
    UK_SPOONS,
    UK_VOLUMES,
    US_VOLUMES,
    Unit,
    WrongKind,
    plain,
    plural,
    quantity,
    registry,
    unit_words,
    whole,
)

CASES = Path(__file__).parent / "cases"
# UCUM code, word for it here, country
WORDS = {
    "[oz_av]": ("oz", "GB"),
    "[lb_av]": ("lb", "GB"),
    "[gr]": ("grain", "GB"),
    "[gal_us]": ("gal", "US"),
    "[pt_us]": ("pt", "US"),
    "[qt_us]": ("qt", "US"),
    "[foz_us]": ("fl_oz", "US"),
    "[cup_us]": ("cup", "US"),
    "[tbs_us]": ("tbsp", "US"),
    "[tsp_us]": ("tsp", "US"),
    "[qt_br]": ("qt", "GB"),
    "[foz_br]": ("fl_oz", "GB"),
    "[tbs_m]": ("tbsp", "GB"),
    "[in_i]": ("in", "GB"),
    "g": ("g", "GB"),
    "kg": ("kg", "GB"),
    "mg": ("mg", "GB"),
    "L": ("l", "GB"),
    "mL": ("ml", "GB"),
    "mm": ("mm", "GB"),
}
PINT_NAMES = {"fl oz": "fluid_ounce", "d": "day", "wk": "week"}
LONG_NAMES = {
    "pt": "pint",
    "qt": "quart",
    "gal": "gallon",
    "tsp": "teaspoon",
    "tbsp": "tablespoon",
    "dag": "decagram",
    "lb": "pound",
    "oz": "ounce",
}


def rows(name: str) -> Iterable[dict[str, str]]:
    with (CASES / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def unit(code: str) -> Unit:
    word, country = WORDS[code]
    return unit_words(country)[word]


@pytest.mark.parametrize("row", rows("units_exact.csv"), ids=lambda row: row["unit"])
def test_a_unit_holds_exactly_what_its_definition_says(row: dict[str, str]) -> None:
    # NIST SP 811 (2008), App. B.8; UCUM essence 2.2 (2024-06-17): source column of the file.
    found = unit(row["ucum_code"]).holds / unit(row["to_unit"]).holds

    assert found == Fraction(row["factor"])


@pytest.mark.parametrize("row", rows("unit_conversions.csv"), ids=lambda row: row["id"])
def test_a_conversion_is_exact(row: dict[str, str]) -> None:
    # NIST SP 811 (2008), App. B.8, evaluated as fractions: source column of the file.
    found = Fraction(row["value"]) * unit(row["from_code"]).holds / unit(row["to_code"]).holds

    assert found == Fraction(row["expected_fraction"])
    assert float(found) == pytest.approx(float(row["expected"]), rel=float(row["tolerance"]))


def pint_name(ours: Unit) -> str:
    name = PINT_NAMES.get(ours.symbol, ours.symbol)
    if ours.kind == "volume" and ours.system == "imperial":
        return f"imperial_{LONG_NAMES.get(name, name)}"
    return LONG_NAMES.get(name, name)


@pytest.mark.parametrize(
    "ours",
    [each for table in (METRIC, CLOCK, POUNDS, UK_VOLUMES, US_VOLUMES) for each in table.values()],
    ids=lambda ours: f"{ours.system} {ours.symbol}",
)
def test_pint_agrees_with_our_own_factors(ours: Unit) -> None:
    # pint 0.25.3, its own tables.
    base = {"mass": "mg", "volume": "µL", "time": "s", "power": "W", "length": "mm"}[ours.kind]

    found = plain(quantity(1, pint_name(ours)), base)

    assert float(found) == pytest.approx(float(ours.holds), rel=1e-12)


def test_british_spoons_are_metric() -> None:
    # Common practice: 5 mL and 15 mL.
    assert [spoon.holds for spoon in UK_SPOONS.values()] == [5000, 15_000]


def test_pints_are_larger_in_britain_than_in_the_states() -> None:
    assert unit_words("GB")["pint"].holds > unit_words("US")["pint"].holds
    assert unit_words("PR") == unit_words("us") == unit_words("US")
    assert unit_words("NZ") == unit_words("GB")


def test_a_cup_is_a_unit_in_the_states_only() -> None:
    assert "cup" in unit_words("US")
    assert "cup" not in unit_words("GB")


def test_a_studio_adds_its_own_pieces_and_containers() -> None:
    words = unit_words(pieces=("Oak gall",), containers=("coal scuttle",))

    assert words["oak_galls"] == words["oak_gall"]
    assert words["oak_gall"].kind == "count"
    assert words["coal_scuttleful"].kind == "container"
    assert "oak_gall" not in unit_words()


@pytest.mark.parametrize(
    ("one", "more"),
    [("stone", "stones"), ("berry", "berries"), ("leaf", "leaves"), ("box", "boxes"),
     ("bunch", "bunches"), ("tray", "trays"), ("skins", "skins"), ("glass", "glasses")],
)  # fmt: skip
def test_more_than_one_is_spelt_as_people_spell_it(one: str, more: str) -> None:
    assert plural(one) == more


def test_every_word_for_a_unit_is_in_its_plain_form() -> None:
    for word in unit_words("US") | unit_words("GB"):
        assert word == word.casefold()


def test_the_registry_counts_in_decimals_and_is_made_once() -> None:
    assert registry() is registry()
    assert plain(quantity("0.1", "g") + quantity("0.2", "g"), "g") == Decimal("0.3")


def test_a_quantity_of_another_kind_is_refused() -> None:
    with pytest.raises(WrongKind) as trouble:
        plain(quantity(2, "kg"), "mL")

    assert str(trouble.value) == "2 kg cannot be counted in mL."


@pytest.mark.parametrize(
    ("exact", "rounded"),
    [("0.5", 0), ("1.5", 2), ("2.5", 2), ("2.4999", 2), ("2.5001", 3), ("7", 7)],
)
def test_halves_are_rounded_to_the_even_side(exact: str, rounded: int) -> None:
    assert whole(Fraction(exact)) == rounded


@given(st.integers(0, 10**12), st.sampled_from(["kg", "lb", "oz", "gal", "fl_oz"]))
def test_a_unit_there_and_back_is_the_same(number: int, word: str) -> None:
    holds = unit_words()[word].holds

    assert number * holds / holds == number


def test_reading_an_amount_does_not_load_pint() -> None:
    code = (
        "import sys; from inventory.science.amounts import read_mass; read_mass('2 lb 3 oz');"
        "print('pint' in sys.modules)"
    )

    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert found.stdout == "False\n"
