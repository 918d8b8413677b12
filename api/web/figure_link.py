"""A figure that decided something: value and range in words, whose it is, and where it stands."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.utils.text import slugify

from api.web.figures.digits import in_digits
from inventory.science.catalogue import find_figure
from inventory.science.figure_words import shown_value, words_for
from inventory.science.figures import Figure, Figures
from inventory.science.saying import joined, say
from sourcing.week.words import day_in_words

# As `figure_in_words` of sourcing/week/words.py writes it.
WRITTEN = re.compile(r"(?P<item>[^=]+), (?P<name>\w+) = .*")


@dataclass(frozen=True, slots=True)
class FigureLink:
    """A figure in words, and its place on the page of figures."""

    text: str  # wool, lost in scouring: 5 %
    span: str  # 1 to 6 %; empty where no range is known
    whose: str  # the studio's own, measured here Tue 3 Nov 2026; common practice
    own: bool
    anchor: str


def figure_link(written: str, figures: Figures, *, on: date) -> FigureLink | None:
    """The link of a reason's figure; None where it rests on none.

    Parameters
    ----------
    written : as a reason carries it, `wool, scour_loss_fraction = 0.05 (studio's own)`, or empty
    figures : those of the studio, the shipped ones behind
    on : the day of the answer
    """
    found = WRITTEN.fullmatch(written)
    if found is None:
        return None
    row = find_figure(figures, found["item"], found["name"], on=on)
    return None if row is None else _link(row)


def figure_anchor(item: str, name: str) -> str:
    """The `id` of a figure's row.

    >>> figure_anchor("wool", "scour_loss_fraction")
    'wool-scour_loss_fraction'
    """
    return slugify(f"{item} {name}")


def _link(row: Figure) -> FigureLink:
    words = words_for(row.name)
    said = say(
        "{item}, {words}: {value}",
        item=row.item,
        words=words.words,
        value=_digits(row.name, row.value),
    )
    return FigureLink(
        text=joined(" ", filter(None, (said, words.unit))),
        span=_span(row),
        whose=_whose(row),
        own=row.own,
        anchor=figure_anchor(row.item, row.name),
    )


def _span(row: Figure) -> str:
    if row.low is None or row.high is None or row.low == row.high:
        return ""
    unit = words_for(row.name).unit
    low, high = _digits(row.name, row.low), _digits(row.name, row.high)
    return joined(" ", filter(None, (say("{low} to {high}", low=low, high=high), unit)))


def _digits(name: str, value: Decimal) -> str:
    return in_digits(shown_value(name, value))


def _whose(row: Figure) -> str:
    """The studio's own with its day; else what it rests on."""
    if not row.own:
        return say("assumed, not measured") if row.basis == "assumed" else row.basis
    if row.since is None:
        return say("the studio's own")
    return say(
        "the studio's own, measured here {day} {since:%Y}",
        day=day_in_words(row.since),
        since=row.since,
    )
