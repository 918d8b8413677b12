"""Who tries too often waits: an e-mail from one address, never a whole house.

A try is counted before it is made, in a transaction of its own, so that many at once are not let
through together. (The usual package for this, axes, counts afterwards, keeps what was typed, and
brings ten migrations; it was looked at and left.) Who waits is not made to wait longer by trying.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import transaction

from api.models import Tries
from inventory.hindrance import said_in_words
from inventory.science.saying import say

MOST_CLEARED = 500  # rows that nobody counts any more, at each try
KEPT = timedelta(days=1)


class TooOften(Exception):
    """Tried too often of late."""

    code = "tried_too_often"

    def __init__(self, *, wait: timedelta) -> None:
        self.wait_s = max(1, int(wait.total_seconds()))
        minutes = -(-self.wait_s // 60)
        some = "a minute" if minutes == 1 else say("{minutes} minutes", minutes=minutes)
        super().__init__(say("This was tried too often from here. Try again in {some}.", some=some))


@dataclass(frozen=True, slots=True)
class Allowance:
    """So many tries, and then a rest."""

    most: int
    rest: timedelta


SIGN_IN = Allowance(5, timedelta(minutes=15))
RECOVERY = Allowance(10, timedelta(minutes=15))


@said_in_words()
def count_try(*who: str, at: datetime, allowance: Allowance) -> None:
    """Count one more try, or refuse it.

    Parameters
    ----------
    who : what is counted, such as an e-mail and an address

    Raises
    ------
    TooOften
        With how long to wait.
    """
    digest = _digest(who)
    with transaction.atomic():
        _clear_away(at)
        rows = Tries.objects.select_for_update()
        row, is_new = rows.get_or_create(who=digest, defaults={"count": 1, "last_at": at})
        if is_new:
            return
        over = row.last_at + allowance.rest
        if row.count >= allowance.most and at < over:
            raise TooOften(wait=over - at)
        row.count, row.last_at = 1 if over <= at else row.count + 1, at
        row.save(update_fields=["count", "last_at"])


@said_in_words()
def forget_tries(*who: str) -> None:
    """It went well: what went before does not count."""
    Tries.objects.filter(who=_digest(who)).delete()


def _digest(who: tuple[str, ...]) -> str:
    return hashlib.sha256("\n".join(who).encode()).hexdigest()


def _clear_away(at: datetime) -> None:
    old = Tries.objects.filter(last_at__lt=at - KEPT).order_by("last_at")
    if keys := list(old.values_list("pk", flat=True)[:MOST_CLEARED]):
        Tries.objects.filter(pk__in=keys).delete()
