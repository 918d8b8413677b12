"""Whatever happens on the way, each note is in the ledger once, with its true moment."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

from tests.api.web.browser.garden import (
    carrying,
    cut,
    dip,
    entries,
    kept_here,
    landed,
    none_waits,
    notes,
)
from tests.api.web.browser.looks import looked_at
from tests.api.web.browser.server import copied, served

ROUNDS = 50 if os.environ.get("DYE_LARDER_LONG") == "1" else 5
WAITING = "**/note/waiting/**"
SEED = 20261127


@pytest.fixture(scope="module")
def own(larder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folder of a larder of this file's own."""
    return copied(larder, tmp_path_factory.mktemp("lost") / "larder")


@pytest.fixture(scope="module")
def pocket(browser: Browser, own: Path) -> Iterator[BrowserContext]:
    """One phone for all tests here, which has been online once."""
    with served(own) as address, looked_at(browser, "phone", address) as context:
        page = context.new_page()
        page.goto("/")
        carrying(page).close()
        yield context


def answer_lost(route: Route) -> None:
    """The larder took it, and nothing of that came back."""
    route.fetch()
    route.abort()


def moments(larder: Path) -> dict[str, str]:
    """Moment by id of all that was entered; no id twice."""
    found = entries(larder)
    assert len({entry for entry, _ in found}) == len(found)
    return {entry.replace("-", ""): moment[:19] for entry, moment in found}


def are_there(larder: Path, kept: list[dict[str, str]]) -> None:
    """Each of these notes is in the ledger, once, with the moment at which it was written."""
    found = moments(larder)
    for note in kept:
        moment = found.get(note["id"].replace("-", ""))
        assert moment == note["occurred_at"][:19].replace("T", " "), note


def test_an_answer_that_is_lost_is_asked_for_again(pocket: BrowserContext, own: Path) -> None:
    before, page = len(entries(own)), pocket.new_page()
    page.goto("/note/dip/")
    page.route(WAITING, answer_lost)
    dip(page, "J1", 3)
    expect(kept_here(page)).to_be_visible()
    assert len(entries(own)) == before + 1  # the larder has it, the phone cannot know

    page.unroute(WAITING)
    landed(page, len(notes(page)))

    assert len(entries(own)) == before + 1
    are_there(own, notes(page))
    page.close()


def test_a_note_that_the_larder_has_in_hand_is_asked_about_again(
    pocket: BrowserContext, own: Path
) -> None:
    before, page, asked = len(entries(own)), pocket.new_page(), list[str]()

    def in_hand(route: Route) -> None:
        (sent,) = json.loads(route.request.post_data or "")["notes"]
        asked.append(dict(sent["fields"])["id"])
        if len(asked) > 1:
            return route.continue_()
        return route.fulfill(
            json={"answers": [{"id": asked[0], "status": 409, "state": "waiting"}]}
        )

    page.route(WAITING, in_hand)
    dip(page, "J1", 3)
    page.wait_for_url("**/note/said/**")

    assert asked == [asked[0]] * 2
    assert len(entries(own)) == before + 1
    page.close()


def test_two_tabs_send_once(pocket: BrowserContext, own: Path) -> None:
    letters: list[str] = []
    one, other = pocket.new_page(), pocket.new_page()
    pocket.on("request", lambda asked: letters.append(asked.post_data or "")
              if asked.method == "POST" else None)  # fmt: skip
    one.goto("/note/kept/")
    cut(pocket, off=True)
    dip(other, "J2", 2)
    expect(kept_here(other)).to_be_visible()

    (note,) = [note for note in notes(other) if note["state"] == "waiting"]
    cut(pocket, off=False)
    for page in (one, other):
        page.evaluate("dispatchEvent(new Event('online'))")
    landed(other, len(notes(other)))

    assert sum(note["id"] in letter for letter in letters) == 1
    are_there(own, notes(one))
    one.close()
    other.close()


@pytest.mark.parametrize("number", range(ROUNDS))
def test_a_round_with_a_line_that_comes_and_goes(
    pocket: BrowserContext, own: Path, number: int
) -> None:
    chance, before = Random(SEED + number), moments(own)
    page = pocket.new_page()
    for jar in ("J1", "J2")[: chance.randint(1, 2)]:
        page = _one_note(pocket, page, jar, chance)

    cut(pocket, off=False)
    page.unroute_all()
    page.goto("/note/kept/")
    kept = none_waits(page)
    are_there(own, kept)
    new = set(moments(own)) - set(before)
    assert new <= {note["id"].replace("-", "") for note in kept}
    page.close()


def _one_note(pocket: BrowserContext, page: Page, jar: str, chance: Random) -> Page:
    """A note while the line is whole, cut, or loses what comes back; then perhaps another page."""
    how = chance.choice(("whole", "cut", "lost", "cut before the answer"))
    cut(pocket, off=how == "cut")
    page.unroute_all()
    if how == "lost":
        page.route(WAITING, answer_lost)
    if how == "cut before the answer":
        page.route(WAITING, lambda route: route.abort())
    dip(page, jar, chance.randint(1, 5))
    if how == "whole":
        page.wait_for_url("**/note/said/**")
    else:
        expect(kept_here(page)).to_be_visible()
    if chance.random() < 0.5:  # closed and opened again
        page.close()
        page = pocket.new_page()
    return page
