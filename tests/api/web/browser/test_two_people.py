"""Two people on one phone: neither sees, nor sends, what the other one kept."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.api.web.browser.garden import carrying, copies, cut, dip, entries, kept_here, landed
from tests.api.web.browser.garden import notes as notes_on_phone
from tests.api.web.browser.looks import looked_at
from tests.api.web.browser.server import ROOT, copied, environment_of, served

PASSWORD = "weld over woad twice"
ADA, BEA = "ada@pellitory.example", "bea@pellitory.example"
WAITING = "**/note/waiting/**"


@pytest.fixture(scope="module")
def own(larder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folder of a larder with two people."""
    folder = copied(larder, tmp_path_factory.mktemp("people") / "larder")
    for email in (ADA, BEA):
        words = ["manage.py", "account", "add", email, "--name", email.split("@")[0].title()]
        subprocess.run(
            [sys.executable, *words], cwd=ROOT, env=environment_of(folder), input=f"{PASSWORD}\n",
            text=True, check=True, stdout=subprocess.DEVNULL,
        )  # fmt: skip
    return folder


@pytest.fixture
def pocket(browser: Browser, own: Path) -> Iterator[BrowserContext]:
    with served(own) as address, looked_at(browser, "phone", address) as context:
        yield context


def sign_in(page: Page, email: str) -> None:
    page.goto("/sign-in/")
    page.get_by_label("E-mail").fill(email)
    page.get_by_label("Password").fill(PASSWORD)
    page.locator("main form button").click()
    # Not `**/`, which the page of signing in is itself: who is not yet in would be sent back to it.
    page.wait_for_url(lambda address: "/sign-in/" not in address)


def sign_out(page: Page) -> None:
    page.goto("/account/")
    page.locator("form[action='/sign-out/'] button").click()
    page.wait_for_url("**/sign-in/")


def test_what_one_kept_the_other_neither_sees_nor_sends(pocket: BrowserContext, own: Path) -> None:
    page = pocket.new_page()
    sign_in(page, ADA)
    carrying(page)
    pocket.route(WAITING, lambda route: route.abort())  # also what the worker would send
    dip(page, "J1", 4)
    expect(kept_here(page)).to_be_visible()
    before = entries(own)

    sign_out(page)
    cut(pocket, off=True)
    page.goto("/shelves/")
    assert page.locator("h1").inner_text() == "No signal"
    assert "Pellitory" not in page.content()
    assert not copies(page)
    cut(pocket, off=False)
    pocket.unroute_all()
    sign_in(page, BEA)
    page.goto("/note/kept/")

    expect(page.locator("#kept-none")).to_be_visible()
    expect(page.locator("#signal-waiting")).to_be_hidden()
    dip(page, "J2", 3)
    page.wait_for_url("**/note/said/**")
    assert len(entries(own)) == len(before) + 1
    (hers,) = [note for note in notes_on_phone(page) if note["state"] == "waiting"]
    assert dict(hers["fields"])["jar"] == "J1"

    sign_out(page)
    sign_in(page, ADA)
    landed(page, 1)

    assert len(entries(own)) == len(before) + 2
    assert entries(own)[-1][0].replace("-", "") == hers["id"].replace("-", "")
    page.close()


def test_a_page_left_open_is_not_shown_to_who_comes_after(pocket: BrowserContext) -> None:
    page = pocket.new_page()
    sign_in(page, ADA)
    carrying(page)
    assert "/account/" not in copies(page)
    page.goto("/shelves/")
    sign_out(page)

    page.go_back()
    page.go_back()

    page.wait_for_url("**/sign-in/**")
    page.close()
