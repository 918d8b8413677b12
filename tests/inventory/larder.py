"""A small studio and its moments, for the tests of the shelves."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from uuid import UUID, uuid4

from inventory import ledger
from inventory.entries import NewLot, Place
from inventory.models import Studio
from inventory.posting import Posted

MONDAY_NINE = datetime(2026, 11, 23, 9, 0, tzinfo=UTC)
HOUR = timedelta(hours=1)
DAY = timedelta(days=1)
BENCH = Place("bench")
FRIDGE = Place("fridge", "fridge", 5.0)
FREEZER = Place("freezer", "drawer", -18.0)
G = 1000  # mg


def studio_of(name: str = "Pellitory Yard") -> Studio:
    """A studio of that name."""
    return Studio.objects.create(name=name, zone="Europe/London", country="GB")


def stones(
    studio: Studio,
    code: str = "AV-1116",
    grams: int = 1180,
    *,
    at: datetime = MONDAY_NINE,
    entry: UUID | None = None,
) -> Posted:
    """A lot of avocado stones received."""
    lot = NewLot(code=code, what="avocado stones", state="fresh", place=FRIDGE)
    return ledger.receive(studio, entry=entry or uuid4(), at=at, lot=lot, amount=grams * G)
