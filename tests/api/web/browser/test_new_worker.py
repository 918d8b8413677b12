"""A larder that was begun anew with another worker: it takes over, and nothing is left behind."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, Error, Page, Worker

from tests.api.web.browser.garden import carrying, copies, cut, dip, entries, kept_here, landed
from tests.api.web.browser.looks import looked_at
from tests.api.web.browser.server import environment_of, serving
from tests.faults.workers import free_port

NEXT = "another"
# None waits for the page to be closed, and the one that is active answers this page.
ANSWERS = """async () => {
    const found = await navigator.serviceWorker.getRegistration();
    return !found.installing && !found.waiting && found.active?.state === "activated"
        && navigator.serviceWorker.controller === found.active;
}"""


def editions(phone: BrowserContext) -> list[str]:
    """Which worker answers on this phone, by the word that it carries."""
    return [edition for worker in phone.service_workers for edition in _edition(worker)]


def _edition(worker: Worker) -> list[str]:
    """The word of a worker; none of one that has just made room for the next."""
    try:
        return [worker.evaluate("EDITION")]
    except Error as error:
        if "closed" in str(error):
            return []
        raise


def taken_over(page: Page, edition: str) -> None:
    """Wait until that worker answers this page, and none waits; a minute at most."""
    for _ in range(240):
        if edition in editions(page.context) and page.evaluate(ANSWERS):
            return
        page.wait_for_timeout(250)
    raise AssertionError(f"{editions(page.context)} are here, and the page has another.")


def test_the_next_worker_takes_over_and_a_note_that_waited_lands_once(
    browser: Browser, own_larder: Path
) -> None:
    environment, port = environment_of(own_larder), str(free_port())
    with looked_at(browser, "phone", f"http://127.0.0.1:{port}") as phone:
        with serving(environment, port):
            page = phone.new_page()
            page.goto("/shelves/")
            carrying(page)
            other = phone.new_page()
            other.goto("/note/")  # stays open, so that the worker before is still wanted
            first = editions(phone)
            cut(phone, off=True)
            dip(page, "J2", 3)
            kept_here(page).wait_for()
            before = entries(own_larder)
        with serving(environment, port, NEXT):
            cut(phone, off=False)
            page.goto("/shelves/")

            taken_over(page, NEXT)
            taken_over(other, NEXT)
            landed(page, 1)

            assert NEXT not in first
            assert len(entries(own_larder)) == len(before) + 1
            assert copies(page) >= {"/shelves/", "/note/dip/"}


def test_what_the_worker_before_carried_is_read_without_a_signal(
    browser: Browser, own_larder: Path
) -> None:
    environment, port = environment_of(own_larder), str(free_port())
    with looked_at(browser, "phone", f"http://127.0.0.1:{port}") as phone:
        with serving(environment, port):
            page = phone.new_page()
            page.goto("/shelves/")
            carrying(page)
        with serving(environment, port, NEXT):
            page.goto("/note/")
            taken_over(page, NEXT)
        page.goto("/shelves/")  # nobody answers there now

        assert page.title() == "The shelves · Pellitory Yard · Dye Larder"
        assert page.locator("html").get_attribute("data-kept")
