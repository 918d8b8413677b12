"""A real Chromium at the demo studio; DEVELOPERS.md, "A page in a real browser", shows a test."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.api.web.browser.looks import looked_at, opened_browser
from tests.api.web.browser.server import copied, kept_larder, served

HERE = Path(__file__).resolve().parent


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Everything here needs the browser; the mark says so, before it is asked who has one."""
    for item in items:
        if HERE in item.path.parents:
            item.add_marker("browser")


@pytest.fixture(scope="session")
def larder(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """Folder of the demo's larder, which nobody writes into; made once, however many workers."""
    base = tmp_path_factory.getbasetemp()
    return kept_larder((base if worker_id == "master" else base.parent) / "browser")


@pytest.fixture(scope="session")
def yard(larder: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Address of the demo studio, for tests that only look."""
    with served(copied(larder, tmp_path_factory.mktemp("yard") / "larder")) as address:
        yield address


@pytest.fixture
def own_larder(larder: Path, tmp_path: Path) -> Path:
    """Folder of a larder of this test's own; `larder.sqlite3` in it may be read with sqlite3."""
    return copied(larder, tmp_path / "larder")


@pytest.fixture
def own_yard(own_larder: Path) -> Iterator[str]:
    """Address of the demo studio in a larder of this test's own, for a test that writes."""
    with served(own_larder) as address:
        yield address


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """One Chromium for a file of tests; closed at its end, as beside it no table can be asked."""
    with opened_browser() as found:
        yield found


@pytest.fixture
def phone(browser: Browser, yard: str) -> Iterator[Page]:
    yield from _page(browser, "phone", yard)


@pytest.fixture
def desk(browser: Browser, yard: str) -> Iterator[Page]:
    yield from _page(browser, "desk", yard)


@pytest.fixture
def dark(browser: Browser, yard: str) -> Iterator[Page]:
    yield from _page(browser, "dark", yard)


@pytest.fixture
def narrow(browser: Browser, yard: str) -> Iterator[Page]:
    yield from _page(browser, "narrow", yard)


@pytest.fixture
def forced(browser: Browser, yard: str) -> Iterator[Page]:
    yield from _page(browser, "forced", yard)


def _page(browser: Browser, look: str, address: str) -> Iterator[Page]:
    with looked_at(browser, look, address) as context:
        yield context.new_page()
