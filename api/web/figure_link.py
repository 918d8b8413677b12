"""Where a figure that decided something is shown with its range and source."""

from __future__ import annotations

import re
from dataclasses import dataclass

from django.utils.text import slugify

# As `figure_in_words` of sourcing/week/words.py writes it.
WRITTEN = re.compile(r"(?P<item>[^=]+), (?P<name>\w+) = (?P<value>\S+) \((?P<whose>.*)\)")
OWN = "studio's own"


@dataclass(frozen=True, slots=True)
class FigureLink:
    """A figure in words, and the place on the page of figures that shows its range and source."""

    text: str  # wool: scour loss fraction 0.05
    whose: str  # the studio's own; common practice; a source
    own: bool
    anchor: str


def figure_link(written: str) -> FigureLink | None:
    """The link of a reason's figure; None where it rests on none.

    >>> figure_link("wool, scour_loss_fraction = 0.05 (studio's own)").anchor
    'wool-scour_loss_fraction'
    """
    found = WRITTEN.fullmatch(written)
    if found is None:
        return None
    item, name = found["item"], found["name"]
    own = found["whose"] == OWN
    return FigureLink(
        text=f"{item}: {name.replace('_', ' ')} {found['value']}",
        whose="the studio's own" if own else found["whose"],
        own=own,
        anchor=figure_anchor(item, name),
    )


def figure_anchor(item: str, name: str) -> str:
    """The `id` of a figure's row."""
    return slugify(f"{item} {name}")
