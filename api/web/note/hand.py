"""What there is to choose from at a moment, asked of the database only where a form wants it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from inventory.models import ColdPlace, Dyestuff, Studio
from sourcing.giving import Gift, gifts_at
from sourcing.shelves import ShelvesFacts, shelves_at

PLACES_AT_MOST = 24


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to choose: what is sent, its words, and what tells it from the others."""

    value: str
    words: str
    more: str = ""
    drawing: str = ""  # name of what is drawn beside it


class Hand:
    """What one form of one studio may choose from."""

    def __init__(self, studio: Studio, at: datetime) -> None:
        self.studio, self.at = studio, at

    @cached_property
    def shelves(self) -> ShelvesFacts:
        """All that stands on the shelves, what spoils first in front."""
        return shelves_at(self.studio, at=self.at)

    @cached_property
    def gifts(self) -> tuple[Gift, ...]:
        """Who gives what, what is due nearest in front."""
        return gifts_at(self.studio, at=self.at)

    @cached_property
    def cold(self) -> tuple[tuple[str, str], ...]:
        """Kind and code of fridges, freezers and trays."""
        rows = ColdPlace.objects.of(self.studio).order_by("code")
        return tuple(rows.values_list("kind", "code")[:PLACES_AT_MOST])

    @cached_property
    def pieces(self) -> tuple[str, ...]:
        """The studio's words for what it counts, in the plural."""
        rows = Dyestuff.objects.of(self.studio).exclude(piece="").order_by("piece")
        return tuple(f"{piece}s" for piece in rows.values_list("piece", flat=True).distinct()[:6])
