"""Pages as a reader of German sees them: said in German, sound, and no wider than the phone."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from tests.api.web.browser.looks import at, launched, looked_at
from tests.api.web.browser.sight import ALL_RULES, listened_to, seen

GERMAN = {"locale": "de-DE", "service_workers": "block"}
ADDRESSES = (
    at("/"),
    at("/today/"),
    at("/shelves/"),
    at("/note/dip/", jar="J1"),
    at("/note/pick-up/"),
    at("/orders/"),
    at("/labels/", of="J1"),
    at("/runs/C/sheet/"),
)
KINDS = ("axe", "sideways", "targets", "marks", "landmarks", "policy", "console")


@pytest.fixture(scope="module")
def german(browser: Browser, yard: str) -> Iterator[Page]:
    with looked_at(browser, "phone", yard, **GERMAN) as context:
        yield listened_to(context.new_page())


@pytest.mark.parametrize("address", ADDRESSES)
def test_a_page_in_german_has_no_fault_at_390_and_320_px(german: Page, address: str) -> None:
    faults = seen(german, address, axe=ALL_RULES, narrow=True)

    assert {kind: faults[kind] for kind in KINDS if faults[kind]} == {}
    assert german.locator("html").get_attribute("lang") == "de"


def test_with_letters_twice_as_large_no_german_page_is_wider_than_a_phone(
    browser: Browser, yard: str
) -> None:
    large = launched(browser.browser_type, "--blink-settings=defaultFontSize=32")
    try:
        with looked_at(large, "phone", yard, **GERMAN) as context:
            page = listened_to(context.new_page())
            found = {address: seen(page, address)["sideways"] for address in ADDRESSES}
    finally:
        large.close()

    assert {address: faults for address, faults in found.items() if faults} == {}


def test_numbers_and_days_are_written_as_german_writes_them(german: Page) -> None:
    german.goto(at("/shelves/"))

    # What is below the first screen is laid out when it is scrolled to.
    said = german.locator("main").text_content() or ""
    assert "1.180 g" in said
    assert "1,180 g" not in said
    assert german.get_by_text("Stand Mo 23. Nov. 2026, 07:30").is_visible()


@pytest.mark.parametrize("run", ["A", "C"])
def test_a_run_sheet_in_german_is_one_page_of_a4(browser: Browser, yard: str, run: str) -> None:
    with looked_at(browser, "desk", yard, **GERMAN) as context:
        page = context.new_page()
        page.goto(at(f"/runs/{run}/sheet/"))
        paper = page.pdf(prefer_css_page_size=True)

    assert len(re.findall(rb"/Type\s*/Page[^s]", paper)) == 1
