"""A real Chromium at the demo studio; DEVELOPERS.md, "A page in a real browser", shows a test."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.api.web.browser.looks import looked_at, opened_browser
from tests.api.web.browser.server import copied, kept_larder, served

HERE = Path(__file__).resolve().parent
_open = ExitStack()
_browsers: list[Browser] = []
_leaving: list[pytest.Item] = []


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Everything here needs the browser; the mark says so, before it is asked who has one.

    All of it follows upon each other, so that a browser is begun once and not for each file.
    """
    here = [item for item in items if _is_here(item)]
    if not here:
        return
    begin = items.index(here[0])
    items[:] = [
        *items[:begin],
        *here,
        *(item for item in items[begin:] if not _is_here(item)),
    ]
    for item in here:
        item.add_marker("browser")


def _is_here(item: pytest.Item) -> bool:
    return HERE in item.path.parents


@pytest.fixture(scope="session")
def shared_folder(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """One folder for all workers, for what is made once."""
    base = tmp_path_factory.getbasetemp()
    return (base if worker_id == "master" else base.parent) / "browser"


@pytest.fixture(scope="session")
def larder(shared_folder: Path) -> Path:
    """Folder of the demo's larder, which nobody writes into; made once, however many workers."""
    return kept_larder(shared_folder)


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
    """One Chromium for all files here that follow each other."""
    if not _browsers:
        _browsers.append(_open.enter_context(opened_browser()))
    yield _browsers[0]
    if _leaving:
        _close()


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_teardown(item: pytest.Item, nextitem: pytest.Item | None) -> None:
    """Closed before another test has its turn, as beside it no table can be asked."""
    _leaving[:] = [item] if nextitem is None or not _is_here(nextitem) else []
    if _leaving and "browser" not in getattr(item, "fixturenames", ()):
        _close()


def _close() -> None:
    _browsers.clear()
    _open.close()


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
