"""Every page in every look: axe finds nothing, nothing is too small, too wide, silent or stopped.

A page that is added is asked by itself, from the address book and the links of the others. The
short profile asks axe on a phone, its contrasts in the reader's own colours, and measures at 390
and 320 px and with letters twice as large, a few forms for all; `DYE_LARDER_LONG=1` asks axe for
everything on every form in all looks.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.api.web.browser.addresses import pages
from tests.api.web.browser.looks import LOOKS, launched, looked_at
from tests.api.web.browser.members import let_in, sign_in
from tests.api.web.browser.server import copied, served
from tests.api.web.browser.sight import ALL_RULES, Faults, listened_to, seen

LONG = os.environ.get("DYE_LARDER_LONG") == "1"
# Which rules of axe are asked in which look; the short profile asks a phone's page for its
# contrasts in the reader's own colours too, while it is open.
RULES = dict.fromkeys(LOOKS, ALL_RULES) if LONG else {"phone": ALL_RULES}
KINDS = ("axe", "sideways", "targets", "marks", "landmarks", "policy", "console")
Sights = dict[str, dict[str, Faults]]


@pytest.fixture(scope="module")
def addresses(yard: str) -> list[str]:
    return pages(yard, every_form=LONG)


@pytest.fixture(scope="module")
def sights(browser: Browser, yard: str, addresses: list[str]) -> Sights:
    """What is wrong with every page in every look, as anybody at this machine sees them."""
    return {look: _walk(browser, look, yard, addresses) for look in RULES}


@pytest.fixture(scope="module")
def private(
    browser: Browser, larder: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Sights]:
    """The same of the pages about accounts, and of links that are their own keys."""
    own = copied(larder, tmp_path_factory.mktemp("members") / "larder")
    links = let_in(own)
    with served(own) as address:
        yield {look: _walk_signed_in(browser, look, address, links) for look in RULES}


@pytest.mark.parametrize("kind", KINDS)
def test_no_page_has_such_a_fault_in_any_look(sights: Sights, kind: str) -> None:
    assert _of(sights, kind) == ""


@pytest.mark.parametrize("kind", KINDS)
def test_no_page_about_accounts_has_such_a_fault(private: Sights, kind: str) -> None:
    assert _of(private, kind) == ""


def test_with_letters_twice_as_large_no_page_is_wider_than_a_phone(
    browser: Browser, yard: str, addresses: list[str]
) -> None:
    # As a reader sets it in the browser, so that what is measured in rem hears of it.
    large = launched(browser.browser_type, "--blink-settings=defaultFontSize=32")
    try:
        found = {"large letters": _walk(large, "phone", yard, addresses, with_axe=False)}
    finally:
        large.close()

    assert _of(found, "sideways") == ""


def test_every_kind_of_page_was_asked(addresses: list[str]) -> None:
    paths = {address.partition("?")[0] for address in addresses}

    assert {
        "/",
        "/shelves/",
        "/figures/dyestuff/acorns/",
        "/note/pick-up/",
        "/problems/",
        "/nothing-here/",
    } <= paths
    assert len(addresses) > 20


def _walk(
    browser: Browser, look: str, service: str, addresses: list[str], *, with_axe: bool = True
) -> dict[str, Faults]:
    axe, narrow = RULES[look] if with_axe else "", with_axe and look == "phone"
    with looked_at(browser, look, service, service_workers="block") as context:
        page = listened_to(context.new_page())
        forced = narrow and not LONG
        return {
            address: seen(page, address, axe=axe, narrow=narrow, forced=forced)
            for address in addresses
        }


def _walk_signed_in(
    browser: Browser, look: str, service: str, links: list[str]
) -> dict[str, Faults]:
    with looked_at(browser, look, service, service_workers="block") as context:
        page = listened_to(context.new_page())
        found = {
            address: seen(page, address, axe=RULES[look], forced=not LONG) for address in links
        }
        sign_in(page)
        for address in ("/account/", "/password/", "/", "/reminders/"):
            found[address] = seen(page, address, axe=RULES[look], forced=not LONG)
        return found


def _of(sights: Sights, kind: str) -> str:
    """All faults of a kind, a line each."""
    return "\n".join(
        f"{look} {address} {fault}"
        for look, pages_seen in sights.items()
        for address, faults in pages_seen.items()
        for fault in faults[kind]
    )
