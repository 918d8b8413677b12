"""Whatever stands in a file, the answer is rows or sentences, never a fall."""

from __future__ import annotations

import contextlib

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from sourcing.notebook.cells import read_cell, write_cell
from sourcing.notebook.check import check
from sourcing.notebook.notebook import read_notebook, read_page
from sourcing.notebook.page import Column, Page
from sourcing.notebook.problem import Unclear
from sourcing.notebook.yard_pages import PAGES
from tests.sourcing.notebook.desk import yard, yard_files

SETTING = yard().setting
COLUMNS = [column for page in PAGES for column in page.columns]
HOSTILE = (
    *("9**9**9", "1e999", "nan", "inf", "-0", "0", "10^12 g", "%s", "1" * 200, "½" * 50),
    *("‮", "１２ ｇ", "۱۲ g", "a" * 500, "9" * 400 + " d", "fresh > 999999999999 hold 1"),
    *("Mon 99 Nov 2026 99:99", "2026-13-45", "0000-00-00", "12 to to to 48 h", ":::", ",,,", "/"),
    *("1/0 kg", "1/0 %", "0:0", "2 water : 1/0 vinegar", "1 per 0 g", "5 mL per 0 g", "0 L per kg"),
    *("9999999999999999999 min", "1.0000000000000001 h", "-5 °C", "°", "C", "£", "£ %", "٣ %"),
)


@pytest.mark.parametrize("column", COLUMNS, ids=lambda column: f"{column.name}, {column.kind}")
def test_hostile_cells_are_read_or_refused(column: Column) -> None:
    for text in HOSTILE:
        _read(column, text)


@settings(max_examples=300, deadline=None)
@given(
    st.sampled_from(COLUMNS),
    st.one_of(
        st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=40),
        st.from_regex(
            r"[0-9½/,. ]{1,8}( ?(g|kg|L|%|h|min|°C|per|:|to|hold|>)){0,4}", fullmatch=True
        ),
    ),
)
@example(COLUMNS[0], "x")
def test_any_cell_is_read_or_refused_and_what_is_read_can_be_written(
    column: Column, text: str
) -> None:
    _read(column, " ".join(text.split()) or "x")


def _read(column: Column, text: str) -> None:
    """Read a cell; if it can be, its writing is read as the same."""
    value = None
    with contextlib.suppress(Unclear):
        value = read_cell(column, text, SETTING)
    if value is None:
        with pytest.raises(Unclear, match=r"\.$"):
            read_cell(column, text, SETTING)
        return
    assert read_cell(column, write_cell(column, value, SETTING), SETTING) == value


@settings(max_examples=200, deadline=None)
@given(st.sampled_from(PAGES), st.binary(max_size=300))
def test_any_bytes_are_rows_or_problems(page: Page, raw: bytes) -> None:
    rows, problems = read_page(page, raw, SETTING)

    assert rows or problems or not raw.strip() or b"\n" not in raw


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(sorted(yard_files())),
    st.integers(0, 10_000),
    st.sampled_from([b"", b"\x00", b'"', b",", b";", b"\n", b"\xff", b"=", b"9" * 300]),
)
def test_the_demo_studio_with_a_byte_spoilt_is_read_or_refused(
    file: str, place: int, spoilt: bytes
) -> None:
    files = yard_files()
    raw = files[file]
    at = place % (len(raw) + 1)

    notebook, problems = read_notebook({**files, file: raw[:at] + spoilt + raw[at + 1 :]})

    problems += check(notebook, piece_known=lambda item: False)
    assert all(str(problem) for problem in problems)
