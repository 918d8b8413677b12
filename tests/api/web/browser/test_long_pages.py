"""A long page lays out what is below the first screen when it is wanted, and it is all there."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.api.web.browser.looks import at

PUT_OFF = (
    "getComputedStyle(document.querySelector('main > section:last-of-type')).contentVisibility"
)


@pytest.mark.parametrize(
    ("address", "link", "goal"),
    [
        ("/", ".answers a[href='#run-B']", "#run-B"),
        ("/shelves/", ".parts a[href='#moved']", "#moved"),
    ],
)
def test_a_link_down_a_long_page_ends_at_its_place(
    phone: Page, address: str, link: str, goal: str
) -> None:
    phone.goto(at(address))
    assert phone.evaluate(PUT_OFF) == "auto"

    phone.locator(link).click()

    expect(phone.locator(goal)).to_be_in_viewport()
    # However much was laid out above it on the way.
    phone.wait_for_timeout(300)
    expect(phone.locator(goal)).to_be_in_viewport()


@pytest.mark.parametrize("address", ["/", "/shelves/"])
def test_on_paper_nothing_is_put_off(phone: Page, address: str) -> None:
    phone.goto(at(address))

    phone.emulate_media(media="print")

    assert phone.evaluate(PUT_OFF) == "visible"
