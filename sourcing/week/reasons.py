"""A reason with the figure it rests on, and whether that figure is the studio's own."""

from __future__ import annotations

from datetime import datetime

from inventory.science.figures import Figure
from sourcing.week.plan import Reason
from sourcing.week.words import figure_in_words


def because(
    kind: str, what: str, text: str, figure: Figure | None, until: datetime | None = None
) -> Reason:
    """A reason that names its figure; None where it rests on none."""
    if figure is None:
        return Reason(kind, what, text, until)
    return Reason(kind, what, text, until, figure_in_words(figure), figure.own)
