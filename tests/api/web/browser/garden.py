"""A phone in the garden: what it carries along, what it writes down, what the ledger then has."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Locator, Page

COPIES = """async () => {
    const found = [];
    for (const name of await caches.keys())
        if (name.startsWith("pages "))
            for (const each of await (await caches.open(name)).keys())
                found.push(new URL(each.url).pathname + new URL(each.url).search);
    return found;
}"""
NOTES = """() => new Promise((done) => {
    const asked = indexedDB.open("larder", 1);
    asked.onsuccess = () => {
        const notes = asked.result.transaction("notes").objectStore("notes").getAll();
        notes.onsuccess = () => { asked.result.close(); done(notes.result); };
    };
})"""
CARRIED = ("/", "/shelves/", "/note/", "/note/kept/", "/note/pick-up/", "/note/dip/")


def copies(page: Page) -> set[str]:
    """The pages of which this phone has a copy."""
    return set(page.evaluate(COPIES))


def carrying(page: Page, names: Iterable[str] = CARRIED) -> Page:
    """The page, once the phone has a copy of each of these; ten seconds for every further one."""
    wanted, there, waited = set(names), copies(page), 0
    while not wanted <= there and waited < 40:
        page.wait_for_timeout(250)
        before, there = there, copies(page)
        waited = 0 if there - before else waited + 1
    assert wanted <= there, f"not carried along: {wanted - there}"
    return page


def notes(page: Page) -> list[dict[str, Any]]:
    """What the phone keeps, of whomever."""
    found: list[dict[str, Any]] = page.evaluate(NOTES)
    return found


def none_waits(page: Page) -> list[dict[str, Any]]:
    """What the phone keeps, once all of it has been answered; at most 15 seconds from now."""
    for _ in range(60):
        kept = notes(page)
        if all(note["state"] != "waiting" for note in kept):
            return kept
        page.wait_for_timeout(250)
    raise AssertionError(f"still waiting: {[note for note in kept if note['state'] == 'waiting']}")


def dip(page: Page, jar: str, grade: int) -> None:
    """Write down a strip by thumb."""
    page.goto(f"/note/dip/?jar={jar}")
    page.locator(f"input[name=grade][value='{grade}']").check(force=True)
    page.locator(".note-go button").first.click()


def kept_here(page: Page) -> Locator:
    """The ticket that says that a note is safe on this phone."""
    return page.locator(".note-kept")


def landed(page: Page, count: int) -> None:
    """Wait until the list of the phone says of so many that they are in the larder."""
    page.goto("/note/kept/")
    page.locator("#kept .ticket-yes").nth(count - 1).wait_for()


def entries(larder: Path) -> list[tuple[str, str]]:
    """Id and moment of every entry in a larder, in the order in which they were recorded."""
    with closing(sqlite3.connect(larder / "larder.sqlite3")) as shelf:
        rows = shelf.execute("SELECT entry, occurred_at FROM api_entry ORDER BY id")
        return [(str(entry), str(moment)) for entry, moment in rows]


def cut(context: BrowserContext, *, off: bool) -> None:
    """Cut the line, or mend it."""
    context.set_offline(off)
