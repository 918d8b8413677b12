"""The figures of the sums ready to show: which one is used, its range, and whose it is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from api.web.figure_link import figure_anchor
from api.web.figures.digits import in_digits
from api.web.figures.range_bar import RangeBar, range_bar
from inventory.science.figure_words import bounds, shown_value, words_for
from inventory.science.figures import Figure
from inventory.science.saying import say
from sourcing.figures import Standing
from sourcing.notebook.rules import figure_of
from sourcing.week.words import day_in_words


@dataclass(frozen=True, slots=True)
class StandingShown:
    """One figure: the value that the sums take, and where it comes from."""

    anchor: str
    item: str
    words: str
    value: str  # "5 %"
    span: str  # "1 to 6 %"; empty where no range is known
    basis: str
    source: str
    own: bool
    since: str  # "3 Nov 2026"; empty: from the first day on
    note: str
    shipped: str  # what the trade says, where the studio says otherwise
    bar: RangeBar | None


def standing_shown(rows: Iterable[Standing]) -> tuple[StandingShown, ...]:
    """Figures in their order, ready for a table."""
    return tuple(_shown(row) for row in rows)


def _shown(row: Standing) -> StandingShown:
    used = row.used
    since = used.since if used.own else None
    return StandingShown(
        anchor=figure_anchor(row.item, row.name),
        item=row.item,
        words=words_for(row.name).words,
        value=_with_unit(row.name, in_digits(shown_value(row.name, used.value)), used.value),
        span=_span(used) or (_span(row.shipped) if row.shipped is not None else ""),
        basis=_basis(used),
        source=used.source,
        own=used.own,
        since=""
        if since is None
        else say("{since} {year}", since=day_in_words(since), year=since.year),
        note=row.note,
        shipped=_said(row.shipped) if row.own is not None and row.shipped is not None else "",
        bar=_bar(row),
    )


def _said(row: Figure) -> str:
    """A shipped figure in one line: value, range, basis."""
    value = _with_unit(row.name, in_digits(shown_value(row.name, row.value)), row.value)
    span = _span(row)
    return (
        say("{value}, {span} ({basis})", value=value, span=span, basis=_basis(row))
        if span
        else say("{value} ({basis})", value=value, basis=_basis(row))
    )


def _span(row: Figure) -> str:
    low, high = bounds(row)
    if low is None or high is None:
        return ""
    if low == high:
        return ""
    return _with_unit(
        row.name,
        say("{in_digits} to {in_digits_2}", in_digits=in_digits(low), in_digits_2=in_digits(high)),
        row.value,
    )


def _with_unit(name: str, said: str, value: Decimal) -> str:
    """Behind a number stands the unit of its name; where no words are written, the notebook's."""
    unit = words_for(name).unit or figure_of(name, value).unit
    if said == "1" and unit in ("days", "months", "nights", "rinses", "times"):
        unit = unit[:-1]
    return say("{said} {unit}", said=said, unit=unit).rstrip()


def _basis(row: Figure) -> str:
    return say("assumed, not measured") if row.basis == "assumed" else row.basis


def _bar(row: Standing) -> RangeBar | None:
    """The used figure on the scale of both ranges; None where there is no range at all."""
    figures = [figure for figure in (row.own, row.shipped) if figure is not None]
    found = [
        value
        for figure in figures
        for value in (figure.low, figure.value, figure.high)
        if value is not None
    ]
    low, high = min(found), max(found)
    if low == high:
        return None
    used = row.used
    own_range = [value for value in (used.low, used.high) if value is not None]
    behind = row.shipped if row.shipped is not None else used
    ends = own_range or [value for value in (behind.low, behind.high) if value is not None]
    return range_bar([*ends, used.value], typical=used.value, low=low, high=high)
