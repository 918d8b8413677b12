"""What there is to choose from at a moment, asked of the database only where a form wants it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from inventory.models import ColdPlace, Dyestuff, Studio
from sourcing.giving import Gift, gifts_at, piece_masses_g
from sourcing.shelves import ShelvesFacts, shelves_at

PLACES_AT_MOST = 24
PIECES_AT_MOST, COUNTED_AT_MOST = 6, 200


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to choose: what is sent, its words, and what tells it from the others."""

    value: str
    words: str
    more: str = ""
    drawing: str = ""  # name of what is drawn beside it


@dataclass(frozen=True, slots=True)
class Counted:
    """A word for pieces, and the grams that one likely weighs; 0 where nobody knows."""

    word: str
    each_g: int


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
        return tuple(dict.fromkeys(f"{piece}s" for piece, _ in self._counted))[:PIECES_AT_MOST]

    @cached_property
    def counted(self) -> tuple[Counted, ...]:
        """The same with what one likely weighs, of the dyestuff that is likely to be carried in."""
        likely = [gift.gives for gift in self.gifts[:1]]
        mean_g = piece_masses_g(self.studio, at=self.at)
        found: dict[str, Counted] = {}
        for piece, dyestuff in sorted(self._counted, key=lambda row: row[1] not in likely):
            found.setdefault(f"{piece}s", Counted(f"{piece}s", mean_g.get(dyestuff, 0)))
        return tuple(found.values())[:PIECES_AT_MOST]

    @cached_property
    def _counted(self) -> tuple[tuple[str, str], ...]:
        rows = Dyestuff.objects.of(self.studio).exclude(piece="").order_by("piece", "name")
        return tuple(rows.values_list("piece", "name")[:COUNTED_AT_MOST])
