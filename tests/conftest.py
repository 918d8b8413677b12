"""What every test shares: which database a test is for, and no skip under `CI=true`.

A test that is about one database or server says so with a mark, never with a skip:
`needs_postgres`, `needs_sqlite`, `needs_redis`. The suite runs on both databases, so a test that
is left aside on one is run on the other. What touches a database is marked `database` by itself:
the second round of the suite runs only that, as the rest would give the same answer again. What
is marked `browser` needs a Chromium, and has a service of its own on SQLite.
"""

from __future__ import annotations

import gc
import os
import shutil
from collections.abc import Generator, Iterator
from typing import Any

import hypothesis
import pytest
from django.conf import settings

from api import suite
from api.static_names import FilesFromTheCode
from tests.inventory.firsts import KEPT, drop_firsts, first_file, first_on_server, is_server

# How long an example takes says how busy the machine is; under CI=true it is so by itself.
if not suite.in_ci(os.environ):
    hypothesis.settings.register_profile(
        "unhurried", deadline=None, suppress_health_check=[hypothesis.HealthCheck.too_slow]
    )
    hypothesis.settings.load_profile("unhurried")
# Nobody guesses the passwords of tests, and they are asked for often.
settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
DATABASE_FIXTURES = {"db", "transactional_db", "live_server"}
# While thousands of tests are collected nothing falls away, and to look for it takes a fifth of
# that time; afterwards all of it stays to the end, and is looked through no more.
gc.disable()


@pytest.hookimpl(trylast=True)
def pytest_collection_finish() -> None:
    gc.collect()
    gc.freeze()
    gc.enable()


@pytest.fixture(autouse=True)
def nothing_is_looked_for_behind_a_test(monkeypatch: pytest.MonkeyPatch) -> None:
    """A thread that looks for a better week would outlive its test; each test works by itself."""
    monkeypatch.setattr("api.seeking.start.begin", lambda: None)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Mark what touches a database; leave aside what is about another one or a missing server."""
    for item in items:
        if _touches_database(item):
            item.add_marker("database")
            _check_not_left_out(item)
    other = _other_marks()
    aside = [item for item in items if any(item.get_closest_marker(mark) for mark in other)]
    if aside:
        config.hook.pytest_deselected(items=aside)
        items[:] = [item for item in items if item not in set(aside)]


def _touches_database(item: pytest.Item) -> bool:
    asked = set(getattr(item, "fixturenames", ()))
    return item.get_closest_marker("django_db") is not None or bool(asked & DATABASE_FIXTURES)


def _check_not_left_out(item: pytest.Item) -> None:
    """What touches a database is run on both, so it must not stand where none is looked for."""
    place = item.path.relative_to(suite.ROOT).as_posix()
    if place.startswith(tuple(f"{pure}/" for pure in suite.PURE)):
        raise pytest.UsageError(
            f"{item.nodeid} touches a database, and the round on PostgreSQL does not look there. "
            "Put it elsewhere, or take its folder off PURE in api/suite.py."
        )


def _other_marks() -> list[str]:
    on_postgres = "postgresql" in settings.DATABASES["default"]["ENGINE"]
    other = ["needs_sqlite" if on_postgres else "needs_postgres"]
    if not suite.in_ci(os.environ) and not suite.redis_answers(os.environ):
        other.append("needs_redis")
    # The browser looks at a service of its own on SQLite, so once is enough.
    if on_postgres or (not suite.in_ci(os.environ) and suite.chromium() is None):
        other.append("browser")
    return other


@pytest.fixture(scope="session")
def django_db_keepdb(django_db_keepdb: bool) -> bool:
    """Whether the database is there already, with its tables."""
    return django_db_keepdb or (KEPT in os.environ and not is_server())


@pytest.fixture(scope="session")
def django_db_modify_db_settings(django_db_modify_db_settings_parallel_suffix: None) -> None:
    """Where a round shares its first larder, the database of the tests begins as a copy of it."""
    if KEPT not in os.environ:
        return
    of_tests = settings.DATABASES["default"]["TEST"]
    if is_server():
        of_tests["TEMPLATE"] = first_on_server()
    else:
        shutil.copy2(first_file(), of_tests["NAME"])


def pytest_unconfigure(config: pytest.Config) -> None:
    """At the end of a round its first larders go; a hand of it, or what a test starts, is none."""
    if KEPT in os.environ and "PYTEST_XDIST_WORKER" not in os.environ and is_server():
        drop_firsts()


@pytest.fixture(autouse=True, scope="session")
def static_files_are_read_once() -> Iterator[None]:
    """A client makes the whole chain of its house anew, and would read and pack each style sheet
    and script anew with it: half of what many tests took."""
    read, kept = FilesFromTheCode.add_files_from_finders, dict[str, Any]()

    def once(house: FilesFromTheCode) -> None:
        if not kept:
            read(house)
            kept.update(house.files)
        house.files.update(kept)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(FilesFromTheCode, "add_files_from_finders", once)
        yield


@pytest.fixture(autouse=True)
def nobody_asks_too_often(monkeypatch: pytest.MonkeyPatch) -> None:
    """Tests ask a thousand times a minute; those of the limits set some of their own."""
    monkeypatch.setattr(settings, "LIMITS", {})


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Turn a skip into a failure under CI=true."""
    report = yield
    if report.skipped and not hasattr(report, "wasxfail") and suite.in_ci(os.environ):
        report.outcome = "failed"
        report.longrepr = f"{item.nodeid} was skipped, and nothing is skipped under CI=true."
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(
    collector: pytest.Collector,
) -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """Turn a skip of a whole file into a failure under CI=true."""
    report = yield
    if report.outcome == "skipped" and suite.in_ci(os.environ):
        report.outcome = "failed"
        report.longrepr = f"{collector.nodeid} was skipped, and nothing is skipped under CI=true."
    return report
