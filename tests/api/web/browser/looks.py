"""How a page is looked at: a phone, a desk, the dark, 320 px, colours that the reader chose."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from playwright.sync_api import Browser, BrowserContext, BrowserType, sync_playwright

from api.suite import chromium

MONDAY = "2026-11-23T07:30"
PHONE = {"viewport": {"width": 390, "height": 844}, "is_mobile": True, "has_touch": True}
LOOKS: dict[str, dict[str, Any]] = {
    "phone": PHONE,
    "desk": {"viewport": {"width": 1280, "height": 900}},
    "dark": {**PHONE, "color_scheme": "dark"},
    "narrow": {**PHONE, "viewport": {"width": 320, "height": 640}},
    "forced": {**PHONE, "forced_colors": "active"},
}
# Nothing but this machine has a name, so a page that asks elsewhere fails at once.
FLAGS = (
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost",
    "--disable-quic",
    "--lang=en-GB",
    "--disable-gpu",
)


@contextmanager
def opened_browser() -> Iterator[Browser]:
    """Debian's Chromium; while it is open no question reaches Django's tables from this thread."""
    with sync_playwright() as player:
        browser = launched(player.chromium)
        try:
            yield browser
        finally:
            browser.close()


def launched(kind: BrowserType, *flags: str) -> Browser:
    """A Chromium without a window, which reaches this machine only."""
    found = chromium()
    assert found, "There is no Chromium here; install Debian's, or see DYE_LARDER_TEST_CHROMIUM."
    return kind.launch(executable_path=found, args=[*FLAGS, *flags])


def looked_at(browser: Browser, look: str, address: str, **more: Any) -> BrowserContext:
    """A context that nothing was kept in, in one of the looks, at a service."""
    context = browser.new_context(
        base_url=address,
        timezone_id="Europe/London",
        reduced_motion="reduce",
        **{"locale": "en-GB", **LOOKS[look], **more},
    )
    context.set_default_timeout(30_000)  # what is there, is there at once
    context.set_default_navigation_timeout(90_000)  # a busy machine makes a page slowly
    return context


def at(address: str, **asked: str) -> str:
    """An address seen from the demo's Monday."""
    return "&".join([f"{address}?at={MONDAY}", *(f"{key}={value}" for key, value in asked.items())])
