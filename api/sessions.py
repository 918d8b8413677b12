"""Sessions of the pages, in the database; the question for one is put into SQL once a process."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.contrib.sessions.backends import db
from django.contrib.sessions.models import Session
from django.db.models import QuerySet
from django.utils import timezone

from inventory.prepared import Prepared


class SessionStore(db.SessionStore):
    """A session as the framework keeps it, read in a fraction of the time."""

    def load(self) -> dict[str, Any]:
        """What the session holds; nothing, where the key is none of ours or its time is over."""
        key = self.session_key or ""
        # A cookie may hold anything, and a database may choke on it.
        if key.isascii() and key.isalnum():
            for (kept,) in BY_KEY.rows(key=key, now=timezone.now()):
                found: dict[str, Any] = self.decode(kept)
                return found
        self._session_key = None
        return {}


def _by_key(*, key: str, now: datetime) -> QuerySet[Session, Any]:
    rows = Session.objects.filter(session_key=key, expire_date__gt=now)
    return rows.values_list("session_data")


BY_KEY = Prepared(_by_key)
