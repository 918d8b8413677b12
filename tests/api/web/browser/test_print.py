"""Paper as the printer brings it out: its pages, letters for a metre, codes that are read."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from tests.api.web.browser.looks import at
from tests.api.web.browser.sheets import Sheet, printed_by
from tests.api.web.drawing.printed import blurred, reads, soiled

RUNS = ("A", "C", "D", "E", "F", "B")
THINGS = ("J1", "J3", "J4", "J5", "J6", "PR-1003", "AV-1116", "W-85", "L-31")
LABELS = {paper: at("/labels/", paper=paper) + "".join(f"&of={code}" for code in THINGS)
          for paper in ("a4", "100x60", "80x50", "60x40")}  # fmt: skip
GROUP, SLIPS, WHEEL = (at(address) for address in ("/runs/F/group/", "/runs/F/slips/", "/season/"))
Printed = dict[str, list[Sheet]]


@pytest.fixture(scope="module")
def printed(browser: Browser, yard: str) -> Printed:
    """Every sheet, printed once for all tests here."""
    sheets = [at(f"/runs/{run}/sheet/") for run in RUNS]
    drawn = {sheets[0], LABELS["60x40"]}
    papers = [*sheets, *LABELS.values(), GROUP, SLIPS, WHEEL]
    return printed_by(browser, yard, papers, drawn=drawn)


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


@pytest.mark.parametrize(
    ("paper", "size", "pages"),
    [
        ("a4", (210, 297), 2),
        ("100x60", (100, 60), 9),
        ("80x50", (80, 50), 9),
        ("60x40", (60, 40), 9),
    ],
)
def test_labels_fit_their_paper(
    printed: Printed, paper: str, size: tuple[int, int], pages: int
) -> None:
    found = printed[LABELS[paper]]

    assert len(found) == pages
    assert {(round(row.wide_mm), round(row.high_mm)) for row in found} == {size}
    assert [row.outside(margin_mm=0.8) for row in found] == [[]] * pages


def test_the_letters_of_a_label_are_read_at_arm_s_length(printed: Printed) -> None:
    assert printed[LABELS["a4"]][0].says("J1", least_pt=36)
    assert printed[LABELS["a4"]][0].says("Tue 24 Nov 2026", least_pt=10.5)
    assert printed[LABELS["60x40"]][0].says("J1", least_pt=22)


def test_every_label_keeps_its_cautions_on_every_paper(printed: Printed) -> None:
    """A small one has room for the word alone."""
    for paper in LABELS:
        for mark in ("HIGH SHELF", "GAS", "GLOVES", "HOLD", "POISON", "NOT FOOD"):
            assert any(row.says(mark) for row in printed[LABELS[paper]]), (paper, mark)
    assert any(row.says("lid loose, away from flame") for row in printed[LABELS["80x50"]])


def test_the_code_of_the_smallest_label_is_read_under_a_splash(printed: Printed) -> None:
    for code, row in zip(THINGS, printed[LABELS["60x40"]], strict=True):
        high, wide = row.picture.shape
        corner = row.picture[: int(high * 0.6), wide // 2 :]

        assert [text.partition("?code=")[2] for text in row.codes] == [code]
        assert reads(blurred(soiled(corner, share=0.03), mm=0.1)) == row.codes


def test_a_group_day_is_a_sheet_and_a_page_for_the_wall(printed: Printed) -> None:
    first, wall = printed[GROUP]

    assert first.outside(margin_mm=5) == wall.outside(margin_mm=5) == []
    assert first.says("12 people × 20 g of wool", least_pt=13)
    assert wall.says("Take care", least_pt=36)
    assert wall.says("nettle stings until it is heated: gloves", least_pt=18)


def test_twelve_slips_are_three_pages(printed: Printed) -> None:
    pages = printed[SLIPS]

    assert len(pages) == 3
    assert all(page.says("its colour will fade in days to weeks", least_pt=11.5) for page in pages)


def test_the_wheel_fills_one_a3_page(printed: Printed) -> None:
    [found] = printed[WHEEL]

    assert (round(found.wide_mm), round(found.high_mm)) == (297, 420)
    assert found.outside(margin_mm=5) == []
    assert found.says("What you dye with")
    # Words on arcs stand askew, letter by letter; the smallest is still read at arm's length.
    assert min(row.pt for row in found.letters if row.sign.strip()) >= 5.5
