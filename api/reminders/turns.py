"""Whose turn it is, of several processes that would do the same: a row that lapses by itself."""

from __future__ import annotations

from datetime import datetime, timedelta
from uuid import UUID

from django.db import IntegrityError, transaction

from api.models import Turn
from inventory.hindrance import said_in_words


@said_in_words()
def take_turn(what: str, *, holder: UUID, at: datetime, hold: timedelta) -> bool:
    """Take or keep the turn till `at + hold`; False while another has it."""
    until = at + hold
    with transaction.atomic():
        row = Turn.objects.select_for_update().filter(what=what).first()
        if row is not None:
            if row.holder != holder and row.until > at:
                return False
            row.holder, row.until = holder, until
            row.save(update_fields=["holder", "until"])
            return True
    try:
        with transaction.atomic():
            Turn.objects.create(what=what, holder=holder, until=until)
    except IntegrityError:
        return False  # another took the very first turn just now
    return True


@said_in_words()
def end_turn(what: str, *, holder: UUID, at: datetime) -> None:
    """Let the next one in."""
    Turn.objects.filter(what=what, holder=holder).update(until=at)
