"""Yarn counts against published constants and examples, and there and back."""

import csv
from collections.abc import Iterable
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science.unclear import OutOfRange
from inventory.science.yarn import DIRECT, YARDS_PER_POUND, tex, yarn_count, yarn_length_m

CASES = Path(__file__).parent / "cases"
SYSTEMS = [*DIRECT, "metric", *YARDS_PER_POUND]
NAMES = {"Nec": "cotton", "NeL": "linen lea", "Nm": "metric"}


def rows(name: str) -> Iterable[dict[str, str]]:
    with (CASES / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def system(written: str) -> str:
    plain = written.partition(" (")[0]
    return NAMES.get(plain, plain)


@pytest.mark.parametrize("row", rows("yarn_counts.csv"), ids=lambda row: row["id"])
def test_a_count_becomes_another(row: dict[str, str]) -> None:
    # ISO 1144; ASTM D2260: source column of the file.
    found = yarn_count(
        tex(Fraction(row["value"]), system(row["from_system"])), system(row["to_system"])
    )

    assert float(found) == pytest.approx(float(row["expected"]), rel=float(row["tolerance"]))


@pytest.mark.parametrize("row", rows("yarn_length.csv"), ids=lambda row: row["id"])
def test_a_mass_of_yarn_has_its_length(row: dict[str, str]) -> None:
    # Nm = m per g: source column of the file.
    single, _, plies = row["count"].removeprefix("Nm ").partition("/")

    found = yarn_length_m(int(row["mass_g"]) * 1000, Fraction(single), "metric", plies=int(plies))

    assert found == Fraction(row["expected_m"])


def test_200_g_of_tex_98_go_2041_m() -> None:
    # 200 g / 98 g per km, by hand.
    assert round(yarn_length_m(200_000, 98, "tex")) == 2041


@given(st.fractions(Fraction(1, 100), 10_000, max_denominator=100), st.sampled_from(SYSTEMS))
def test_a_count_there_and_back_is_the_same(count: Fraction, name: str) -> None:
    assert yarn_count(tex(count, name), name) == count


@pytest.mark.parametrize(
    ("count", "name", "message"),
    [
        (0, "tex", "count is 0; it must be above 0."),
        (-1, "metric", "count is -1; it must be above 0."),
        (5, "jute", "system is jute; it must be one of tex, dtex, denier, metric, cotton, worsted, "
         "linen lea, woollen run."),
    ],
)  # fmt: skip
def test_an_impossible_count_is_refused(count: int, name: str, message: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        tex(count, name)

    assert str(refused.value) == message


def test_an_impossible_length_is_refused() -> None:
    with pytest.raises(OutOfRange):
        yarn_count(0, "metric")
    with pytest.raises(OutOfRange):
        yarn_length_m(-1, 28, "metric")
    with pytest.raises(OutOfRange):
        yarn_length_m(1, 28, "metric", plies=0)
