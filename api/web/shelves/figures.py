"""A figure behind an answer: its value, range, basis and source in words, and its address."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import lru_cache

from django.utils.translation import get_language

from api.web.addresses import address_of
from api.web.figure_link import figure_anchor
from inventory.science.catalogue import shipped
from inventory.science.figure_words import shown_value, words_for
from inventory.science.figures import Figure
from inventory.science.saying import say
from sourcing.week.words import decimal_string

ONE = {"days": "day", "months": "month", "times": "time", "hours": "hour"}
FIGURES_KEPT = 256  # of what a jar or lot rests on; most rest on the same
OWN_WITHOUT_A_DAY = say("the studio's own, measured here")


@dataclass(frozen=True, slots=True)
class FigureShown:
    """One figure, ready to be put on a page."""

    words: str  # "iron liquor, usable from"
    value: str  # "7 days"
    low: str
    high: str
    basis: str
    source: str
    own: bool
    whose: str  # "the studio's own, measured here 3 Nov 2026"; empty for a shipped one
    shipped: str  # what the trade says, where the studio says otherwise
    address: str  # of the page that lists it


def figures_shown(rows: Iterable[Figure], *, carried: str) -> tuple[FigureShown, ...]:
    """Figures in their order, each once."""
    return _shown(tuple(rows), carried, get_language())


@lru_cache(maxsize=FIGURES_KEPT)
def _shown(rows: tuple[Figure, ...], carried: str, language: str | None) -> tuple[FigureShown, ...]:
    return tuple(figure_shown(row, carried=carried) for row in dict.fromkeys(rows))


def figure_shown(row: Figure, *, carried: str) -> FigureShown:
    """A figure in words; `carried` is what the address goes on asking."""
    return _in_words(row, carried, get_language())


@lru_cache(maxsize=FIGURES_KEPT)
def _in_words(row: Figure, carried: str, language: str | None) -> FigureShown:
    other = shipped().find(row.item, row.name, on=date.max) if row.own else None
    return FigureShown(
        words=say("{item}, {words}", item=row.item, words=words_for(row.name).words),
        value=_said(row.name, row.value),
        low=_said(row.name, row.low),
        high=_said(row.name, row.high),
        basis=_basis(row),
        source=row.source,
        own=row.own,
        whose=_whose(row) if row.own else "",
        shipped=_span(other) if other is not None else "",
        address=figure_address(row.item, row.name, carried=carried),
    )


def figure_address(item: str, name: str, *, carried: str = "") -> str:
    """Where the figure stands with its range and source."""
    return f"{address_of('figures')}{carried}#{figure_anchor(item, name)}"


def _said(name: str, value: Decimal | None) -> str:
    if value is None:
        return ""
    number, unit = decimal_string(shown_value(name, value)), words_for(name).unit
    return say(
        "{number} {which}", number=number, which=ONE.get(unit, unit) if number == "1" else unit
    ).rstrip()


def _basis(row: Figure) -> str:
    return say("assumed, not measured") if row.basis == "assumed" else row.basis


def _whose(row: Figure) -> str:
    if row.since is None:
        return OWN_WITHOUT_A_DAY
    return say(
        "{own_without_a_day} {day} {since:%b %Y}",
        own_without_a_day=OWN_WITHOUT_A_DAY,
        day=row.since.day,
        since=row.since,
    )


def _span(row: Figure) -> str:
    """The shipped figure beside the studio's own."""
    said = _said(row.name, row.value)
    if row.low is None or row.high is None:
        return say("{said} ({basis})", said=said, basis=_basis(row))
    return say(
        "{said}, {said_2} to {said_3} ({basis})",
        said=said,
        said_2=_said(row.name, row.low),
        said_3=_said(row.name, row.high),
        basis=_basis(row),
    )
