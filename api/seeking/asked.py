"""A search is asked for, looked at, stopped and settled; the work itself is `work.py`'s."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils import timezone

from api.models.seeks import FOUND, OPEN, Seek
from inventory.hindrance import said_in_words
from inventory.models import Studio
from sourcing.week.guidance import Floor, Guidance
from sourcing.week.moments import minute_of

TAKEN, LEFT = "taken", "left"


@said_in_words()
def ask_seek(studio: Studio, *, entry: UUID, at: datetime, days: int, by_whom: str = "") -> Seek:
    """A search asked for; the one that is under way where there is one, whoever asked for it."""
    try:
        with transaction.atomic():
            return Seek.objects.of(studio).create(
                entry=entry, asked_at=timezone.now(), by_whom=by_whom, at=at, days=days
            )
    except IntegrityError:
        found = Seek.objects.of(studio).filter(entry=entry).first() or under_way(studio)
        if found is None:
            raise
        return found


def under_way(studio: Studio) -> Seek | None:
    """The search that is not over."""
    return Seek.objects.of(studio).filter(OPEN).first()


def last_seek(studio: Studio) -> Seek | None:
    """The search that was asked for last."""
    return Seek.objects.of(studio).order_by("-id").first()


@said_in_words()
def stop_seek(studio: Studio, entry: UUID, *, at: datetime) -> None:
    """Enough: the best so far is what was found."""
    rows = Seek.objects.of(studio).filter(OPEN, entry=entry, stop_at__isnull=True)
    rows.update(stop_at=at)


@said_in_words()
def settle_seek(studio: Studio, entry: UUID, how: str, *, at: datetime) -> None:
    """What was found is taken, or left; the first word holds."""
    rows = Seek.objects.of(studio).filter(entry=entry, state=FOUND, settled="")
    rows.update(settled=how, settled_at=at)


def guidance_found(seek: Seek) -> Guidance:
    """The guidance that makes the week which was found."""
    said = seek.found["guidance"]
    return Guidance(
        order=tuple(said["order"]),
        floors=tuple(
            Floor(run, step, minute_of(datetime.fromisoformat(at)))
            for run, step, at in said["floors"]
        ),
        sites=tuple((run, site) for run, site in said["sites"]),
    )
