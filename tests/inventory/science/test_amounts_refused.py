"""Amounts that nobody could act on: refused with the part, its place and what to write."""

import pytest

from inventory.science.amounts import read_amount
from inventory.science.unclear import (
    Missing,
    NotOneAmount,
    NotUnderstood,
    OtherKind,
    OutOfBounds,
    TwoReadings,
    Unclear,
    Vague,
    WetWeight,
)

REFUSED: list[tuple[str, type[Unclear], str]] = [
    # nothing, or half of it
    ("", Missing, "nothing is written"),
    ("   ", Missing, "nothing is written"),
    ("\u00a0\t", Missing, "nothing is written"),
    ("3", Missing, "a unit is missing after “3”"),
    ("1½", Missing, "a unit is missing after “1½”"),
    ("half", Missing, "a unit is missing after “half”"),
    ("kg", Missing, "a number is missing before “kg” at character 1"),
    ("g 500", Missing, "a number is missing before “g” at character 1"),
    ("stones", Missing, "a number is missing before “stones” at character 1"),
    ("2 kg 300", Missing, "a unit is missing after “300”"),
    ("2 lb 3", Missing, "a unit is missing after “3”"),
    ("2 lb and", Missing, "something is missing at the end"),
    ("500 g,", Missing, "something is missing at the end"),
    ("1 2 kg", Missing, "a unit is missing after “1” at character 1"),
    ("12 15 g", Missing, "a unit is missing after “12” at character 1"),
    # two readings
    ("1,500 kg", TwoReadings, "“1,500” at character 1 may mean 1500 kg or 1.5 kg"),
    ("2,250 L", TwoReadings, "“2,250” at character 1 may mean 2250 L or 2.25 L"),
    ("12,000 kg", TwoReadings, "“12,000” at character 1 may mean 12000 kg or 12 kg"),
    ("1,500 litres", TwoReadings, "“1,500” at character 1 may mean 1500 L or 1.5 L"),
    ("2 500 g", TwoReadings, "“2 500” at character 1 may mean 2500 or two numbers, 2 and 500"),
    ("11/2 kg", TwoReadings, "“11/2” at character 1 may mean 5 1/2 or 1 1/2"),
    ("13/4 lb", TwoReadings, "“13/4” at character 1 may mean 3 1/4 or 1 3/4"),
    ("5 Mg", TwoReadings, "“Mg” at character 3 may mean mg or tonnes"),
    ("5 MG", TwoReadings, "“MG” at character 3 may mean mg or tonnes"),
    ("3 t", TwoReadings, "“t” at character 3 may mean tonnes or spoons"),
    ("2 tons", TwoReadings,
     "“tons” at character 3 may mean tonnes of 1,000 kg or tons of 2,240 or 2,000 lb"),
    ("5 gr", TwoReadings, "“gr” at character 3 may mean grams or grains of 65 mg"),
    ("12 st", TwoReadings, "“st” at character 4 may mean stones counted or stones of 14 lb"),
    ("2 cwt", TwoReadings,
     "“cwt” at character 3 may mean hundredweights of 112 lb or hundredweights of 100 lb"),
    ("2 k", TwoReadings, "“k” at character 3 may mean kg or thousands"),
    ("2 cups", TwoReadings, "“cups” at character 3 may mean cups of 250 mL or cups of 284 mL"),
    # ranges and guesses
    ("2-3 kg", Vague, "“-” at character 2 makes it a range"),
    ("2–3 kg", Vague, "“–” at character 2 makes it a range"),
    ("2 — 3 kg", Vague, "“—” at character 3 makes it a range"),
    ("2 to 3 kg", Vague, "“to” at character 3 makes it a range"),
    ("2 or 3 bags", Vague, "“or” at character 3 makes it a range"),
    ("two or three bags", Vague, "“or” at character 5 makes it a range"),
    ("2 kg to 3 kg", Vague, "“to” at character 6 makes it a range"),
    ("2..3 kg", Vague, "“.” at character 2 makes it a range"),
    ("2…3 kg", Vague, "“…” at character 2 makes it a range"),
    ("between 2 and 3 kg", Vague, "“between” makes it a guess"),
    ("about 3 kg", Vague, "“about” makes it a guess"),
    ("approx. 3 kg", Vague, "“approx” makes it a guess"),
    ("ca. 3 kg", Vague, "“ca” makes it a guess"),
    ("~3 kg", Vague, "“~” makes it a guess"),
    ("≈ 3 kg", Vague, "“≈” makes it a guess"),
    ("<3 kg", Vague, "“<” makes it a guess"),
    ("up to 3 kg", Vague, "“up” makes it a guess"),
    ("nearly a kilo", Vague, "“nearly” makes it a guess"),
    ("some", Vague, "“some” makes it a guess"),
    ("a few stones", Vague, "“few” makes it a guess"),
    ("a couple of bags", Vague, "“couple” makes it a guess"),
    ("3 kg?", Vague, "“?” makes it a guess"),
    ("3 kg ± 5 g", Vague, "“±” makes it a guess"),
    # too little, too much
    ("0 g", OutOfBounds, "it is nothing"),
    ("0", Missing, "a unit is missing after “0”"),
    ("0.0 kg", OutOfBounds, "it is nothing"),
    ("0 stones", OutOfBounds, "it is nothing"),
    ("-5 g", OutOfBounds, "it is below zero"),
    ("−5 g", OutOfBounds, "it is below zero"),
    ("- 5 g", OutOfBounds, "it is below zero"),
    ("minus 5 g", OutOfBounds, "it is below zero"),
    ("0.4 mg", OutOfBounds, "it is less than 1 mg when rounded"),
    ("0.5 mg", OutOfBounds, "it is less than 1 mg when rounded"),
    ("0.0004 g", OutOfBounds, "it is less than 1 mg when rounded"),
    ("0.0003 mL", OutOfBounds, "it is less than 1 µL when rounded"),
    ("1000000000000 g", OutOfBounds, "it is more than 100 tonnes"),
    ("100,000,001 g", OutOfBounds, "it is more than 100 tonnes"),
    ("100 tonnes 1 g", OutOfBounds, "it is more than 100 tonnes"),
    ("100001 L", OutOfBounds, "it is more than 100,000 L"),
    ("1,000,001 stones", OutOfBounds, "it is more than 1,000,000"),
    ("10,001 buckets", OutOfBounds, "it is more than 10,000"),
    ("9" * 190 + " g", OutOfBounds, "it is more than 100 tonnes"),
    ("2.5 stones", OutOfBounds, "every stone is counted whole"),
    ("half a stone", OutOfBounds, "every stone is counted whole"),
    # wet
    ("2,900 g wet", WetWeight, "“wet” at character 9 says that it was weighed wet"),
    ("2900g (wet)", WetWeight, "“wet” at character 8 says that it was weighed wet"),
    ("wet 2,900 g", WetWeight, "“wet” at character 1 says that it was weighed wet"),
    ("2.9 kg WET", WetWeight, "“WET” at character 8 says that it was weighed wet"),
    ("2.9 kg damp", WetWeight, "“damp” at character 8 says that it was weighed wet"),
    ("2.9 kg wrung out", WetWeight, "“wrung” at character 8 says that it was weighed wet"),
    # not one amount
    ("3 oz 2 lb", NotOneAmount,
     "lb follow oz, and amounts are written from large to small"),
    ("2 kg 3 kg", NotOneAmount, "kg follow kg, and amounts are written from large to small"),
    ("2 kg 3 oz", NotOneAmount, "kg and oz do not go together in one amount"),
    ("2 kg 300 mL", NotOneAmount, "kg and mL are of two kinds"),
    ("2 lb 16 oz", NotOneAmount, "16 oz make one lb or more"),
    ("2 kg 1500 g", NotOneAmount, "1500 g make one kg or more"),
    ("1.5 kg 300 g", NotOneAmount, "“1.5” is already exact, and more g follow it"),
    ("3 bags 2 buckets", NotOneAmount, "bag and bucket do not go together in one amount"),
    ("3 bags 2 kg", NotOneAmount, "bag and kg are of two kinds"),
    # another kind of thing
    ("3 hours", OtherKind, "a time was written"),
    ("3.5 kW", OtherKind, "a power was written"),
    ("2 m", OtherKind, "a length was written"),
    # not understood
    ("150 %", NotUnderstood, "“%” at character 5 was not understood"),
    ("35 mL per 100 g", NotUnderstood, "“per” at character 7 was not understood"),
    ("5 l/kg", NotUnderstood, "“/” at character 4 was not understood"),
    ("+5 g", NotUnderstood, "“+” at character 1 was not understood"),
    ("2 kg + 300 g", NotUnderstood, "“+” at character 6 was not understood"),
    ("2,900 g dry", NotUnderstood, "“dry” at character 9 was not understood"),
    ("1,400 g fresh", NotUnderstood, "“fresh” at character 9 was not understood"),
    ("500 g of skins", NotUnderstood, "“of” at character 7 was not understood"),
    ("500 g onion skins", NotUnderstood, "“onion” at character 7 was not understood"),
    ("3 bags of clippings", NotUnderstood, "“of” at character 8 was not understood"),
    ("5 xyz", NotUnderstood, "“xyz” at character 3 was not understood"),
    ("two hundred g", NotUnderstood, "“hundred” at character 5 was not understood"),
    ("1,,5 kg", NotUnderstood, "“,” at character 2 was not understood"),
    ("1.5.2 kg", NotUnderstood, "“1.5.2” at character 1 was not understood"),
    ("1,00,000 g", NotUnderstood, "“1,00,000” at character 1 was not understood"),
    ("1.5,5,5 kg", NotUnderstood, "“1.5,5,5” at character 1 was not understood"),
    ("1'50 g", NotUnderstood, "“1'50” at character 1 was not understood"),
    ("5. kg", NotUnderstood, "“.” at character 2 was not understood"),
    ("1_000 g", NotUnderstood, "“_” at character 2 was not understood"),
    ("1/0 kg", NotUnderstood, "“1” at character 1 was not understood"),
    ("5/4 kg", NotUnderstood, "“5/4” at character 1 was not understood"),
    ("1/2/3 kg", NotUnderstood, "“/” at character 4 was not understood"),
    ("1/2000 kg", NotUnderstood, "“1” at character 1 was not understood"),
    ("1.5/2 kg", NotUnderstood, "“2” at character 5 was not understood"),
    ("1.5½ kg", NotUnderstood, "“½” at character 4 was not understood"),
    ("½½ kg", NotUnderstood, "“½” at character 2 was not understood"),
    ("5² g", NotUnderstood, "“²” at character 2 was not understood"),
    ("① kg", NotUnderstood, "“①” at character 1 was not understood"),
    ("⅟2 kg", NotUnderstood, "“⅟” at character 1 was not understood"),
    ("Ⅳ kg", NotUnderstood, "“Ⅳ” at character 1 was not understood"),
    ("1٢ g", NotUnderstood, "“٢” at character 2 was not understood"),
    ("3 x 500 g", NotUnderstood, "“x” at character 3 was not understood"),
    ("3 × 500 g", NotUnderstood, "“×” at character 3 was not understood"),
    ("€5", NotUnderstood, "“€” at character 1 was not understood"),
    ("5 £", NotUnderstood, "“£” at character 3 was not understood"),
    ("8 °C", NotUnderstood, "“°” at character 3 was not understood"),
    ("(500 g)", NotUnderstood, "“(” at character 1 was not understood"),
    ("500 g; 300 g", NotUnderstood, "“;” at character 6 was not understood"),
    ("500 g\n300 mg x", NotUnderstood, "“x” at character 14 was not understood"),
    # hostile
    ("9**9**9", NotUnderstood, "“*” at character 2 was not understood"),
    ("9^9^9 g", NotUnderstood, "“^” at character 2 was not understood"),
    ("1e999 g", NotUnderstood, "“e” at character 2 was not understood"),
    ("1e3 g", NotUnderstood, "“e” at character 2 was not understood"),
    ("1E-9 g", NotUnderstood, "“E” at character 2 was not understood"),
    ("0x10 g", NotUnderstood, "“x” at character 2 was not understood"),
    ("nan", NotUnderstood, "“nan” at character 1 was not understood"),
    ("nan g", NotUnderstood, "“nan” at character 1 was not understood"),
    ("inf kg", NotUnderstood, "“inf” at character 1 was not understood"),
    ("-inf kg", OutOfBounds, "it is below zero"),
    ("∞ kg", NotUnderstood, "“∞” at character 1 was not understood"),
    ("5 g\x00", NotUnderstood, "“[U+0000]” at character 4 was not understood"),
    ("\x005 g", NotUnderstood, "“[U+0000]” at character 1 was not understood"),
    ("\ud800 g", NotUnderstood, "“[U+D800]” at character 1 was not understood"),
    ("5\udfff g", NotUnderstood, "“[U+DFFF]” at character 2 was not understood"),
    ("5\u200b g", NotUnderstood, "“[U+200B]” at character 2 was not understood"),
    ("\u202e5 g", NotUnderstood, "“[U+202E]” at character 1 was not understood"),
    ("\ufeff5 g", NotUnderstood, "“[U+FEFF]” at character 1 was not understood"),
    ("=1+1", NotUnderstood, "“=” at character 1 was not understood"),
    ("__import__('os')", NotUnderstood, "“_” at character 1 was not understood"),
    ("'; DROP TABLE lots; --", NotUnderstood, "“'” at character 1 was not understood"),
    ("<script>", Vague, "“<” makes it a guess"),
    ("{5} g", NotUnderstood, "“{” at character 1 was not understood"),
    ("%s g", NotUnderstood, "“%” at character 1 was not understood"),
    ("1 " * 100 + "g", Unclear, "it is 201 characters long, more than 200"),
    ("g" * 10_000, Unclear, "it is 10000 characters long, more than 200"),
]  # fmt: skip


def test_at_least_120_writings_are_refused() -> None:
    assert len(REFUSED) >= 120


@pytest.mark.parametrize(
    ("words", "trouble", "problem"), REFUSED, ids=lambda value: ascii(value)[:40]
)
def test_unclear_writing_is_refused_with_the_part_and_its_place(
    words: str, trouble: type[Unclear], problem: str
) -> None:
    with pytest.raises(Unclear) as refused:
        read_amount(words)

    assert type(refused.value) is trouble
    assert refused.value.problem == problem
    assert refused.value.write.endswith(".")
    assert str(refused.value).isprintable()


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ("2 kg 300",
         "“2 kg 300”: a unit is missing after “300”. Write 300 g, 300 mL or 300 stones."),
        ("1,500 kg",
         "“1,500 kg”: “1,500” at character 1 may mean 1500 kg or 1.5 kg. Write 1500 kg or 1.5 kg."),
        ("2,900 g wet",
         "“2,900 g wet”: “wet” at character 9 says that it was weighed wet. Write the dry weight: "
         "weigh it dry, or take it from the ticket."),
        ("500 g onion skins",
         "“500 g onion skins”: “onion” at character 7 was not understood. Write the amount alone, "
         "without what it is of."),
        ("150 %",
         "“150 %”: “%” at character 5 was not understood. A percentage is a dose; write a weight "
         "such as 500 g."),
    ],
)  # fmt: skip
def test_the_message_says_what_to_write(words: str, message: str) -> None:
    with pytest.raises(Unclear) as refused:
        read_amount(words)

    assert str(refused.value) == message


def test_a_trouble_carries_its_values() -> None:
    with pytest.raises(TwoReadings) as refused:
        read_amount("take 1,500 kg".removeprefix("take "))

    assert refused.value.readings == ("1500 kg", "1.5 kg")
    assert (refused.value.words, refused.value.part, refused.value.position) == (
        "1,500 kg",
        "1,500",
        1,
    )


def test_a_long_writing_is_not_repeated_whole() -> None:
    with pytest.raises(Unclear) as refused:
        read_amount("x" * 500)

    assert len(str(refused.value)) < 200


def test_where_points_may_group_thousands_both_readings_are_named_and_neither_is_taken() -> None:
    with pytest.raises(TwoReadings, match=r"may mean 1180 g or 1\.18 g"):
        read_amount("1.180 g", country="GB", point_groups=True)

    assert read_amount("1.180 g", country="GB").mg == 1180
    assert read_amount("1.180 g", country="DE", point_groups=False).mg == 1180
