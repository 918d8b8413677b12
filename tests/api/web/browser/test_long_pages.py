"""A long page lays out what is below the first screen after it, and it is all there."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.api.web.browser.looks import at, looked_at

PUT_OFF = (
    "getComputedStyle(document.querySelector('main > section:last-of-type')).contentVisibility"
)
LAST_ROW = PUT_OFF.replace("main > section:last-of-type", ".figures tbody tr:last-child")
DOWN = [
    ("/", ".answers a[href='#run-B']", "#run-B"),
    ("/shelves/", ".parts a[href='#moved']", "#moved"),
]


def in_time(phone: Page, put_off: str) -> bool:
    """Whether what was put off is laid out within half a minute."""
    for _ in range(300):
        if phone.evaluate(put_off) == "visible":
            return True
        phone.wait_for_timeout(100)
    return False


@pytest.mark.parametrize(("address", "link", "goal"), DOWN)
def test_a_link_down_a_long_page_ends_at_its_place(
    phone: Page, address: str, link: str, goal: str
) -> None:
    phone.goto(at(address))

    phone.locator(link).click()

    expect(phone.locator(goal)).to_be_in_viewport()
    # However much was laid out above it on the way.
    phone.wait_for_timeout(300)
    expect(phone.locator(goal)).to_be_in_viewport()


@pytest.mark.parametrize("address", ["/", "/shelves/"])
def test_once_nobody_waits_all_of_it_is_there_to_be_read_and_pictured(
    phone: Page, address: str
) -> None:
    phone.goto(at(address))

    assert in_time(phone, PUT_OFF)
    headings = phone.locator("main > section h2").all_text_contents()
    text = phone.locator("main").inner_text()
    assert len(headings) > 3
    assert [heading for heading in headings if heading not in text] == []


@pytest.mark.parametrize(("address", "link", "goal"), DOWN)
def test_without_a_script_it_is_laid_out_when_it_is_scrolled_to(
    browser: Browser, yard: str, address: str, link: str, goal: str
) -> None:
    with looked_at(browser, "phone", yard, java_script_enabled=False) as context:
        page = context.new_page()
        page.goto(at(address))
        assert page.evaluate(PUT_OFF) == "auto"

        page.locator(link).click()

        expect(page.locator(goal)).to_be_in_viewport()


@pytest.mark.parametrize("address", ["/", "/shelves/"])
def test_on_paper_nothing_is_put_off(phone: Page, address: str) -> None:
    phone.goto(at(address))

    phone.emulate_media(media="print")

    assert phone.evaluate(PUT_OFF) == "visible"


def test_an_address_of_one_figure_ends_at_its_row(phone: Page) -> None:
    phone.goto(at("/figures/") + "#wool-scour_loss_fraction")

    row = phone.locator("[id='wool-scour_loss_fraction']")
    expect(row).to_be_in_viewport()
    # However many rows are laid out above it meanwhile.
    assert in_time(phone, LAST_ROW)
    expect(row).to_be_in_viewport()
    text = phone.locator("main").inner_text()
    named = phone.locator(".figures tbody th").all_text_contents()
    assert [name for name in named if name not in text] == []
