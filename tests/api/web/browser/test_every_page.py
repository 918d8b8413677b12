"""Every page in every look: axe finds nothing, nothing is too small, too wide, silent or stopped.

A page that is added is asked by itself, from the address book and the links of the others. The
short profile asks axe on a phone, its contrasts in the reader's own colours, and measures at 390
and 320 px and with letters twice as large, a few forms for all; `DYE_LARDER_LONG=1` asks axe for
everything on every form in all looks.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.api.web.browser.addresses import pages
from tests.api.web.browser.looks import LOOKS, launched, looked_at
from tests.api.web.browser.members import let_in, sign_in
from tests.api.web.browser.server import copied, made_once, served
from tests.api.web.browser.sight import ALL_RULES, Faults, listened_to, seen

LONG = os.environ.get("DYE_LARDER_LONG") == "1"
# Which rules of axe are asked in which look; the short profile asks a phone's page for its
# contrasts in the reader's own colours too, while it is open.
RULES = dict.fromkeys(LOOKS, ALL_RULES) if LONG else {"phone": ALL_RULES}
KINDS = ("axe", "sideways", "targets", "marks", "landmarks", "policy", "console")
PARTS = 4  # of the pages, so that as many workers ask at once, and none asks what another did
Sights = dict[str, Faults]


@pytest.fixture(scope="module")
def addresses(yard: str, shared_folder: Path) -> list[str]:
    """Every page there is; walked through once, however many workers."""
    return made_once(shared_folder / "addresses.json", lambda: pages(yard, every_form=LONG))


@pytest.mark.parametrize("part", range(PARTS))
@pytest.mark.parametrize("look", RULES)
def test_no_page_has_a_fault_in_any_look(
    browser: Browser, yard: str, addresses: list[str], look: str, part: int
) -> None:
    assert _faults(_walk(browser, look, yard, addresses[part::PARTS])) == ""


@pytest.mark.parametrize("look", RULES)
def test_no_page_about_accounts_has_a_fault(
    browser: Browser, larder: Path, tmp_path: Path, look: str
) -> None:
    """Nor has a link that is its own key."""
    own = copied(larder, tmp_path / "larder")
    links = let_in(own)
    with served(own) as address:
        assert _faults(_walk_signed_in(browser, look, address, links)) == ""


@pytest.mark.parametrize("part", range(PARTS))
def test_with_letters_twice_as_large_no_page_is_wider_than_a_phone(
    browser: Browser, yard: str, addresses: list[str], part: int
) -> None:
    # As a reader sets it in the browser, so that what is measured in rem hears of it.
    large = launched(browser.browser_type, "--blink-settings=defaultFontSize=32")
    try:
        found = _walk(large, "phone", yard, addresses[part::PARTS], with_axe=False)
    finally:
        large.close()

    assert _faults(found, "sideways") == ""


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
) -> Sights:
    axe, narrow = RULES[look] if with_axe else "", with_axe and look == "phone"
    with looked_at(browser, look, service, service_workers="block") as context:
        page = listened_to(context.new_page())
        forced = narrow and not LONG
        return {
            address: seen(page, address, axe=axe, narrow=narrow, forced=forced)
            for address in addresses
        }


def _walk_signed_in(browser: Browser, look: str, service: str, links: list[str]) -> Sights:
    with looked_at(browser, look, service, service_workers="block") as context:
        page = listened_to(context.new_page())
        found = {
            address: seen(page, address, axe=RULES[look], forced=not LONG) for address in links
        }
        sign_in(page)
        for address in ("/account/", "/password/", "/", "/reminders/"):
            found[address] = seen(page, address, axe=RULES[look], forced=not LONG)
        return found


def _faults(sights: Sights, *kinds: str) -> str:
    """All faults, or all of some kinds, a line each."""
    return "\n".join(
        f"{address} {kind}: {fault}"
        for address, faults in sights.items()
        for kind in kinds or KINDS
        for fault in faults[kind]
    )
