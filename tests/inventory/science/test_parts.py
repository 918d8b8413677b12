"""Doses, parts and ratios as recipes and jars have them."""

from fractions import Fraction

import pytest

from inventory.science.parts import Dose, read_dose, read_parts_of, read_ratio
from inventory.science.unclear import (
    Missing,
    NotUnderstood,
    OtherKind,
    OutOfBounds,
    TwoReadings,
    Unclear,
    Vague,
)

JAR = ("water", "vinegar")


@pytest.mark.parametrize(
    ("words", "water", "vinegar"),
    [
        ("2 water : 1 vinegar", 2, 1),
        ("2 water: 1 vinegar", 2, 1),
        ("1 vinegar : 2 water", 2, 1),
        ("2 Water 1 Vinegar", 2, 1),
        ("2 parts water to 1 part vinegar", 2, 1),
        ("two parts of water and one part of vinegar", 2, 1),
        ("1 part vinegar, 2 parts water", 2, 1),
        ("1½ water : 1 vinegar", Fraction(3, 2), 1),
        ("1 water : 1 vinegar", 1, 1),
        ("1:1", 1, 1),
    ],
)
def test_the_parts_of_a_jar_are_read_by_name(
    words: str, water: int | Fraction, vinegar: int
) -> None:
    assert read_parts_of(words, JAR) == (water, vinegar)


def test_bare_parts_are_read_where_their_order_is_named() -> None:
    assert read_parts_of("2:1", JAR, in_order=True) == (2, 1)
    assert read_parts_of("2 to 1", JAR, in_order=True) == (2, 1)
    assert read_parts_of("1 vinegar : 2 water", JAR, in_order=True) == (2, 1)


@pytest.mark.parametrize(
    ("words", "trouble", "message"),
    [
        ("2:1", TwoReadings,
         "“2:1”: “2:1” at character 1 may mean 2 water, 1 vinegar or 2 vinegar, 1 water. "
         "Write 2 water : 1 vinegar."),
        ("2 water", Missing,
         "“2 water”: 2 numbers are needed, 1 found. Write 2 water : 1 vinegar."),
        ("2:1:1", Missing, "“2:1:1”: 2 numbers are needed, 3 found. Write 2 water : 1 vinegar."),
        ("2 : 1 vinegar", Missing,
         "“2 : 1 vinegar”: not every number has its own name. Write 2 water : 1 vinegar."),
        ("2 water : 1 water", Missing,
         "“2 water : 1 water”: not every number has its own name. Write 2 water : 1 vinegar."),
        ("2 water : 1 oil", NotUnderstood,
         "“2 water : 1 oil”: “oil” at character 13 was not understood. Write 2 water : 1 vinegar."),
        ("0 water : 1 vinegar", OutOfBounds,
         "“0 water : 1 vinegar”: “0” lies outside 0 to 1000, 0 not included. "
         "Write 2 water : 1 vinegar."),
        ("1001 water : 1 vinegar", OutOfBounds,
         "“1001 water : 1 vinegar”: “1001” lies outside 0 to 1000, 0 not included. "
         "Write 2 water : 1 vinegar."),
        ("", Missing, "“”: nothing is written. Write 2 water : 1 vinegar."),
        ("about 2:1", Vague, "“about 2:1”: “about” makes it a guess. Write 2 water : 1 vinegar."),
    ],
)  # fmt: skip
def test_unclear_parts_are_refused(words: str, trouble: type[Unclear], message: str) -> None:
    with pytest.raises(Unclear) as refused:
        read_parts_of(words, JAR)

    assert type(refused.value) is trouble
    assert str(refused.value) == message


@pytest.mark.parametrize(
    ("words", "ratio"),
    [
        ("30:1", 30),
        ("30 : 1", 30),
        ("30：1", 30),
        ("1:30", 30),
        ("30 to 1", 30),
        ("30 L per kg", 30),
        ("30 L/kg", 30),
        ("7.5:1", Fraction(15, 2)),
        ("3 L per 100 g", 30),
        ("1:1", 1),
        ("500:1", 500),
    ],
)
def test_a_ratio_is_litres_per_kilogram(words: str, ratio: int | Fraction) -> None:
    assert read_ratio(words) == ratio


@pytest.mark.parametrize(
    ("words", "trouble", "problem"),
    [
        ("30", Missing, "2 numbers are needed, 1 found"),
        ("2:3", OutOfBounds, "neither side is 1"),
        ("501:1", OutOfBounds, "it lies outside 1 to 500 L per kg"),
        ("0.5 L per kg", OutOfBounds, "it lies outside 1 to 500 L per kg"),
        ("30 g per L", OtherKind, "a weight per volume was written"),
        ("0:1", OutOfBounds, "“0” lies outside 0 to 1000, 0 not included"),
    ],
)
def test_an_unclear_ratio_is_refused(words: str, trouble: type[Unclear], problem: str) -> None:
    with pytest.raises(Unclear) as refused:
        read_ratio(words)

    assert (type(refused.value), refused.value.problem) == (trouble, problem)


def test_a_dose_by_weight_is_a_fraction_of_the_dry_fibre() -> None:
    # 2,000 g dry x 150 % = 3,000 g of stones.
    assert read_dose("150 %").fraction * 2000 == 3000
    assert read_dose("150 g per 100 g").fraction == Fraction(3, 2)
    assert read_dose("1.5 kg per kg").fraction == Fraction(3, 2)


def test_a_liquor_is_dosed_by_volume_per_weight() -> None:
    dose = read_dose("35 mL per 100 g")

    assert (dose.kind, dose.ml_per_100g, dose.l_per_kg) == ("volume per mass", 35, Fraction(7, 20))
    assert dose.ml_per_100g * 600 / 100 == 210  # mL of copper liquor for 600 g of wool


def test_a_bath_is_made_by_weight_per_volume() -> None:
    dose = read_dose("50 g per L")

    assert (dose.kind, dose.g_per_l) == ("mass per volume", 50)
    assert dose.g_per_l * Fraction("7.2") == 360  # g of nettle for 7.2 L


@pytest.mark.parametrize(
    "words", ["20 L per kg", "20 L/kg", "2 L per 100 g", "20 litres per kilo", "20 L per 1 kg"]
)
def test_one_dose_may_be_written_in_many_ways(words: str) -> None:
    assert read_dose(words).l_per_kg == 20


def test_a_dose_may_be_counted() -> None:
    dose = read_dose("10 stones per 100 g")

    assert (dose.kind, dose.pieces_per_100g) == ("count per mass", 10)
    assert (dose.amount.words, dose.per.words) == ("10 stones", "100 g")


def test_ounces_per_pound_are_a_sixteenth() -> None:
    assert read_dose("1 oz per lb").fraction == Fraction(1, 16)


def test_a_pint_per_pound_follows_the_studios_country() -> None:
    # 568.26125 mL and 473.176473 mL to 453.59237 g: NIST SP 811 (2008), App. B.8.
    assert float(read_dose("1 pt per lb").ml_per_100g) == pytest.approx(125.280, abs=1e-3)
    assert float(read_dose("1 pt per lb", country="US").ml_per_100g) == pytest.approx(
        104.318, abs=1e-3
    )


@pytest.mark.parametrize(
    ("words", "trouble", "message"),
    [
        ("35 mL", Missing,
         "“35 mL”: it does not say per how much. "
         "Write a dose such as 150 %, 35 mL per 100 g or 50 g per L."),
        ("35 mL per", Missing,
         "“35 mL per”: it does not say per how much. "
         "Write a dose such as 150 %, 35 mL per 100 g or 50 g per L."),
        ("", Missing,
         "“”: it does not say per how much. "
         "Write a dose such as 150 %, 35 mL per 100 g or 50 g per L."),
        ("35 mL per 100 yy", NotUnderstood,
         "“100 yy”: “yy” at character 15 was not understood. "
         "Write a unit such as g, kg, oz, mL or L, or what was counted."),
        ("35 mL per 10 stones", OtherKind,
         "“35 mL per 10 stones”: “10 stones” is neither a weight nor a volume. "
         "Write a dose such as 150 %, 35 mL per 100 g or 50 g per L."),
        ("about 150 %", Vague, "“about 150 %”: “about” makes it a guess. "
         "Write one amount, as the scale or the jug shows it."),
        ("2-3 %", Vague, "“2-3 %”: “-” at character 2 makes it a range. "
         "Write one amount, as the scale or the jug shows it."),
        ("-5 %", OutOfBounds,
         "“-5 %”: it is below zero. Write how much there is, without a sign."),
        ("0 %", OutOfBounds, "“0 %”: it is nothing. Write a dose such as 150 %."),
        ("35 mL per 0 g", OutOfBounds, "“0 g”: it is nothing. Write a weight such as 500 g."),
    ],
)  # fmt: skip
def test_an_unclear_dose_is_refused(words: str, trouble: type[Unclear], message: str) -> None:
    with pytest.raises(Unclear) as refused:
        read_dose(words)

    assert type(refused.value) is trouble
    assert str(refused.value) == message


@pytest.mark.parametrize(
    ("dose", "asked", "message"),
    [
        (read_dose("150 %"), "ml_per_100g",
         "“150 %”: a dose by weight was written. Write a volume per weight."),
        (read_dose("35 mL per 100 g"), "fraction",
         "“35 mL”: a volume per weight was written. Write a dose by weight."),
        (read_dose("35 mL per 100 g"), "g_per_l",
         "“35 mL”: a volume per weight was written. Write a weight per volume."),
    ],
)  # fmt: skip
def test_a_dose_of_another_kind_is_refused(dose: Dose, asked: str, message: str) -> None:
    with pytest.raises(OtherKind) as refused:
        getattr(dose, asked)

    assert str(refused.value) == message
