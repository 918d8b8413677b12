"""A better week is looked for while the page tells of it, and taken; with and without script."""

from __future__ import annotations

import re
import sqlite3
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.api.web.browser.looks import at

LOOKED_FOR_MS = 180_000  # half a minute at most, on a machine that does nothing else


def asked(larder: Path, words: str) -> list[tuple[object, ...]]:
    with sqlite3.connect(larder / "larder.sqlite3") as table:
        return table.execute(words).fetchall()


@pytest.mark.parametrize("script", [True, False])
def test_it_is_looked_for_stopped_and_taken(
    browser: Browser, own_yard: str, own_larder: Path, script: bool
) -> None:
    context = browser.new_context(
        base_url=own_yard, java_script_enabled=script, service_workers="block"
    )
    page = context.new_page()
    page.goto(at("/another/"))
    page.get_by_role("button", name="Look for another week").click()
    expect(page.get_by_role("heading", name="Looking")).to_be_visible()
    page.get_by_role("button", name="Stop, and keep the best so far").click()

    decide = page.get_by_role("button", name=re.compile("Take this week|Leave it as it is"))
    for _ in range(LOOKED_FOR_MS // 1_000):
        if decide.count():
            break
        if not script:
            page.goto(at("/another/"))
        page.wait_for_timeout(1_000)
    expect(decide.last).to_be_visible()

    decide.first.click()

    (state, found), *_ = asked(own_larder, "SELECT state, found FROM api_seek")
    assert state == "found"
    assert '"status"' in str(found)
    context.close()
