"""Cells of every kind, read and written back."""

from __future__ import annotations

from datetime import date, time
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest

from sourcing.notebook.cells import Setting, read_cell, write_cell
from sourcing.notebook.page import Column
from sourcing.notebook.problem import Unclear
from sourcing.notebook.quantities import Counted, DoseOf, FigureOf, Weighed
from sourcing.notebook.yard_pages import PAGES
from sourcing.week.facts import Heat

LONDON = Setting(ZoneInfo("Europe/London"), "GB")
EVERY_COLUMN = [
    pytest.param(column, id=f"{page.name}, {column.name}")
    for page in PAGES
    for column in page.columns
]


def read(kind: str, text: str, **more: object) -> object:
    return read_cell(Column("it", kind, "such", "it", **more), text, LONDON)  # type: ignore[arg-type]


@pytest.mark.parametrize("column", EVERY_COLUMN)
def test_the_example_of_a_column_is_read_and_read_back_as_written(column: Column) -> None:
    value = read_cell(column, column.example, LONDON)

    assert read_cell(column, write_cell(column, value, LONDON), LONDON) == value


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        ("yes or no", "Yes", True),
        ("yes or no", "n", False),
        ("codes", "R1, R2", ("R1", "R2")),
        ("codes", "R1 and R2", ("R1", "R2")),
        ("weight", "2 lb 3 oz", 992_233),  # 2 × 453,592.37 + 3 × 28,349.523125 mg
        ("weight", "1½ kg", 1_500_000),
        ("weight", "1,900 g", 1_900_000),
        ("weight or count", "58 stones", Counted(58, "stone")),
        ("weight or count", "1.9 kg", Weighed(1_900_000)),
        ("volume", "0 mL", 0),
        ("volume", "1 pint", 568_261),  # UK: 568.26125 mL
        ("power", "3.5 kW", 3500),
        ("warmth", "8 °C", Decimal(8)),
        ("warmth", "46 °F", Decimal("7.8")),
        ("warmth", "−18 °C", Decimal(-18)),
        ("percent", "12.5 %", Decimal("12.5")),
        ("number", "7,4", Decimal("7.4")),
        ("number", "3,500", Decimal(3500)),
        ("ratio", "30:1", Fraction(30)),
        ("ratio", "30:01:00", Fraction(30)),
        ("ratio", "26 2/3 : 1", Fraction(80, 3)),
        ("litres per kg", "26 2/3 L per kg", Fraction(80, 3)),
        ("litres per kg", "20 L/kg", Fraction(20)),
        ("parts", "2 water : 1 vinegar", (Fraction(1), Fraction(2))),
        ("parts", "1 vinegar to 2 water", (Fraction(1), Fraction(2))),
        ("mordant", "Alum 12 %", ("alum", Decimal(12))),
        ("dose", "150 %", DoseOf(Fraction(3, 2))),
        ("dose", "35 mL per 100 g", DoseOf(Fraction(35, 100), "mL per 100 g")),
        ("dose", "30 L per kg", DoseOf(Fraction(30), "L per kg")),
        ("dose", "8 oz per lb", DoseOf(Fraction(1, 2))),
        ("grams per litre", "50 g per L", Decimal(50)),
        ("figure", "5 %", FigureOf(Decimal(5), "%")),
        ("figure", "£16", FigureOf(Decimal(16))),
        ("figure", "2.70", FigureOf(Decimal("2.70"))),
        ("minutes", "6 h", 360),
        ("minutes", "1 h 30 min", 90),
        ("minutes", "1.5 h", 90),
        ("days long", "4 weeks", 28),
        ("hands", "30 min per load", (30, "load")),
        ("hands", "1 h per dye load", (60, "dye load")),
        ("stands", "24 h", (1440, None)),
        ("stands", "12 to 48 h", (720, 2880)),
        ("stands", "90 min", (90, None)),
        ("stands", "12 h to 2 d", (720, 2880)),
        ("heats", "fresh > 55 hold 60 min", (Heat(55, 60),)),
        ("heats", "Fresh > 55 °C hold 1 h", (Heat(55, 60),)),
        ("heats", "mixed > 80 hold 60", (Heat(80, 60),)),
        ("heats", "fresh > 80 hold 60; 70 > 80 hold 45 min", (Heat(80, 60), Heat(80, 45, 70))),
        ("heats", "46 °F > 180 °F hold 60 min", (Heat(82, 60, 8),)),
        ("weekday or day", "Mon", 0),
        ("weekday or day", "27 Nov 2026", date(2026, 11, 27)),
        ("weekdays or days", "Mon, Thu", (0, 3)),
        (
            "days",
            "24 Dec 2026 to 4 Jan 2027, 2 Apr 2027",
            ((date(2026, 12, 24), date(2027, 1, 4)), (date(2027, 4, 2), date(2027, 4, 2))),
        ),
        ("clock", "14:00", time(14)),
        ("rule", "Scour loss fraction", "scour_loss_fraction"),
        ("currency", "£", "GBP"),
    ],
)
def test_a_cell_is_read_as_people_write_it(kind: str, text: str, value: object) -> None:
    assert read(kind, text) == value


@pytest.mark.parametrize(
    ("kind", "text", "sentence"),
    [
        ("yes or no", "perhaps", "Write yes or no."),
        ("codes", "R1, R1", "R1 stands there twice. Write it once."),
        ("code", "R1;R2", "It may not hold ; since lists do. Write such as such."),
        ("code", "x" * 41, "It has 41 characters; write at most 40."),
        ("name", "x" * 81, "It has 81 characters; write at most 80."),
        ("text", "x" * 201, "It has 201 characters; write at most 200."),
        ("whole", "four", "Write a whole number such as such."),
        ("whole", "-4", "Write a whole number such as such."),
        ("percent", "5", "Write it in percent, such as 5 %."),
        ("number", "1e9", "Write a number such as 7.4."),
        ("number", "nan", "Write a number such as 7.4."),
        ("warmth", "warm", "Write a warmth such as 8 °C or 46 °F."),
        ("warmth", "400 °C", "Write a warmth from -60 to 110 °C."),
        ("ratio", "30", "Write litres for one kilo, such as 30:1."),
        ("ratio", "30:2", "Write litres for one kilo, such as 30:1."),
        ("ratio", "0:1", "That is out of reason. Write litres for one kilo, such as 30:1."),
        ("dose", "plenty", "Write a dose such as 150 %, 35 mL per 100 g or 30 L per kg."),
        (
            "dose",
            "0 %",
            "That is out of reason. Write a dose such as 150 %, 35 mL per 100 g or 30 L per kg.",
        ),
        ("parts", "2:1", "Write water and vinegar, such as 2 water : 1 vinegar."),
        (
            "parts",
            "2 water : 0 vinegar",
            "There is vinegar in every jar. Write water and vinegar, such as 2 water : 1 vinegar.",
        ),
        ("mordant", "alum", "Write what it is and how much, such as alum 12 %."),
        ("minutes", "soon", "Write a time such as 30 min, 3 h or 2 d."),
        ("minutes", "90 s", "Write a time such as 30 min, 3 h or 2 d."),
        ("minutes", "0.01 h", "Minutes are whole. Write a time such as 30 min, 3 h or 2 d."),
        ("minutes", "61 d", "That is longer than sixty days. Write a shorter time."),
        ("days long", "30 h", "Write whole days, such as 28 d."),
        (
            "hands",
            "30 min",
            "Write hands such as 30 min per load; per load, run, kg or dye load.",
        ),
        ("stands", "a while", "Write a standing time such as 24 h, or 12 to 48 h."),
        (
            "stands",
            "48 to 12 h",
            "The longest time is shorter than the shortest. "
            "Write a standing time such as 24 h, or 12 to 48 h.",
        ),
        ("heats", "hot", "Write heats such as fresh > 55 hold 60 min; 70 > 80 hold 45 min."),
        (
            "heats",
            "90 > 80 hold 60",
            "Heat goes up, and to 100 °C at most. "
            "Write heats such as fresh > 55 hold 60 min; 70 > 80 hold 45 min.",
        ),
        (
            "heats",
            "fresh > 101 hold 60",
            "Heat goes up, and to 100 °C at most. "
            "Write heats such as fresh > 55 hold 60 min; 70 > 80 hold 45 min.",
        ),
        (
            "weekday or day",
            "Moonday",
            "“Moonday” is no day of the week. Write such as Mon, or Mon 23 Nov 2026.",
        ),
        (
            "days",
            "4 Jan 2027 to 24 Dec 2026",
            "Write first and last day, such as 24 Dec 2026 to 4 Jan 2027.",
        ),
        (
            "zone",
            "GMT+1",
            "There is no such time zone. Write its full name, such as Europe/London.",
        ),
        (
            "zone",
            "../../etc/passwd",
            "There is no such time zone. Write its full name, such as Europe/London.",
        ),
        ("rule", "2 × 2", "Write the rule in plain words, such as scour loss fraction."),
    ],
)
def test_a_cell_that_says_nothing_is_refused_with_what_to_write(
    kind: str, text: str, sentence: str
) -> None:
    with pytest.raises(Unclear) as refusal:
        read(kind, text)

    assert str(refusal.value) == sentence


@pytest.mark.parametrize("text", ["0 g", "lots", "10^12 g", "1000000000000 g", "-5 g", "5", "2 L"])
def test_a_weight_is_a_weight_above_nothing_and_within_reason(text: str) -> None:
    with pytest.raises(Unclear, match=r"(?i)\. .*write .*\.$"):
        read("weight", text)


def test_a_wet_weight_is_refused_and_the_dry_one_asked_for() -> None:
    with pytest.raises(Unclear) as refusal:
        read("weight", "2,900 g wet")

    assert str(refusal.value).endswith(
        "Write the dry weight: weigh it dry, or take it from the ticket."
    )


def test_a_number_is_held_between_its_ends() -> None:
    ends = {"low": Decimal(1), "high": Decimal(5)}

    assert read("whole", "1", **ends) == 1
    assert read("whole", "5", **ends) == 5
    for beyond in ("0", "6"):
        with pytest.raises(Unclear, match=r"^Write a number from 1 to 5\.$"):
            read("whole", beyond, **ends)


def test_a_pint_is_the_one_of_the_studios_country() -> None:
    column = Column("left", "volume", "1 pint", "left")

    assert read_cell(column, "1 pint", Setting(LONDON.zone, "US")) == 473_176
