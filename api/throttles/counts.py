"""Counts of requests in a minute, kept in this process: each process counts for itself."""

from __future__ import annotations

import threading
from typing import Protocol

KEYS_AT_MOST = 20_000


class Counts(Protocol):
    """Where requests are counted."""

    def up(self, key: str, minute: int) -> int:
        """Count one more, and say how many there were of that key in that minute."""
        ...


class OfThisProcess:
    """Counts in memory, of bounded size; when it is full of this minute, it begins again."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._found: dict[str, tuple[int, int]] = {}

    def up(self, key: str, minute: int) -> int:
        with self._lock:
            if len(self._found) >= KEYS_AT_MOST and key not in self._found:
                self._make_room(minute)
            since, count = self._found.get(key, (minute, 0))
            count = count + 1 if since == minute else 1
            self._found[key] = (minute, count)
            return count

    def _make_room(self, minute: int) -> None:
        self._found = {key: row for key, row in self._found.items() if row[0] >= minute}
        if len(self._found) >= KEYS_AT_MOST:
            self._found = {}
