"""A later edition of the worker takes over at once, and what waits goes on waiting."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Browser, Page, Route, expect

from tests.api.web.browser.garden import carrying, cut, dip, entries, kept_here, landed
from tests.api.web.browser.looks import looked_at

LATER = """
self.addEventListener("message", (event) => event.ports[0]?.postMessage(true));
"""
ASKED = """() => new Promise((done) => {
    const way = new MessageChannel();
    way.port1.onmessage = (event) => done(event.data);
    setTimeout(() => done(false), 2000);
    navigator.serviceWorker.controller.postMessage({}, [way.port2]);
})"""
TAKEN_OVER = """async () => {
    const taken = new Promise((done) =>
        navigator.serviceWorker.addEventListener("controllerchange", done, { once: true }));
    const worker = await navigator.serviceWorker.getRegistration();
    await worker.update();
    await taken;
}"""


def later_edition(route: Route) -> None:
    answer = route.fetch()
    route.fulfill(response=answer, body=answer.text() + LATER)


def is_later(page: Page) -> bool:
    return bool(page.evaluate(ASKED))


def test_a_later_worker_takes_over_and_nothing_that_waits_is_lost(
    browser: Browser, own_yard: str, own_larder: Path
) -> None:
    with looked_at(browser, "phone", own_yard) as context:
        page = context.new_page()
        page.goto("/")
        carrying(page)
        cut(context, off=True)
        dip(page, "J1", 5)
        expect(kept_here(page)).to_be_visible()
        assert not is_later(page)

        context.route("**/worker.js", later_edition)
        context.route("**/note/waiting/**", lambda route: route.abort())
        cut(context, off=False)
        page.evaluate(TAKEN_OVER)

        assert is_later(page)
        cut(context, off=True)
        page.goto("/shelves/")
        expect(page.locator("#signal-waiting b")).to_have_text("1")
        assert page.locator("h1").inner_text() == "The shelves"  # its copies are there too
        cut(context, off=False)
        context.unroute_all()
        before = len(entries(own_larder))
        landed(page, 1)
        assert len(entries(own_larder)) == before + 1
