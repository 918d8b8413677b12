"""Paper as the printer brings it out: its pages, letters for a metre, codes that are read."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from tests.api.web.browser.looks import at
from tests.api.web.browser.sheets import Sheet, printed_by
from tests.api.web.drawing.printed import blurred, reads, soiled

RUNS = ("A", "C", "D", "E", "F", "B")
Printed = dict[str, list[Sheet]]


@pytest.fixture(scope="module")
def printed(browser: Browser, yard: str) -> Printed:
    """Every sheet, printed once for all tests here."""
    sheets = [at(f"/runs/{run}/sheet/") for run in RUNS]
    return printed_by(browser, yard, sheets, drawn={sheets[0]})


def sheet(printed: Printed, run: str) -> Sheet:
    [found] = printed[at(f"/runs/{run}/sheet/")]
    return found


@pytest.mark.parametrize("run", RUNS)
def test_a_run_sheet_is_one_a4_page_and_nothing_is_cut_off(printed: Printed, run: str) -> None:
    found = sheet(printed, run)

    assert (round(found.wide_mm), round(found.high_mm)) == (210, 297)
    assert found.outside(margin_mm=5) == []


def test_what_is_read_at_a_metre_is_printed_in_14_points_or_more(printed: Printed) -> None:
    for text in (
        "Blush",
        "2,000 g of wool, dry, weigh out 2,105 g of W-88 unscoured",
        "09:00 scour",
        "P1 on R1 36 L 1,200 g",
        "8 → 55 °C by 09:48, hold 60 min, off 10:48",
        "800 g + 96 g alum",
        "then strain, add 20 L of cold water to make 60 L",
        "Hang 2,000 g on line from Thu 26 Nov 10:00 to Sat 28 Nov 10:00",
    ):
        assert sheet(printed, "A").says(text, least_pt=14), text


def test_no_letter_of_a_sheet_is_too_small_for_a_hand_at_the_ring(printed: Printed) -> None:
    for run in RUNS:
        small = [row for row in sheet(printed, run).letters if row.sign.strip() and row.pt < 7.9]
        assert small == [], run


def test_the_page_round_it_is_not_printed(printed: Printed) -> None:
    for text in ("Look from", "Shelves", "Before you print", "Dye Larder works"):
        assert not sheet(printed, "A").says(text), text


def test_the_code_on_paper_is_read_also_through_steam_and_under_a_splash(printed: Printed) -> None:
    found = sheet(printed, "A")

    [address] = found.codes
    assert address.endswith("/found/?run=A")
    code = _corner(found)
    assert reads(blurred(code, mm=0.14)) == [address]
    assert reads(blurred(soiled(code, share=0.06), mm=0.1)) == [address]


def _corner(found: Sheet) -> object:
    """The upper right of the page, where the code stands."""
    high, wide = found.picture.shape
    return found.picture[: high // 8, -wide // 6 :]
