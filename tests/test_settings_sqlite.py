"""What SQLite really does on a connection of ours; a database in memory would not show it."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from django.db import OperationalError, connections, transaction
from django.db.utils import ConnectionHandler
from pytest_django import DjangoDbBlocker

from api import environment

HANDS = 8
DRAWS_EACH = 50


@pytest.fixture(autouse=True)
def _databases(tmp_path: Path, django_db_blocker: DjangoDbBlocker) -> Iterator[None]:
    """Two databases in files: `ours` with the settings of the service, `plain` with none."""
    ours = environment.database(None, tmp_path)
    plain = {"ENGINE": ours["ENGINE"], "NAME": tmp_path / "plain.sqlite3", "OPTIONS": {}}
    made = ConnectionHandler({"default": {}, "ours": ours, "plain": plain}).settings
    for alias in ("ours", "plain"):
        connections.settings[alias] = made[alias]
    with django_db_blocker.unblock():
        yield
        for alias in ("ours", "plain"):
            connections[alias].close()
            del connections[alias], connections.settings[alias]


def _value(alias: str, sql: str) -> Any:
    with connections[alias].cursor() as cursor:
        cursor.execute(sql)
        row = cursor.fetchone()
    return row[0] if row else None


def _lot_with(alias: str, left: int) -> None:
    _value(alias, "PRAGMA journal_mode=WAL")
    _value(alias, "CREATE TABLE lot (left_mg INTEGER NOT NULL)")
    _value(alias, f"INSERT INTO lot VALUES ({left})")


def _draw(alias: str) -> bool:
    """Take 1 mg as a careless verb would: read, then write what was read less one."""
    try:
        with transaction.atomic(using=alias):
            left = _value(alias, "SELECT left_mg FROM lot")
            _value(alias, f"UPDATE lot SET left_mg = {left - 1}")
    except OperationalError:
        return False
    return True


@pytest.mark.parametrize(
    ("pragma", "value"),
    [
        ("journal_mode", "wal"),
        ("synchronous", 2),  # FULL: https://www.sqlite.org/pragma.html#pragma_synchronous
        ("foreign_keys", 1),
        ("busy_timeout", 20_000),
    ],
)
def test_a_connection_is_durable_and_patient(pragma: str, value: object) -> None:
    assert _value("ours", f"PRAGMA {pragma}") == value


def test_a_plain_connection_would_not_be() -> None:
    assert _value("plain", "PRAGMA journal_mode") == "delete"
    assert _value("plain", "PRAGMA busy_timeout") == 5_000


def test_four_hundred_draws_by_eight_hands_all_succeed_and_none_is_lost() -> None:
    _lot_with("ours", HANDS * DRAWS_EACH)

    def hand(_: int) -> int:
        drawn = sum(_draw("ours") for _ in range(DRAWS_EACH))
        connections["ours"].close()
        return drawn

    with ThreadPoolExecutor(HANDS) as hands:
        drawn = sum(hands.map(hand, range(HANDS)))

    assert drawn == HANDS * DRAWS_EACH
    assert _value("ours", "SELECT left_mg FROM lot") == 0


def _draw_elsewhere(alias: str) -> bool:
    """Draw on another connection, as a second hand does."""
    drawn = _draw(alias)
    connections[alias].close()
    return drawn


def test_the_second_of_two_hands_waits_for_the_first() -> None:
    _lot_with("ours", 2)

    with ThreadPoolExecutor(1) as hands:
        with transaction.atomic(using="ours"):
            left = _value("ours", "SELECT left_mg FROM lot")
            second = hands.submit(_draw_elsewhere, "ours")
            _value("ours", f"UPDATE lot SET left_mg = {left - 1}")

        assert second.result(timeout=120)
    assert _value("ours", "SELECT left_mg FROM lot") == 0


def test_without_our_settings_the_first_of_two_hands_fails() -> None:
    """Its reading is stale once the other has written, and SQLite does not let it go on."""
    _lot_with("plain", 2)

    with pytest.raises(OperationalError, match=r"^database is locked$"):
        _draw_while_another_draws("plain")

    assert _value("plain", "SELECT left_mg FROM lot") == 1


def _draw_while_another_draws(alias: str) -> None:
    with ThreadPoolExecutor(1) as hands, transaction.atomic(using=alias):
        left = _value(alias, "SELECT left_mg FROM lot")
        assert hands.submit(_draw_elsewhere, alias).result(timeout=60)
        _value(alias, f"UPDATE lot SET left_mg = {left - 1}")
