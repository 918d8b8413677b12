"""Amounts as people write them: what is read, exactly, and how it was understood."""

from fractions import Fraction

import pytest

from inventory.science.amounts import (
    read_amount,
    read_dry_weight,
    read_mass,
    read_volume,
)
from inventory.science.unclear import (
    NotUnderstood,
    OtherKind,
    OutOfBounds,
    TwoReadings,
    WetWeight,
)

G = 1000  # mg
KG = 1_000_000  # mg
ML = 1000  # µL
L = 1_000_000  # µL
# Exact: NIST SP 811 (2008), App. B.8; Weights and Measures (UK gallon of 4.54609 L).
LB = Fraction("453592.37")
OZ = LB / 16
UK_GAL = Fraction("4546090")
US_GAL = Fraction("3785411.784")

# words, exact value in mg
MASSES = [
    ("500 g", 500 * G),
    ("500g", 500 * G),
    ("500 G", 500 * G),
    ("  500 g  ", 500 * G),
    ("500 g.", 500 * G),
    ("500 gm", 500 * G),
    ("500 gms", 500 * G),
    ("500 grams", 500 * G),
    ("500 Grammes", 500 * G),
    ("1 gram", G),
    ("007 g", 7 * G),
    ("2 kg", 2 * KG),
    ("2kg", 2 * KG),
    ("2 KG", 2 * KG),
    ("2 Kgs", 2 * KG),
    ("2 kilos", 2 * KG),
    ("2 kilogrammes", 2 * KG),
    ("2 kg 300 g", 2300 * G),
    ("2kg300g", 2300 * G),
    ("2 kg, 300 g", 2300 * G),
    ("2 kg and 300 g", 2300 * G),
    ("1 kg 2 g 3 mg", KG + 2 * G + 3),
    ("1½ kg", 1500 * G),
    ("1 ½ kg", 1500 * G),
    ("½ kg", 500 * G),
    ("½kg", 500 * G),
    ("¼ kg", 250 * G),
    ("¾ kg", 750 * G),
    ("⅓ kg", Fraction(KG, 3)),
    ("⅔ kg", Fraction(2 * KG, 3)),
    ("⅛ kg", 125 * G),
    ("1/2 kg", 500 * G),
    ("1 1/2 kg", 1500 * G),
    ("3 / 4 kg", 750 * G),
    ("1⁄2 kg", 500 * G),
    ("2 1/2 lb", LB * 5 / 2),
    ("1,5 kg", 1500 * G),
    ("0,5 kg", 500 * G),
    ("0,500 kg", 500 * G),
    ("1,25 kg", 1250 * G),
    ("1,2345 kg", Fraction("1234500")),
    ("1,500 g", 1500 * G),
    ("12,500 g", 12_500 * G),
    ("1,234,567 g", 1_234_567 * G),
    ("1,500.5 g", Fraction("1500500")),
    ("1.500,5 g", Fraction("1500500")),
    ("1.234.567 g", 1_234_567 * G),
    ("1'500 g", 1500 * G),
    ("1’500 g", 1500 * G),
    ("1\u00a0500 g", 1500 * G),
    ("1\u2009500 g", 1500 * G),
    ("1\u202f500\u00a0g", 1500 * G),
    ("1\u00a0234\u00a0567,5 g", Fraction("1234567500")),
    ("1.5 kg", 1500 * G),
    ("1·5 kg", 1500 * G),
    (".5 kg", 500 * G),
    ("1.500 kg", 1500 * G),
    ("1.234 g", 1234),
    ("0.125 g", 125),
    ("１２ｋｇ", 12 * KG),
    ("１．５ kg", 1500 * G),
    ("٣ kg", 3 * KG),
    ("३ kg", 3 * KG),
    ("5 ㎏", 5 * KG),
    ("40 mg", 40),
    ("1500 µg", Fraction(3, 2)),
    ("1500 μg", Fraction(3, 2)),
    ("20 dag", 200 * G),
    ("1 tonne", 1000 * KG),
    ("2 lb", LB * 2),
    ("2 lbs", LB * 2),
    ("2 lb. 3 oz.", LB * 2 + OZ * 3),
    ("2 lb 3 oz", LB * 2 + OZ * 3),
    ("2lb3oz", LB * 2 + OZ * 3),
    ("2 pounds 3 ounces", LB * 2 + OZ * 3),
    ("2 pounds and 3½ ounces", LB * 2 + OZ * 7 / 2),
    ("1,500 lb", LB * 1500),
    ("8 oz", OZ * 8),
    ("5 grains", LB / 7000 * 5),
    ("a kilo", KG),
    ("half a kilo", 500 * G),
    ("Half a kilo", 500 * G),
    ("half kilo", 500 * G),
    ("half-kilo", 500 * G),
    ("a half kilo", 500 * G),
    ("half of a kilo", 500 * G),
    ("a quarter kilo", 250 * G),
    ("quarter of a kilo", 250 * G),
    ("three quarters of a kilo", 750 * G),
    ("3 quarters of a kilo", 750 * G),
    ("two thirds of a kilo", Fraction(2 * KG, 3)),
    ("a kilo and a half", 1500 * G),
    ("two and a half kilos", 2500 * G),
    ("2 and three quarters kilos", 2750 * G),
    ("a pound and half an ounce", LB + OZ / 2),
    ("twenty-five grams", 25 * G),
    ("twelve ounces", OZ * 12),
    ("100 tonnes", 10**11),
    ("0.5001 mg", Fraction("0.5001")),
]
# words, country, exact value in µL
VOLUMES = [
    ("750ml", "GB", 750 * ML),
    ("750 mL", "GB", 750 * ML),
    ("750 mls", "GB", 750 * ML),
    ("750 ML", "GB", 750 * ML),
    ("750 cc", "GB", 750 * ML),
    ("5 ㎖", "GB", 5 * ML),
    ("12 L", "GB", 12 * L),
    ("3.0 l", "GB", 3 * L),
    ("3 ℓ", "GB", 3 * L),
    ("3 ltr", "GB", 3 * L),
    ("1½ litres", "GB", 1500 * ML),
    ("1,5 L", "GB", 1500 * ML),
    ("1,500 mL", "GB", 1500 * ML),
    ("33 cl", "GB", 330 * ML),
    ("5 dl", "GB", 500 * ML),
    ("2 L 500 mL", "GB", 2500 * ML),
    ("a litre and a half", "GB", 1500 * ML),
    ("half a litre", "GB", 500 * ML),
    ("5 µL", "GB", 5),
    ("1 tsp", "GB", 5 * ML),
    ("2 tablespoons", "GB", 30 * ML),
    ("5 pt", "GB", UK_GAL * 5 / 8),
    ("5 pt", "IE", UK_GAL * 5 / 8),
    ("5 pt", "US", US_GAL * 5 / 8),
    ("1 gal", "GB", UK_GAL),
    ("1 gal", "us", US_GAL),
    ("1 gallon 2 pints", "GB", UK_GAL * 10 / 8),
    ("8 fl oz", "GB", UK_GAL / 20),
    ("8 fl. oz.", "GB", UK_GAL / 20),
    ("8 fluid ounces", "GB", UK_GAL / 20),
    ("8 floz", "US", US_GAL / 16),
    ("1 quart", "GB", UK_GAL / 4),
    ("2 cups", "US", US_GAL / 8),
    ("1 tbsp", "US", US_GAL / 256),
    ("1 US gal", "GB", US_GAL),
    ("1 UK pint", "US", UK_GAL / 8),
    ("1 imperial pint", "US", UK_GAL / 8),
    ("a pint and a half", "GB", UK_GAL * 3 / 16),
]
# words, kind, number, of what
COUNTS = [
    ("58 stones", "count", 58, "stone"),
    ("58 STONES", "count", 58, "stone"),
    ("58 Stones.", "count", 58, "stone"),
    ("1 stone", "count", 1, "stone"),
    ("one stone", "count", 1, "stone"),
    ("a stone", "count", 1, "stone"),
    ("1,500 stones", "count", 1500, "stone"),
    ("twenty two stones", "count", 22, "stone"),
    ("a dozen stones", "count", 12, "stone"),
    ("half a dozen stones", "count", 6, "stone"),
    ("two dozen stones", "count", 24, "stone"),
    ("1½ dozen stones", "count", 18, "stone"),
    ("40 leaves", "count", 40, "leaf"),
    ("40 berries", "count", 40, "berry"),
    ("7 skeins", "count", 7, "skein"),
    ("3 bags", "container", 3, "bag"),
    ("half a bucket", "container", Fraction(1, 2), "bucket"),
    ("half bucket", "container", Fraction(1, 2), "bucket"),
    ("a bucketful", "container", 1, "bucket"),
    ("a bucket and a half", "container", Fraction(3, 2), "bucket"),
    ("2½ buckets", "container", Fraction(5, 2), "bucket"),
    ("two thirds of a sack", "container", Fraction(2, 3), "sack"),
    ("0.25 tub", "container", Fraction(1, 4), "tub"),
    ("3 carrier bags", "container", 3, "carrier bag"),
]


def test_at_least_120_writings_are_read() -> None:
    assert len(MASSES) + len(VOLUMES) + len(COUNTS) >= 120


@pytest.mark.parametrize(("words", "mg"), MASSES)
def test_a_weight_is_read_exactly(words: str, mg: int | Fraction) -> None:
    read = read_amount(words)

    assert (read.kind, read.unit, read.value) == ("mass", "mg", mg)
    assert read.mg == round(Fraction(mg))
    assert read.words == words


@pytest.mark.parametrize(("words", "country", "ul"), VOLUMES)
def test_a_volume_is_read_exactly(words: str, country: str, ul: int | Fraction) -> None:
    read = read_amount(words, country=country)

    assert (read.kind, read.unit, read.value) == ("volume", "µL", ul)
    assert read.ul == read_volume(words, country=country) == round(Fraction(ul))


@pytest.mark.parametrize(("words", "kind", "number", "unit"), COUNTS)
def test_a_count_is_read_exactly(words: str, kind: str, number: int | Fraction, unit: str) -> None:
    read = read_amount(words)

    assert (read.kind, read.unit, read.value) == (kind, unit, number)


@pytest.mark.parametrize(
    ("words", "country", "understood"),
    [
        ("2 lb 3 oz", "GB", "2 lb 3 oz = 992 g"),
        ("2,436 g", "GB", "2,436 g"),
        ("1½ kg", "GB", "1½ kg = 1,500 g"),
        ("5 pt", "GB", "5 pt (UK) = 2.841 L"),
        ("5 pt", "US", "5 pt (US) = 2.366 L"),
        ("1 US gal", "GB", "1 US gal = 3.785 L"),
        ("58 stones", "GB", "58 stones"),
        ("half a bucket", "GB", "half a bucket = ½ bucket"),
        ("a  dozen\tstones", "GB", "a dozen stones = 12 stones"),
    ],
)
def test_how_it_was_understood_is_said(words: str, country: str, understood: str) -> None:
    assert read_amount(words, country=country).understood == understood


# --- what depends on the studio ----------------------------------------------------------------


def test_where_points_group_thousands_a_point_before_three_digits_is_refused() -> None:
    with pytest.raises(TwoReadings) as refused:
        read_amount("1.500 g", country="DE")

    assert refused.value.readings == ("1500 g", "1.5 g")
    assert read_mass("1.500 kg", country="DE") == 1500 * G
    assert read_mass("1.50 g", country="DE") == 1500
    assert read_mass("0.500 g", country="DE") == 500
    assert read_mass("1.500 g", country="GB") == 1500


def test_a_studio_counts_in_words_of_its_own() -> None:
    read = read_amount("12 oak galls", pieces=("oak gall",))

    assert (read.kind, read.unit, read.pieces) == ("count", "oak gall", 12)
    with pytest.raises(NotUnderstood):
        read_amount("12 oak galls")


def test_a_studio_measures_in_containers_of_its_own() -> None:
    read = read_amount("2½ coal scuttles", containers=("coal scuttle",))

    assert (read.kind, read.unit, read.value) == ("container", "coal scuttle", Fraction(5, 2))


def test_a_state_is_read_only_where_it_is_asked_for() -> None:
    read = read_amount("1,400 g fresh", bases=("fresh", "dried"))

    assert (read.mg, read.basis) == (1400 * G, "fresh")
    assert read_amount("1,400 g", bases=("fresh",)).basis == ""
    with pytest.raises(NotUnderstood):
        read_amount("1,400 g frozen", bases=("fresh", "dried"))


def test_a_dry_weight_is_taken_and_a_wet_one_is_never_worked_with() -> None:
    assert read_dry_weight("2,000 g") == read_dry_weight("2,000 g dry weight") == 2000 * G
    with pytest.raises(WetWeight):
        read_dry_weight("2,900 g wet")


def test_nothing_is_an_amount_only_where_a_shelf_may_be_empty() -> None:
    assert read_mass("0 g", may_be_zero=True) == 0
    assert read_volume("0 mL", may_be_zero=True) == 0
    with pytest.raises(OutOfBounds):
        read_mass("0 g")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ("750 mL", "“750 mL”: a volume was written. Write a weight such as 500 g."),
        ("58 stones", "“58 stones”: a count was written. Write a weight such as 500 g."),
    ],
)
def test_another_kind_is_refused_where_a_weight_is_asked_for(words: str, message: str) -> None:
    with pytest.raises(OtherKind) as refused:
        read_mass(words)

    assert str(refused.value) == message


def test_rounding_to_the_milligram_happens_once_and_to_the_even_side() -> None:
    assert [read_mass(f"{tenths} mg") for tenths in ("1.5", "2.5", "2.51")] == [2, 2, 3]
    assert read_mass("1 mg 500 µg") == 2
    assert read_mass("⅓ kg") == 333_333


def test_just_within_the_bounds_is_read() -> None:
    assert read_mass("100 tonnes") == 10**11
    assert read_volume("100000 L") == 10**11
    assert read_amount("1,000,000 stones").pieces == 10**6
    assert read_amount("5" + " " * 197 + " g").mg == 5 * G  # 200 characters
