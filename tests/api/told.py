"""The whole of an answer, closed as the test client closes one: its connection stays open."""

from __future__ import annotations

from typing import Any

from django.core.signals import request_finished
from django.db import close_old_connections


def told(answer: Any) -> bytes:
    """What an answer says, and the end of it.

    The end of a request closes connections that are in a transaction, as every test is; a file
    in memory bears it, a file on disk or a server does not.
    """
    raw = b"".join(answer.streaming_content) if answer.streaming else answer.content
    request_finished.disconnect(close_old_connections)
    try:
        answer.close()
    finally:
        request_finished.connect(close_old_connections)
    return raw
