"""Files as spreadsheets leave them."""

from __future__ import annotations

import pytest

from sourcing.notebook.cells import Setting
from sourcing.notebook.notebook import UTC_ZONE, read_page
from sourcing.notebook.page import Row
from sourcing.notebook.problem import Problem
from sourcing.notebook.sheet import MOST_BYTES, MOST_CELL, read_sheet
from sourcing.notebook.yard_pages import BY_NAME

RINGS = BY_NAME["rings"]
PLAIN = "ring,power,not for,site\nR1,3.5 kW,,\nR2,3.0 kW,P1,\n"
WANTED = [
    {"ring": "R1", "power": 3500},
    {"ring": "R2", "power": 3000, "not for": ("P1",)},
]


def read(raw: bytes) -> tuple[tuple[Row, ...], list[Problem]]:
    return read_page(RINGS, raw, Setting(UTC_ZONE))


def said(raw: bytes) -> list[str]:
    return [str(problem) for problem in read(raw)[1]]


@pytest.mark.parametrize(
    "raw",
    [
        pytest.param(PLAIN.encode(), id="plain"),
        pytest.param(PLAIN.encode("utf-8-sig"), id="byte-order mark"),
        pytest.param(PLAIN.encode("utf-16"), id="UTF-16 of a spreadsheet"),
        pytest.param(PLAIN.replace("\n", "\r\n").encode(), id="CRLF"),
        pytest.param(PLAIN.replace("\n", "\r").encode(), id="CR alone"),
        pytest.param(PLAIN.replace(",", ";").encode(), id="semicolons"),
        pytest.param(PLAIN.replace(",", "\t").encode(), id="tabs"),
        pytest.param(b"sep=;\r\n" + PLAIN.replace(",", ";").encode(), id="named separator"),
        pytest.param(PLAIN.replace("\n", "\n,,,\n\n").encode(), id="blank rows"),
        pytest.param(b"\n\n" + PLAIN.encode(), id="blank rows first"),
        pytest.param(PLAIN.rstrip("\n").encode(), id="no line end at the end"),
        pytest.param(b"POWER , Ring,site, Not_For\n 3.5 kW ,R1,,\n3.0  kW,R2,,P1\n", id="order"),
        pytest.param(
            b'"ring","power","not for"\n"R1","3.5 kW",""\n"R2","3.0 kW","P1"\n', id="quotes"
        ),
        pytest.param(b"ring,power,not for\nR1,3.5 kW\nR2,3.0 kW,P1,,,\n", id="short and long rows"),
    ],
)
def test_the_same_rows_come_out_however_a_spreadsheet_saved_them(raw: bytes) -> None:
    rows, problems = read(raw)

    assert problems == []
    assert [row.values for row in rows] == WANTED


def test_a_row_keeps_the_line_on_which_it_begins() -> None:
    rows, _ = read(b'ring,power\n\n"R\n1",1 kW\n\nR2,2 kW\n')

    assert [(row.line, row.text("ring")) for row in rows] == [(3, "R 1"), (6, "R2")]


def test_lines_are_counted_past_the_line_that_names_the_separator() -> None:
    assert said(b"sep=;\nring;power\nR1;lots\n")[0].startswith("rings.csv, line 3, column power:")


@pytest.mark.parametrize(
    ("raw", "sentence"),
    [
        (
            b"",
            "rings.csv: The file is empty. "
            "Write the headings in its first row, or delete the file.",
        ),
        (
            b"ring,power\nR1,1 kW\nR\xff2,2 kW\n",
            "rings.csv, line 3: The file has letters that cannot be read. Save it as CSV in UTF-8.",
        ),
        (
            b"ring,power\nR1,1 kW\n" + b"\xed\xa0\x80,1 kW\n",  # half of a letter
            "rings.csv, line 3: The file has letters that cannot be read. Save it as CSV in UTF-8.",
        ),
        (
            b"ring,power\nR1\x00,1 kW\n",
            "rings.csv, line 2: A NUL character stands in this line. "
            "Delete it, or save the file as CSV again.",
        ),
        (
            b'ring,power\n"R1,1 kW\n',
            "rings.csv: A quotation mark is opened and never closed. Close it.",
        ),
        (
            b'ring,power\n"R"1,1 kW\n',
            'rings.csv: A quotation mark stands inside a cell. Double it (""), or leave it out.',
        ),
        (
            b"ring,power\nR1,1 kW,much\n",
            'rings.csv, line 2: "much" stands there. The row has more cells than there are '
            "headings (2). Put quotation marks round a cell that holds a separator.",
        ),
        (
            b"ring,power\nR1,1 kW\nR2,2 kW\x07\n",
            'rings.csv, line 3, column power: "2 kW\\u0007" stands there. '
            "The cell holds a character that cannot be seen or printed. Delete it.",
        ),
        (
            "ring,power\nR1\u200b,1 kW\n".encode(),
            'rings.csv, line 2, column ring: "R1\\u200b" stands there. '
            "The cell holds a character that cannot be seen or printed. Delete it.",
        ),
        (
            b"ring,power\n=1+1,1 kW\n",
            'rings.csv, line 2, column ring: "=1+1" stands there. A cell may not begin with =: '
            "a spreadsheet would work it out. Begin with a letter or digit.",
        ),
        (
            b"ring,powr\nR1,1 kW\n",
            'rings.csv, line 1: "powr" stands there. The page has no such column. '
            "Did you mean power?",
        ),
        (
            b"ring,price,power\nR1,1,1 kW\n",
            'rings.csv, line 1: "price" stands there. The page has no such column. '
            "Its columns are ring, power, not for and site.",
        ),
        (
            b"ring,Ring,power\nR1,R1,1 kW\n",
            "rings.csv, line 1, column ring: The column is there twice. Keep one of them.",
        ),
        (
            b"ring\nR1\n",
            "rings.csv, line 1, column power: The column is missing. "
            "Add it, with cells such as 3.5 kW.",
        ),
        (
            b"ring,power,\nR1,1 kW,hot\n",
            'rings.csv, line 2: "hot" stands there. The row has more cells than there are '
            "headings (2). Put quotation marks round a cell that holds a separator.",
        ),
        (
            b"ring,,power\nR1,hot,1 kW\n",
            'rings.csv, line 2: "hot" stands there. The column has no heading. '
            "Write one, or delete the cell.",
        ),
    ],
)
def test_what_is_wrong_with_a_file_is_said_with_its_line(raw: bytes, sentence: str) -> None:
    assert sentence in said(raw)


def test_a_cell_may_hold_as_much_as_allowed_and_not_one_more() -> None:
    studio = "studio,zone\n{}\n"
    known = ("studio", "zone")

    def read_long(length: int) -> list[Problem]:
        raw = studio.format("x" * length + ",UTC").encode()
        return read_sheet("studio.csv", raw, known=known, most_rows=5)[1]

    assert read_long(MOST_CELL) == []
    assert [str(problem) for problem in read_long(MOST_CELL + 1)] == [
        f'studio.csv, line 2, column studio: "{"x" * 60}…" stands there. '
        "The cell has 501 characters; at most 500 are read. Shorten."
    ]


def test_a_cell_beyond_all_measure_is_refused() -> None:
    assert said(b"ring,power\n" + b"x" * 200_000 + b",1 kW\n") == [
        "rings.csv: A cell is far too long; at most 500 characters are read. Shorten it."
    ]


def test_as_many_rows_as_allowed_are_read_and_not_one_more() -> None:
    def read_rows(count: int) -> list[Problem]:
        raw = b"ring,power\n" + b"R1,1 kW\n" * count
        return read_sheet("rings.csv", raw, known=("ring", "power"), most_rows=10)[1]

    assert read_rows(10) == []
    assert [str(problem) for problem in read_rows(11)] == [
        "rings.csv, line 12: The file has more than 10 rows. Keep older years in another folder."
    ]


def test_a_file_as_large_as_allowed_is_read_and_not_one_byte_more() -> None:
    head = b"ring,power\nR1,1 kW\n"
    blank = (b" " * 199 + b"\n") * (MOST_BYTES // 200)

    assert said((head + blank)[:MOST_BYTES]) == []
    assert said((head + blank)[: MOST_BYTES + 1]) == [
        "rings.csv: The file has 8,000,001 bytes; at most 8,000,000 are read. Divide it."
    ]


def test_a_number_with_a_sign_is_no_formula() -> None:
    page = BY_NAME["cold_places"]

    rows, problems = read_page(
        page, "place,kind,warmth\nfreezer,freezer,-18 °C\n".encode(), Setting(UTC_ZONE)
    )

    assert problems == []
    assert rows[0].number("warmth") == -18


def test_an_apostrophe_keeps_a_text_from_being_worked_out() -> None:
    page = BY_NAME["sites"]

    rows, problems = read_page(page, b"site,note\nshed,'=warm\n", Setting(UTC_ZONE))

    assert problems == []
    assert rows[0].text("note") == "=warm"
