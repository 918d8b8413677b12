"""Requests are counted by the minute, together where there is a Redis, and never wait on one."""

from __future__ import annotations

import os
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from uuid import uuid4

import pytest
from django.core.exceptions import ImproperlyConfigured

from api import suite
from api.throttles import counts, shared
from api.throttles.counts import OfThisProcess
from api.throttles.limits import SHIPPED, limits_said
from api.throttles.shared import InRedis

GONE = "Redis does not count requests"


def test_each_key_is_counted_by_itself_and_anew_each_minute() -> None:
    found = OfThisProcess()

    assert [found.up("ada", 7), found.up("ada", 7), found.up("ben", 7)] == [1, 2, 1]
    assert [found.up("ada", 8), found.up("ada", 8)] == [1, 2]


def test_memory_is_bounded_and_forgets_past_minutes_first(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(counts, "KEYS_AT_MOST", 3)
    found = OfThisProcess()
    for key in ("old", "older"):
        found.up(key, 6)
    found.up("now", 7)

    assert found.up("more", 7) == 1
    assert found.up("now", 7) == 2  # was kept
    for key in range(100):
        found.up(str(key), 7)
    assert len(found._found) <= 3


@pytest.fixture
def redis_url() -> str:
    return os.environ.get("DYE_LARDER_TEST_REDIS", suite.REDIS)


@pytest.mark.needs_redis
def test_processes_with_a_redis_count_together(redis_url: str) -> None:
    one, other, key = InRedis(redis_url), InRedis(redis_url), uuid4().hex

    assert [one.up(key, 7), other.up(key, 7), one.up(key, 7)] == [1, 2, 3]
    assert other.up(key, 8) == 1


@pytest.mark.needs_redis
def test_what_was_counted_is_forgotten_by_itself(redis_url: str) -> None:
    found, key = InRedis(redis_url), uuid4().hex

    found.up(key, 7)

    assert 60 < found._client.ttl(f"{shared.PREFIX}:7:{key}") <= shared.KEPT_S


@contextmanager
def _mute() -> Iterator[tuple[int, list[socket.socket]]]:
    """A server that takes every line and says nothing: its port, and the lines it took."""
    taken: list[socket.socket] = []
    with socket.create_server(("127.0.0.1", 0)) as server:

        def take() -> None:
            while True:
                try:
                    taken.append(server.accept()[0])
                except OSError:
                    return

        thread = threading.Thread(target=take, daemon=True)
        thread.start()
        try:
            yield server.getsockname()[1], taken
        finally:
            server.shutdown(socket.SHUT_RDWR)
            thread.join(60)
            for line in taken:
                line.close()


def test_a_mute_redis_is_tried_once_and_left_alone(caplog: pytest.LogCaptureFixture) -> None:
    with _mute() as (port, taken):
        found = InRedis(f"redis://127.0.0.1:{port}/0")

        assert [found.up("ada", 7) for _ in range(50)] == list(range(1, 51))
        assert len(taken) == 1

    assert len([row for row in caplog.records if GONE in row.message]) == 1


def test_a_redis_that_is_gone_refuses_nobody_and_is_asked_again_in_a_while(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
    found, there = InRedis(f"redis://127.0.0.1:{port}/0"), False
    asked: list[str] = []

    def answer(key: str) -> int:
        asked.append(key)
        return 100 if there else real(key)

    real = found._asked
    monkeypatch.setattr(found, "_asked", answer)
    assert [found.up("ada", 7), found.up("ada", 7)] == [1, 2]
    assert len(asked) == 1

    there = True
    monkeypatch.setattr(found, "_ask_from", 0.0)
    assert [found.up("ada", 7), found.up("ada", 7)] == [100, 100]
    said = [row.message for row in caplog.records if row.name == "api.throttles.shared"]
    assert [GONE in said[0], said[1]] == [True, "Redis counts requests again."]
    assert len(said) == 2


def test_while_it_is_away_one_request_tries_and_the_others_do_not_stand_in_line() -> None:
    found = InRedis("redis://127.0.0.1:1/0")
    found._has_gone(OSError("away"))
    found._ask_from = 0.0

    assert [found._may_ask() for _ in range(5)] == [True, False, False, False, False]


def test_limits_are_shipped_and_the_house_may_say_its_own() -> None:
    assert limits_said(None) is SHIPPED
    assert limits_said(" OFF ") == {}
    said = limits_said("token=50/5, link=9/1")
    assert (said["token"].reads, said["token"].writes, said["link"].writes) == (50, 5, 1)
    assert said["account"] == SHIPPED["account"]


@pytest.mark.parametrize("text", ["token", "token=5", "token=0/5", "house=5/5", "token=-1/5", "1"])
def test_limits_that_do_not_parse_stop_the_start_up(text: str) -> None:
    with pytest.raises(ImproperlyConfigured, match=r"DYE_LARDER_LIMITS says .*; write off, or"):
        limits_said(text)
