"""Without a mouse: Tab reaches everything in the order as it is read, and shows where it is."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from tests.api.web.browser.looks import at

WHERE = (Path(__file__).parent / "focus.js").read_text(encoding="utf-8")
# One page of each sort; those with hundreds of links show no more than these.
PAGES = ("/", "/orders/", "/put-by/", "/missed/", "/sources/", "/sign-in/")
MOST = 120


@pytest.mark.parametrize("address", PAGES)
def test_tab_reaches_everything_as_it_is_read_and_shows_where_it_is(
    phone: Page, address: str
) -> None:
    phone.goto(at(address))

    walked = _walk(phone)

    assert [(each["words"], each["faults"]) for each in walked if each["faults"]] == []
    # A field for a day and a time is several stops in one.
    assert [at for at, _ in groupby(each["at"] for each in walked)] == list(range(walked[0]["of"]))


def test_the_first_tab_offers_the_way_past_the_navigation(phone: Page) -> None:
    phone.goto(at("/shelves/"))
    phone.keyboard.press("Tab")

    assert phone.evaluate(WHERE)["words"] == "To the page itself"
    phone.keyboard.press("Enter")
    assert phone.evaluate("document.activeElement.id") == "main"


def test_what_is_folded_away_opens_by_the_keyboard(phone: Page) -> None:
    phone.goto(at("/"))
    folded = phone.locator("main details.more").first
    assert folded.get_attribute("open") is None

    folded.locator("summary").focus()
    phone.keyboard.press("Enter")

    assert folded.get_attribute("open") is not None


def _walk(page: Page) -> list[dict[str, Any]]:
    """Every stop from the top of a page until the keyboard leaves it."""
    stops: list[dict[str, Any]] = []
    while len(stops) < MOST:
        page.keyboard.press("Tab")
        where = page.evaluate(WHERE)
        # At the end the keyboard leaves for the browser's own, and here begins anew.
        if where is None or (stops and where["at"] <= stops[0]["at"]):
            break
        stops.append(where)
    return stops
