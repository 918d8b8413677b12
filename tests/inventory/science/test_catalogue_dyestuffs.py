"""The catalogue of dyestuffs: each row well formed, and a broken one found."""

import re
from collections import Counter

import pytest

from tests.inventory.science.dyestuff_rows import HEADER, ITEMS, NUMBERS, ROWS, Row, word

COLUMNS = ["item", "property", "low", "typical", "high", "unit", "basis", "source"]
# property: the one unit that its numbers carry
UNITS = {
    "fresh_water_content": "% w/w",
    "dry_powder_water": "% w/w",
    "dry_bean_water": "% w/w",
    "tannin_content": "% w/w",
    "stone_part_of_fruit": "% w/w",
    "skin_part_of_bulb": "% w/w",
    "dry_to_fresh_ratio": "g/g",
    "mean_piece_mass": "g",
    "bulk_density_fresh": "g/L",
    "bulk_density_dried": "g/L",
    "bulk_density_blanched": "g/L",
    "dyestuff_ratio_fresh": "% of weight of fibre",
    "dyestuff_ratio_dried": "% of weight of fibre",
    "chalk_addition": "% of weight of fibre",
    "extraction_temperature_max": "°C",
    "dyeing_temperature": "°C",
    "extraction_time": "min",
    "dyeing_time": "min",
    "soak_before": "hours",
    "soak_water_ratio": "parts of water",
    "shelf_life_room": "days",
    "shelf_life_fridge": "days",
    "shelf_life_freezer": "days",
    "shelf_life_dried": "days",
    "season_start": "month",
    "season_end": "month",
    "exhaust_baths": "baths",
    "refuse_part": "%",
    "tops_to_roots": "%",
    "lightfastness": "ISO 105-B02 grade",
}
# unit: the least and the most that can be true of a dyestuff
SPANS = {
    "% w/w": (0.5, 95),
    "g/g": (0.05, 1.05),
    "g": (0.3, 300),
    "g/L": (10, 900),
    "% of weight of fibre": (1, 1000),
    "°C": (20, 100),
    "min": (10, 2880),
    "hours": (1, 700),
    "parts of water": (1, 10),
    "days": (0, 3650),
    "month": (1, 12),
    "baths": (1, 6),
    "%": (1, 250),
    "ISO 105-B02 grade": (1, 8),
}
WORDS = {
    "botanical_name",
    "part",
    "part_note",
    "scope",
    "needs_mordant",
    "tannin_rich",
    "colour_family_on_alum",
    "colour_family_on_iron",
    "colour_family_on_copper",
    "colour_family_unmordanted",
    "ph_sensitive",
    "shift_acid",
    "shift_alkaline",
    "lightfastness",
    "washfastness",
    "uptake_note",
    "extraction_note",
    "hazard",
    "poisonous",
}
EACH_HAS = {"botanical_name", "part", "hazard", "poisonous", "needs_mordant", "washfastness"}
BASES = {"published", "common practice", "memory"}
# An address, a number of a data set or paper, a title in quotes, or a year.
NAMED = re.compile(r"\w\.[a-z]{2,}\b|NDB \d{5}|doi 10\.|\"[^\"]+\"|\(?(19|20)\d\d\)?")
AMISS = re.compile(
    r"\b(pits?|colou?rway|color|gray|mold|fiber|deg C|software|users?|share|safe|harmless|"
    r"non-toxic|eco-friendly|chemical-free|from memory; check)\b|  ",
    re.IGNORECASE,
)


def faults(row: Row) -> list[str]:
    """What is wrong with a row, read by itself."""
    given = [row[name] for name in NUMBERS if row[name]]
    numeric = all(re.fullmatch(r"\d+(\.\d+)?", text) for text in given)
    found = _number_faults(row, given) if given and numeric else _word_faults(row)
    if row["basis"] not in BASES:
        found.append(f"basis {row['basis']!r}")
    if row["basis"] == "published" and not NAMED.search(row["source"]):
        found.append("published without a source")
    return found + [f"cell {cell!r}" for cell in row.values() if _cell_is_amiss(cell)]


def _number_faults(row: Row, given: list[str]) -> list[str]:
    unit = row["unit"].split(", ")[0]
    values = [float(text) for text in given]
    if UNITS.get(row["property"]) != unit:
        return [f"unit {unit!r} of {row['property']}"]
    least, most = SPANS[unit]
    found = [] if values == sorted(values) else ["low, typical, high out of order"]
    return found + [f"{value} {unit}" for value in values if not least <= value <= most]


def _word_faults(row: Row) -> list[str]:
    found = [] if row["property"] in WORDS else [f"words for {row['property']}"]
    if row["low"] or row["high"] or row["unit"] or not row["typical"]:
        found.append("words stand in typical alone, without a unit")
    return found


def _cell_is_amiss(cell: str) -> bool:
    return cell != cell.strip() or AMISS.search(cell) is not None


def test_the_table_has_the_columns_of_its_paper() -> None:
    assert HEADER == COLUMNS
    assert None not in {key for row in ROWS for key in row}
    assert len(ITEMS) == 45


def test_no_row_is_at_fault() -> None:
    assert {number: faults(row) for number, row in enumerate(ROWS, 2) if faults(row)} == {}


def test_no_row_stands_twice_and_the_rows_of_one_thing_stand_together() -> None:
    said = Counter(tuple(row[name] for name in COLUMNS[:6]) for row in ROWS)
    order = [row["item"] for row in ROWS]
    begins = [now for before, now in zip(["", *order], order, strict=False) if now != before]

    assert [key for key, times in said.items() if times > 1] == []
    assert len(begins) == len(set(begins))


GOOD: Row = dict(
    zip(COLUMNS, ["weld", "shelf_life_room", "2", "4", "7", "days", "memory", ""], strict=True)
)


@pytest.mark.parametrize(
    "wrong",
    [
        {"low": "5"},
        {"high": "3"},
        {"high": "4000"},
        {"typical": "4.0e0"},
        {"typical": "about 4"},
        {"unit": "hours"},
        {"unit": ""},
        {"property": "shelf_live_room"},
        {"property": "season_start", "unit": "month", "high": "13"},
        {"property": "season_start", "unit": "month", "low": "0"},
        {"property": "extraction_temperature_max", "unit": "°C", "low": "", "high": "101"},
        {"property": "lightfastness", "unit": "ISO 105-B02 grade", "high": "9"},
        {"low": "", "typical": "", "high": ""},
        {"basis": "guess"},
        {"basis": "published", "source": ""},
        {"basis": "published", "source": "a dyer"},
        {"source": "said to be harmless"},
        {"source": "avocado pits"},
        {"item": " weld"},
    ],
    ids=str,
)
def test_a_broken_row_is_found(wrong: Row) -> None:
    assert faults(GOOD) == []
    assert faults(GOOD | wrong) != []


@pytest.mark.parametrize("item", ITEMS)
def test_each_dyestuff_says_what_a_dyer_asks_first(item: str) -> None:
    count = Counter(row["property"] for row in ROWS if row["item"] == item)

    assert {name for name in EACH_HAS if count[name] < 1} == set()
    assert count["season_start"] == count["season_end"] == 1
    assert count["poisonous"] == count["hazard"] == count["botanical_name"] == 1
    assert re.search(r"\b[A-Z][a-z]+( [a-z]|\b)", word(item, "botanical_name"))
