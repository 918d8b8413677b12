"""From a dyer's button to a card on a wall, and from its code to thanks, without script."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page

from tests.api.web.browser.looks import looked_at
from tests.api.web.browser.sheets import Sheet, sheets_of
from tests.api.web.browser.sight import ALL_RULES, listened_to, seen
from tests.api.web.drawing.printed import blurred, reads, soiled

CAFE = "Lantern Steps café"


@dataclass(frozen=True)
class Made:
    """A link that was made on the page of the café, and the card that came out of the printer."""

    address: str
    paper: list[Sheet]


@pytest.fixture
def made(browser: Browser, own_yard: str) -> Made:
    with looked_at(browser, "desk", own_yard) as context:
        page = context.new_page()
        page.goto("/sources/")
        page.get_by_role("link", name=CAFE, exact=True).click()
        page.get_by_role("link", name="A link for them").click()
        page.get_by_label("Who asks").fill("Wren")
        page.get_by_role("button", name="Make it").click()
        address = page.locator("code.card-address").inner_text()
        return Made(address, sheets_of(page.pdf(prefer_css_page_size=True), drawn=True))


def test_the_card_is_one_small_sheet_whose_code_leads_to_the_page(made: Made) -> None:
    [card] = made.paper

    assert (round(card.wide_mm), round(card.high_mm)) == (105, 148)
    assert card.outside(margin_mm=5) == []
    assert card.says(CAFE, least_pt=16)
    assert card.says("Hold your phone here to tell us what you have saved", least_pt=11)
    assert not card.says("The link is made")
    assert card.codes == [made.address]
    assert reads(blurred(card.picture, mm=0.25)) == [made.address]
    assert reads(soiled(card.picture, share=0.02, across=0.6, down=0.4)) == [made.address]


def test_a_cafe_tells_and_changes_it_in_a_browser_without_script(
    browser: Browser, own_yard: str, made: Made
) -> None:
    with looked_at(browser, "narrow", own_yard, java_script_enabled=False) as context:
        page = context.new_page()
        page.goto(made.address)
        assert urlsplit(made.address).path not in page.url
        [kept] = [each for each in context.cookies() if each["name"].startswith("source-link")]
        assert (kept["httpOnly"], kept["sameSite"], kept["path"]) == (
            True, "Lax", urlsplit(page.url).path,
        )  # fmt: skip

        _tell(page, "58", "back door please")
        assert page.get_by_role("status").inner_text().startswith("● Thank you")
        assert "58 stones" in page.locator("ul.told").inner_text()

        page.get_by_role("link", name="Change it").first.click()
        assert page.get_by_label("A word to us").input_value() == "back door please"
        _tell(page, "2 buckets", "back door please")
        assert "is not known here" in page.get_by_role("alert").inner_text()
        _tell(page, "60", "front door")

        told = page.locator("ul.told").inner_text()
        assert "60 stones" in told
        assert "front door" in told


def test_nothing_is_wrong_with_what_a_cafe_sees_in_any_look(
    browser: Browser, own_yard: str, made: Made
) -> None:
    found = []
    for look in ("phone", "narrow", "forced"):
        with looked_at(browser, look, own_yard) as context:
            page = listened_to(context.new_page())
            sights = [seen(page, made.address, axe=ALL_RULES)]
            _tell(page, "58", "")
            sights.append(seen(page, page.url, axe=ALL_RULES))
            found += [(look, row) for sight in sights for rows in sight.values() for row in rows]

    assert found == []


def _tell(page: Page, amount: str, word: str) -> None:
    page.get_by_label("How many, or how much").fill(amount)
    page.get_by_label("A word to us").fill(word)
    page.get_by_role("button", name="Send").click()
