"""A garden without signal: pages are read as they were, notes are kept and land once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

from tests.api.web.browser.garden import (
    carrying,
    copies,
    cut,
    dip,
    entries,
    kept_here,
    landed,
    notes,
)
from tests.api.web.browser.looks import looked_at
from tests.api.web.browser.server import copied, served

HREFS = "(links) => links.map((each) => each.getAttribute('href'))"
NO_FORMS = {"/note/kept/", "/note/looks/"}


@pytest.fixture(scope="module")
def own(larder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folder of a larder of this file's own."""
    return copied(larder, tmp_path_factory.mktemp("garden") / "larder")


@pytest.fixture(scope="module")
def address(own: Path) -> Iterator[str]:
    with served(own) as found:
        yield found


@pytest.fixture(scope="module")
def pocket(browser: Browser, address: str) -> Iterator[BrowserContext]:
    """One phone for all tests here, which has been online once."""
    with looked_at(browser, "phone", address) as context:
        page = context.new_page()
        page.goto("/")
        carrying(page).close()
        yield context


@pytest.fixture
def garden(pocket: BrowserContext) -> Iterator[Page]:
    """A page of that phone where there is no signal, whatever a test before it made it forget."""
    page = pocket.new_page()
    page.goto("/shelves/")
    carrying(page)
    cut(pocket, off=True)
    yield page
    cut(pocket, off=False)
    page.close()


def test_the_shelves_are_read_as_they_were_and_say_so(garden: Page) -> None:
    garden.goto("/shelves/")

    assert garden.title() == "The shelves · Pellitory Yard · Dye Larder"
    lost = garden.locator("#signal-lost")
    expect(lost).to_be_visible()
    assert "No signal" in lost.inner_text()
    assert "this copy is as of" in lost.inner_text()
    assert garden.evaluate("getComputedStyle(document.body).margin") == "0px"  # its style sheet


def test_with_a_signal_a_page_says_nothing_of_it(pocket: BrowserContext) -> None:
    page = pocket.new_page()
    page.goto("/shelves/")

    expect(page.locator("#signal-lost")).to_be_hidden()
    assert page.locator("html").get_attribute("data-kept") is None
    page.close()


def test_a_larder_that_takes_its_time_is_not_waited_for(pocket: BrowserContext) -> None:
    held: list[Route] = []
    page = pocket.new_page()
    pocket.route("**/shelves/", lambda route: held.append(route))
    page.goto("/shelves/")

    expect(page.locator("#signal-lost")).to_be_visible()
    for route in held:
        route.abort()
    pocket.unroute("**/shelves/")
    page.close()


def test_nothing_is_copied_that_is_not_a_page_of_ours_to_keep(pocket: BrowserContext) -> None:
    page = pocket.new_page()
    for address in ("/account/", "/sheet.txt", "/nowhere/", "/problems/"):
        page.goto(address)
    page.goto("/shelves/")

    assert copies(page) >= {"/shelves/"}
    assert not copies(page) & {"/account/", "/sheet.txt", "/nowhere/", "/problems/"}
    page.close()


def test_where_nobody_has_an_account_the_way_past_its_page_empties_no_phone(
    pocket: BrowserContext,
) -> None:
    page = pocket.new_page()
    page.goto("/shelves/")
    before = copies(carrying(page))

    page.goto("/account/")  # and on to the page for signing in

    assert page.title().startswith("Sign in")
    page.locator("nav").get_by_role("link", name="Shelves", exact=True).click()
    assert copies(page) >= before
    page.close()


def test_a_carrying_that_broke_off_goes_on_with_the_next_page(
    browser: Browser, address: str
) -> None:
    asked: list[str] = []
    with looked_at(browser, "phone", address) as phone:
        page = phone.new_page()
        phone.on("request", lambda request: asked.append(request.url))
        phone.route("**/note/carried/", lambda route: route.abort())
        with phone.expect_event("requestfailed", timeout=60_000):
            page.goto("/shelves/")
        carrying(page, ("/", "/note/"))
        phone.unroute_all()
        asked.clear()
        page.goto("/note/kept/")

        carrying(page)
        assert f"{address}/note/" not in asked  # its copy is young


def test_all_forms_come_along_in_one_answer_and_open_without_a_signal(
    browser: Browser, address: str
) -> None:
    asked: list[str] = []
    with looked_at(browser, "phone", address) as phone:
        phone.on("request", lambda request: asked.append(request.url.removeprefix(address)))
        page = phone.new_page()
        page.goto("/note/")
        forms = set(page.locator("main a[href^='/note/']").evaluate_all(HREFS)) - NO_FORMS
        carrying(page, forms | {"/today/"})

        pages = [each for each in asked if "." not in each and each != "/note/"]
        assert len(forms) > 60
        # The page before it had a worker carries nothing, so /note/ is asked for once more.
        assert sorted(set(pages)) == sorted(
            ["/", "/no-signal/", "/note/carried/", "/note/kept/", "/shelves/", "/today/"]
        )
        cut(phone, off=True)
        page.goto("/note/weigh-again/")
        assert page.title() == "Weigh again · Pellitory Yard · Dye Larder"
        assert page.locator("form.note input[name=id]").input_value() != ""
        expect(page.locator("#signal-lost")).to_be_visible()


def test_a_page_that_was_never_here_says_that_there_is_no_signal(garden: Page) -> None:
    garden.goto("/figures/cautions/")

    assert garden.locator("h1").inner_text() == "No signal"
    garden.get_by_role("link", name="The shelves").click()
    assert garden.locator("h1").inner_text() == "The shelves"


def test_a_form_is_filled_in_from_its_address_without_the_larder(garden: Page) -> None:
    garden.goto("/note/dip/?jar=J2")

    assert garden.locator("input[name=jar]:checked").get_attribute("value") == "J2"


def test_a_jar_that_the_copy_does_not_know_is_written_and_no_other_chosen(garden: Page) -> None:
    garden.goto("/note/dip/?jar=J99")

    expect(garden.locator("input[name=jar]:checked")).to_have_count(0)
    expect(garden.locator("input[name=jar_typed]")).to_have_value("J99")


def test_a_note_is_kept_with_its_moment_and_lands_once(
    garden: Page, pocket: BrowserContext, own: Path
) -> None:
    before = entries(own)
    dip(garden, "J2", 4)
    expect(kept_here(garden)).to_contain_text("There is no signal. It goes by itself")
    (kept,) = notes(garden)
    garden.goto("/shelves/")
    expect(garden.locator("#signal-waiting b")).to_have_text("1")

    cut(pocket, off=False)
    landed(garden, 1)

    (entry, moment) = (set(entries(own)) - set(before)).pop()
    assert entry.replace("-", "") == kept["id"].replace("-", "")
    assert moment[:19] == kept["occurred_at"][:19].replace("T", " ")
    expect(garden.locator("#signal-waiting")).to_be_hidden()


def test_stones_are_counted_by_thumb_and_weighed_as_is_likely(garden: Page) -> None:
    garden.goto("/note/pick-up/")
    amount, likely = garden.locator("#ask-amount"), garden.locator("[data-likely]")
    garden.locator(".unit", has_text="g").first.tap()
    expect(garden.locator(".taps")).to_be_hidden()

    garden.locator(".unit", has_text="stones").tap()
    for _ in range(3):
        garden.locator("[data-tap]").tap()
    expect(amount).to_have_value("3")
    expect(likely).to_have_text("likely 126 g")  # 42 g each
    garden.locator("[data-less]").tap()
    expect(amount).to_have_value("2")

    garden.locator(".taps summary").tap()
    garden.locator("[data-key='7']").tap()
    expect(amount).to_have_value("27")
    garden.locator("[data-rub-out]").tap()
    expect(amount).to_have_value("2")
