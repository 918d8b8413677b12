"""The browser of the tests: it opens our pages in each look, and nothing but this machine."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Error, Page

from tests.api.web.browser.looks import LOOKS, at, looked_at
from tests.api.web.browser.sight import ALL_RULES, listened_to, seen


def test_the_week_opens_on_a_phone(phone: Page) -> None:
    answer = phone.goto(at("/"))

    assert answer is not None
    assert answer.status == 200
    assert phone.title() == "This week · Pellitory Yard · Dye Larder"
    assert phone.evaluate("innerWidth") == 390


QUERIES = {
    "(prefers-color-scheme: dark)": ["dark"],
    "(forced-colors: active)": ["forced"],
    "(max-width: 320px)": ["narrow"],
    "(min-width: 1280px)": ["desk"],
    "(max-width: 390px)": ["phone", "dark", "narrow", "forced"],
}


def test_each_look_is_what_it_says(browser: Browser, yard: str) -> None:
    found: dict[str, list[str]] = {query: [] for query in QUERIES}
    for name in LOOKS:
        with looked_at(browser, name, yard) as context:
            page = context.new_page()
            page.goto("/problems/")
            for query, names in found.items():
                if page.evaluate(f"matchMedia('{query}').matches"):
                    names.append(name)

    assert found == QUERIES


def test_a_page_reaches_this_machine_and_no_other(phone: Page) -> None:
    phone.goto(at("/"))

    with pytest.raises(Error, match="ERR_NAME_NOT_RESOLVED"):
        phone.goto("http://elsewhere.example/")


def test_what_one_test_writes_no_other_sees(phone: Page, own_yard: str, yard: str) -> None:
    assert own_yard != yard
    assert phone.goto(f"{own_yard}{at('/')}") is not None


FAINT = """<!doctype html><html lang="en"><meta charset="utf-8"><title>Faint</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<style>@media (forced-colors: active) {
  p { forced-color-adjust: none; color: #bbb; background: #fff } }</style>
<main><h1>Faint</h1><p>Read by nobody.</p></main>"""


def test_letters_that_are_faint_in_the_readers_own_colours_alone_are_found(phone: Page) -> None:
    phone.route("**/faint/", lambda route: route.fulfill(body=FAINT, content_type="text/html"))

    faults = seen(listened_to(phone), "/faint/", axe=ALL_RULES, forced=True)["axe"]

    assert [fault.partition(" ")[0] for fault in faults] == ["forced:"]
    assert faults[0].startswith("forced: color-contrast: <p>")
    assert not phone.evaluate("matchMedia('(forced-colors: active)').matches")
