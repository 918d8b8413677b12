"""One look at one page: everything that is wrong with it, by what was asked."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import ConsoleMessage, Error, Page

MEASURED = (Path(__file__).parent / "measured.js").read_text(encoding="utf-8")
# Told by the browser itself when the policy stops something.
LISTENING = """
window.stopped = [];
addEventListener("securitypolicyviolation", (event) => window.stopped.push(
  `${event.effectiveDirective} stopped ${event.blockedURI || event.sample}`));
"""
# The weave of the cloth is fainter than any letter; over a picture axe would judge no contrast.
PLAIN_CLOTH = "document.body.style.backgroundImage = 'none'"
UNFOLD = "for (const each of document.querySelectorAll('main details')) each.open = true"
ALL_RULES = "axe.run({resultTypes: ['violations']})"
# The same elements in other colours fail by their contrast or not at all.
CONTRAST = "axe.run({resultTypes: ['violations'], runOnly: ['color-contrast']})"
NARROW = {"width": 320, "height": 640}
Faults = dict[str, list[str]]


def listened_to(page: Page) -> Page:
    """A page whose policy, script and files are listened to from its first byte."""
    page.add_init_script(LISTENING)
    return page


def seen(
    page: Page, address: str, *, axe: str = "", narrow: bool = False, forced: bool = False
) -> Faults:
    """Open a page and ask it everything; a kind without a fault is an empty list.

    Parameters
    ----------
    axe : which rules of axe are asked, one of those above; empty: none
    narrow : whether it is also measured at 320 px
    forced : whether it is also looked at in colours that the reader chose
    """
    with _heard(page) as heard:
        page.goto(address)
    page.evaluate(UNFOLD)
    faults: Faults = dict(page.evaluate(MEASURED))
    faults["policy"] = page.evaluate("window.stopped")
    faults["axe"] = list(_axe(page, axe)) if axe else []
    faults["console"] = heard
    if narrow:
        _measure_narrow(page, faults)
    if forced:
        _look_forced(page, faults)
    return faults


def _measure_narrow(page: Page, faults: Faults) -> None:
    """The same page at 320 px, its measures beside those of before."""
    before = page.viewport_size
    page.set_viewport_size(NARROW)
    for kind, found in page.evaluate(MEASURED).items():
        faults[kind] += [f"at 320 px: {each}" for each in found]
    page.set_viewport_size(before)


def _look_forced(page: Page, faults: Faults) -> None:
    """The same page in the reader's own colours, without loading it and axe once more."""
    page.emulate_media(forced_colors="active")
    for kind, found in page.evaluate(MEASURED).items():
        faults[kind] += [f"forced: {each}" for each in found]
    faults["axe"] += [f"forced: {each}" for each in _violations(page, CONTRAST)]
    page.emulate_media(forced_colors="none")


@contextmanager
def _heard(page: Page) -> Iterator[list[str]]:
    """What the browser remarks on meanwhile."""
    heard: list[str] = []

    def remark(message: ConsoleMessage) -> None:
        if message.type in ("error", "warning") and not _is_its_own(message.text):
            heard.append(message.text)

    def fault(error: Error) -> None:
        heard.append(str(error))

    page.on("console", remark)
    page.on("pageerror", fault)
    yield heard
    page.remove_listener("console", remark)
    page.remove_listener("pageerror", fault)


def _is_its_own(text: str) -> bool:
    """What is as it should be: a page answered 404, and no page kept for later while we look."""
    refused = text.startswith("Failed to load resource") and "status of 4" in text
    return refused or "registration blocked by Playwright" in text


def _axe(page: Page, rules: str) -> Iterator[str]:
    page.evaluate(PLAIN_CLOTH)
    page.evaluate(AXE_SCRIPT)  # by the debugger's way, so the policy of the page stays as it is
    yield from _violations(page, rules)


def _violations(page: Page, rules: str) -> Iterator[str]:
    for fault in page.evaluate(rules)["violations"]:
        for node in fault["nodes"]:
            yield f"{fault['id']}: {node['html'][:120]} ({node['failureSummary'][:200]})"
