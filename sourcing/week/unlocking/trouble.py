"""How much trouble a kind of change is: of two that would do, the least is named.

Marks of the studio's own, each a figure with its source; no source ranks them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from inventory.science.catalogue import figure
from inventory.science.figures import Figures
from sourcing.week.unlocking.easing import KINDS, Easing

# The studio's figure for each kind of change.
FIGURES = {
    "carry": "trouble_hands", "hang": "trouble_line",
    "hands": "trouble_hands", "longer day": "trouble_hands", "open day": "trouble_hands",
    "strip": "trouble_look", "look over": "trouble_look", "label": "trouble_look",
    "card days": "trouble_look", "reading": "trouble_look", "nest check": "trouble_look",
    "line": "trouble_line",
    "ring": "trouble_pot", "pot": "trouble_pot",
    "claim": "trouble_claim", "arrival": "trouble_sooner",
    "due": "trouble_day_later", "moved": "trouble_run_moved",
    "permission": "trouble_leave", "shade card": "trouble_leave", "in writing": "trouble_leave",
    "liquor": "trouble_buying", "bath": "trouble_buying", "supply": "trouble_buying",
    "dyestuff": "trouble_buying", "fibre": "trouble_buying",
}  # fmt: skip


@dataclass(frozen=True)
class Trouble:
    """Marks by kind of change."""

    marks: dict[str, Decimal]

    def of(self, kind: str) -> tuple[Decimal, int]:
        """The marks of a kind, with its place among kinds of as many."""
        return self.marks[kind], KINDS.index(kind)

    def of_all(self, easings: tuple[Easing, ...]) -> tuple[object, ...]:
        """The marks of all together; among equals by kind, name and day."""
        named = sorted((KINDS.index(row.kind), row.what, str(row.day), row.like) for row in easings)
        return sum(self.marks[row.kind] for row in easings), named


def trouble_on(figures: Figures, *, on: date) -> Trouble:
    """The marks that hold on a day.

    Parameters
    ----------
    figures : the studio's own; the shipped ones stand where it has none

    Raises
    ------
    NoFigure
        If one is neither the studio's nor shipped.
    """
    names = {name: figure(figures, "studio", name, on=on).value for name in {*FIGURES.values()}}
    return Trouble({kind: names[name] for kind, name in FIGURES.items()})
