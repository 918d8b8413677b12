"""Counts in Redis, for all processes together; whatever becomes of Redis, no request waits on it.

A Redis that is gone, full or mute is left alone for a while, and each process counts for itself
until it answers again. Both are said once.
"""

from __future__ import annotations

import logging
import threading
import time
from typing import Any

from api.throttles.counts import OfThisProcess

LOG = logging.getLogger(__name__)
WAIT_S = 0.2  # the longest that one request stands for a Redis that says nothing
AWAY_S = 30.0  # until it is asked again
KEPT_S = 120  # a minute, and as much again for clocks that differ
PREFIX = "dye-larder:asked"


class InRedis:
    """Counts that every process shares."""

    def __init__(self, url: str) -> None:
        self._url = url
        self._own = OfThisProcess()
        self._lock = threading.Lock()
        self._ask_from = 0.0  # on the monotonic clock
        self._is_away = False
        self._client: Any = None

    def up(self, key: str, minute: int) -> int:
        if not self._may_ask():
            return self._own.up(key, minute)
        from redis import RedisError  # only where there is one: it takes long to load

        try:
            count = self._asked(f"{PREFIX}:{minute}:{key}")
        except (RedisError, OSError) as error:
            self._has_gone(error)
            return self._own.up(key, minute)
        self._has_come()
        return count

    def _may_ask(self) -> bool:
        """While it is away, one request in a while tries; the others do not stand in line."""
        now = time.monotonic()
        with self._lock:
            if now < self._ask_from:
                return False
            if self._is_away:
                self._ask_from = now + AWAY_S
            return True

    def _asked(self, key: str) -> int:
        if self._client is None:
            self._client = _client(self._url)
        with self._client.pipeline(transaction=False) as line:
            line.incr(key)
            line.expire(key, KEPT_S)
            return int(line.execute()[0])

    def _has_gone(self, error: Exception) -> None:
        with self._lock:
            said, self._is_away = self._is_away, True
            self._ask_from = time.monotonic() + AWAY_S
        if not said:
            LOG.warning("Redis does not count requests (%s); each process does.", error)

    def _has_come(self) -> None:
        with self._lock:
            was_away, self._is_away = self._is_away, False
            self._ask_from = 0.0
        if was_away:
            LOG.warning("Redis counts requests again.")


def _client(url: str) -> Any:
    """A client that never tries twice and never waits long."""
    from redis import Redis
    from redis.backoff import NoBackoff
    from redis.retry import Retry

    return Redis.from_url(
        url,
        socket_connect_timeout=WAIT_S,
        socket_timeout=WAIT_S,
        retry=Retry(NoBackoff(), 0),
    )
