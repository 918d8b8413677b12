"""The reading tables: disagreeing rows side by side, and a broken table stopped at its line."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from inventory.science.library import (
    COLUMNS,
    DUTY_COLUMNS,
    KINDS,
    Library,
    Said,
    library,
    reach_of,
    read_library,
)
from inventory.science.table import BrokenTable

IRON = "iron liquor (home-made iron acetate)"
WOOL = 'wool,dose,1,2,4,"% of weight of fibre, warm",common practice,'
DUTY = "hedges,Wales,Look first: check your local rules.,2026-11-26,common practice,"


def tables(folder: Path, *, fibres: str = WOOL, duties: str = DUTY, **files: str) -> Path:
    """A folder of tables with one fibre and one duty in them."""
    head = ",".join(COLUMNS) + "\n"
    written = {table: head for table, _ in KINDS.values()}
    written |= {
        "fibres": f"{head}{fibres}\n",
        "duties": f"{','.join(DUTY_COLUMNS)}\n{duties}\n",
        "properties": "property,words\ndose,dose\nscour,how to scour\n",
        "units": "unit,words\n% of weight of fibre,per cent\n°C,degrees\n",
        **files,
    }
    (folder / "catalogue").mkdir()
    for name, text in written.items():
        (folder / "catalogue" / f"{name}.csv").write_text(text, encoding="utf-8")
    return folder


def test_a_row_knows_its_numbers_its_unit_and_its_case(tmp_path: Path) -> None:
    (wool,) = read_library(tables(tmp_path)).of_kind("fibre")

    (row,) = wool.of("dose")
    assert row.numbers == (Decimal(1), Decimal(2), Decimal(4))
    assert (row.unit, row.case, row.words) == ("% of weight of fibre", "warm", "")


def test_a_row_of_words_has_a_case_and_no_unit(tmp_path: Path) -> None:
    said = 'wool,scour,,in warm water,,", greasy fleece",memory,'

    (row,) = read_library(tables(tmp_path, fibres=said)).look_up("wool", "scour")

    assert (row.words, row.unit, row.case) == ("in warm water", "", "greasy fleece")
    assert row.numbers == ()


def test_a_duty_is_a_sentence_for_a_region_as_known_on_a_day(tmp_path: Path) -> None:
    (duty,) = read_library(tables(tmp_path)).of_kind("duty")

    (row,) = duty.rows
    assert row.words == "Look first: check your local rules."
    assert (row.case, row.known_on) == ("Wales", date(2026, 11, 26))


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("wool,dose,1,2,4,% of weight of fibre,common practice", "7 cells, 8 columns."),
        (",dose,1,2,4,% of weight of fibre,memory,", "item is empty."),
        ("wool,dse,1,2,4,% of weight of fibre,memory,", "“dse” has no words in properties.csv."),
        ("wool,dose,1,2,4,%,memory,", "“%” is no unit of units.csv."),
        ("wool,dose,1,2,4,,memory,", "“” is no unit of units.csv."),
        ("wool,dose,4,2,1,°C,memory,", "low, typical and high do not stand in order of size."),
        ("wool,dose,1,warm,4,°C,memory,", "typical is “warm”: all of low, typical and high are"),
        ("wool,dose,1,2,hot,°C,memory,", "high is “hot”: all of low, typical and high are"),
        ("wool,dose,,,,°C,memory,", "typical is empty."),
        ("wool,dose,,warm,,°C,memory,", "words have no unit, here “°C”."),
        ("wool,dose,1,2,4,°C,hearsay,", "basis is “hearsay”, not one of"),
        ("wool,dose,1,2,4,°C,published,", "published, but no source is named."),
        ("wool, dose,1,2,4,°C,memory,", "a cell begins or ends with a space."),
        (WOOL, "the same row stands twice."),
        ('wool,dose,1,2,4,"°C"x,memory,', "cannot be read: "),
    ],
)
def test_a_broken_line_stops_with_its_file_and_number(tmp_path: Path, line: str, why: str) -> None:
    folder = tables(tmp_path, fibres=f"{WOOL}\n{line}")

    with pytest.raises(BrokenTable) as stopped:
        read_library(folder)

    assert str(stopped.value).startswith(f"catalogue/fibres.csv, line 3: {why}")


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("hedges,Wales,Look first.,2026-11-26,memory,", "a duty carries “check your local rules”."),
        ("hedges,Wales,Check.,26 Nov,memory,", "known_on is “26 Nov”, not a day like 2026-11-26."),
        ("hedges,,Look: check your local rules.,2026-11-26,memory,", "region is empty."),
    ],
)
def test_a_broken_duty_stops_too(tmp_path: Path, line: str, why: str) -> None:
    with pytest.raises(BrokenTable) as stopped:
        read_library(tables(tmp_path, duties=line))

    assert str(stopped.value) == f"catalogue/duties.csv, line 2: {why}"


def test_a_wrong_head_and_a_byte_that_is_no_text_stop_at_their_line(tmp_path: Path) -> None:
    folder = tables(tmp_path, units="unit;words\n")
    with pytest.raises(BrokenTable, match=r"units\.csv, line 1: the columns are"):
        read_library(folder)

    (folder / "catalogue" / "units.csv").write_bytes(b"unit,words\n%,per cent\n\xe9,x\n")
    with pytest.raises(BrokenTable, match=r"units\.csv, line 3: holds a byte that is not UTF-8\."):
        read_library(folder)


def test_rows_that_disagree_stand_together_and_the_range_holds_them_all() -> None:
    thing = library().thing("mordant", IRON)

    assert thing is not None
    (said,) = [said for said in thing.said() if said.name == "vinegar_fraction"]
    assert [row.typical for row in said.rows] == [Decimal(33), Decimal(100)]
    assert said.reach is not None
    assert (said.reach.low, said.reach.high) == (Decimal(25), Decimal(100))


def test_rows_in_two_units_are_never_put_into_one_range() -> None:
    doses = [said for said in _of(library(), IRON) if said.name == "dose_liquor"]

    assert [said.unit for said in doses] == ["mL/L", "mL per 100 g"]


def test_words_alone_have_no_range() -> None:
    assert reach_of(library().look_up("wool", "scour_method")) is None
    assert reach_of(()) is None


def test_a_search_asks_for_every_word_in_any_case() -> None:
    found = library().search("IRON  vinegar")

    assert IRON in {thing.name for thing in found}
    assert library().search("iron zzz") == ()
    assert library().search("  ") == library().things


def test_nothing_is_known_of_what_is_not_there() -> None:
    assert library().thing("fibre", "asbestos") is None
    assert library().look_up("wool", "colour of the sheep") == ()


def test_the_shipped_tables_are_whole_and_every_word_of_the_lists_is_used() -> None:
    shelf = library()
    rows = [row for thing in shelf.things for row in thing.rows]

    assert {thing.kind for thing in shelf.things} == set(KINDS)
    assert {row.name for row in rows} == set(shelf.property_words)
    assert {row.unit for row in rows} - {""} == set(shelf.unit_words)
    assert len({(thing.kind, thing.name) for thing in shelf.things}) == len(shelf.things)


def _of(shelf: Library, name: str) -> list[Said]:
    return [said for thing in shelf.things if thing.name == name for said in thing.said()]
