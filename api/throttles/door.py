"""Let a request through, or say when to come again."""

from __future__ import annotations

import time
from functools import cache
from hashlib import sha256

from django.conf import settings
from django.http import HttpRequest
from rest_framework.request import Request

from api.credentials import at_this_machine
from api.rest.refused import Refused
from api.throttles.counts import Counts, OfThisProcess
from api.throttles.limits import MINUTE_S
from api.throttles.shared import InRedis
from inventory.science.saying import say

Asking = HttpRequest | Request
READING = ("GET", "HEAD", "OPTIONS")


class TooManyRequests(Refused):
    """More requests in this minute than are answered."""

    code = "throttled"

    def __init__(self, *, most: int, whose: str, wait_s: int) -> None:
        self.wait_s = wait_s
        seconds = "a second" if wait_s == 1 else say("{wait_s} seconds", wait_s=wait_s)
        detail = say(
            "Too many requests: {most:,} a minute are answered to {whose}. Come again in "
            "{seconds}.",
            most=most,
            whose=whose,
            seconds=seconds,
        )
        super().__init__(detail, headers={"Retry-After": str(wait_s)}, most_per_minute=most)


def let_through(request: Asking, kind: str, who: str) -> None:
    """Count one more request of somebody.

    Parameters
    ----------
    kind : which limit holds
    who : whom it holds for

    Raises
    ------
    TooManyRequests
        With the seconds until the next minute.
    """
    limit = settings.LIMITS.get(kind)
    if limit is None or at_this_machine(request):
        return
    reads = request.method in READING
    most = limit.reads if reads else limit.writes
    now = _now_s()
    minute = int(now // MINUTE_S)
    key = f"{kind}:{'reads' if reads else 'writes'}:{_digest(who)}"
    if counts().up(key, minute) > most:
        wait_s = max(1, int((minute + 1) * MINUTE_S - now + 1))
        raise TooManyRequests(most=most, whose=limit.whose, wait_s=wait_s)


@cache
def counts() -> Counts:
    """Where requests are counted: in Redis where there is one."""
    return InRedis(settings.REDIS_URL) if settings.REDIS_URL else OfThisProcess()


def _now_s() -> float:
    return time.time()


def _digest(who: str) -> str:
    """Nobody who reads the counts learns an address or a link."""
    return sha256(f"{settings.SECRET_KEY}\n{who}".encode()).hexdigest()[:24]
