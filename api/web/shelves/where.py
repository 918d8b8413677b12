"""On which part of the shelves, and on which page of it, a thing is shown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from api.web.shelves.anchors import anchor_of
from api.web.shelves.cut import AT_MOST, PAGE_ROWS
from api.web.shelves.fibre import in_order
from sourcing.shelves import ShelvesFacts


@dataclass(frozen=True, slots=True)
class Place:
    """Where a thing stands, and what an address of the shelves has to name to show it."""

    anchor: str
    words: tuple[tuple[str, str], ...] = ()


def place_of(facts: ShelvesFacts, code: str) -> Place | None:
    """Where a thing is shown; None where nothing of it is there.

    Parameters
    ----------
    code : as on its label; typed in small letters it is found too, where one alone is meant
    """
    parts = _codes(facts)
    known = [each for codes in parts.values() for each in codes]
    alike = [each for each in known if each.casefold() == code.casefold()]
    if code not in known and len(alike) == 1:
        code = alike[0]
    for part, codes in parts.items():
        if code in codes:
            return Place(anchor_of(code), _page(part, codes.index(code)))
    return None


def _page(part: str, number: int) -> tuple[tuple[str, str], ...]:
    if number < AT_MOST[part]:
        return ()
    return (("part", part), ("page", str(number // PAGE_ROWS + 1)))


def _codes(facts: ShelvesFacts) -> dict[str, Sequence[str]]:
    """Codes by part, in the order in which the page shows them."""
    shelf = facts.shelf
    return {
        "jars": [row.code for row in shelf.jars],
        "baths": [row.code for row in shelf.baths],
        "lots": [row.lot.code for row in facts.lots],
        "fibre": [row.code for row in in_order(shelf.fibre)],
    }
