"""Where a studio may be: a country or a part of one, with its clock and its money."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from inventory.science.saying import say
from inventory.science.table import lines_of

COLUMNS = ("country", "name", "zone", "currency")


@dataclass(frozen=True, slots=True)
class Place:
    """One choice; elsewhere, clock and money are written by hand."""

    country: str  # ISO 3166
    name: str
    zone: str  # IANA
    currency: str  # ISO 4217

    @property
    def value(self) -> str:
        return say("{country} {zone}", country=self.country, zone=self.zone)


@cache
def places() -> tuple[Place, ...]:
    """Every choice, in the order of the table."""
    return tuple(
        Place(line.must("country"), line.must("name"), line.must("zone"), line.must("currency"))
        for line in lines_of("places.csv", COLUMNS, folder=files("api.web.begin"))
    )


def place_of(value: str) -> Place | None:
    """The place that a form names."""
    return next((row for row in places() if row.value == value), None)
