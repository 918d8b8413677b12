"""A thing of the catalogue ready to show: each property with every source's row and the range."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from django.urls import reverse
from django.utils.text import slugify

from api.web.figures.digits import in_digits
from api.web.figures.range_bar import RangeBar, range_bar
from inventory.science.cautions import Caution, cautions_for_jar, cautions_for_lot
from inventory.science.hazard_codes import in_words, strictest
from inventory.science.library import KINDS, Library, Row, Said, Thing, library
from inventory.science.saying import say
from sourcing.week.words import day_in_words

BASIS = {
    "memory": say("memory, not checked against a source"),
    "assumed": say("assumed, not measured"),
}


@dataclass(frozen=True, slots=True)
class RowShown:
    """What one source says, in words."""

    figure: str  # "25 to 50, typically 33 % v/v"; words; codes
    case: str
    basis: str
    source: str
    known_on: str
    bar: RangeBar | None


@dataclass(frozen=True, slots=True)
class SaidShown:
    """One property of a thing, all its sources, and the range over them."""

    name: str  # stable, for an address
    words: str
    unit: str  # in words
    rows: tuple[RowShown, ...]
    reach: str  # "all of them: 25 to 100 % v/v"; empty where one row says it all


@dataclass(frozen=True, slots=True)
class CodeShown:
    code: str
    words: str


@dataclass(frozen=True, slots=True)
class ThingShown:
    """The page of one thing."""

    name: str
    kind: str
    kinds: str
    said: tuple[SaidShown, ...]
    codes: tuple[CodeShown, ...]  # of a substance: the stricter of all sources
    cautions: tuple[Caution, ...]  # those that belong to it wherever it stands


@dataclass(frozen=True, slots=True)
class Link:
    name: str
    address: str
    rows: int


@dataclass(frozen=True, slots=True)
class KindShown:
    """The things of one kind, by name."""

    kind: str
    words: str
    links: tuple[Link, ...]


def thing_shown(thing: Thing) -> ThingShown:
    """A thing with all that is said of it."""
    shelf = library()
    codes = strictest(row.words for row in thing.of("ghs_codes"))
    times = Counter(said.name for said in thing.said())
    return ThingShown(
        name=thing.name,
        kind=thing.kind,
        kinds=KINDS[thing.kind][1],
        said=tuple(_said(said, shelf, alone=times[said.name] == 1) for said in thing.said()),
        codes=tuple(CodeShown(code, in_words(code)) for code in codes),
        cautions=_cautions(thing),
    )


def kinds_shown(things: Iterable[Thing], *, carried: str) -> tuple[KindShown, ...]:
    """Things by kind, kinds in the order of the catalogue, names in the order of the alphabet."""
    by: dict[str, list[Thing]] = {kind: [] for kind in KINDS}
    for thing in things:
        by[thing.kind].append(thing)
    return tuple(
        KindShown(kind, KINDS[kind][1], tuple(_link(row, carried) for row in _sorted(found)))
        for kind, found in by.items()
        if found
    )


def thing_at(kind: str, slug: str) -> Thing | None:
    """The thing that an address names."""
    return _by_slug().get((kind, slug))


def thing_address(thing: Thing, *, carried: str = "") -> str:
    """The address of a thing's page."""
    return reverse("thing", args=(thing.kind, slugify(thing.name))) + carried


def rows_shown(said: Said) -> tuple[RowShown, ...]:
    """What each source says of one property."""
    return tuple(_row(row, said) for row in said.rows)


def in_figures(row: Row) -> str:
    """A row's figures or words.

    >>> in_figures(library().look_up("silk", "agreed_allowance")[0])
    '11 % on dry mass'
    """
    if row.words:
        return say(row.words)
    span = _span(row.low, row.high)
    typical = "" if row.typical is None else _number(row.typical)
    if span and typical:
        return say(
            "{span}, typically {typical} {unit}", span=span, typical=typical, unit=say(row.unit)
        )
    return say("{span} {unit}", span=span or typical, unit=say(row.unit))


def _span(low: Decimal | None, high: Decimal | None) -> str:
    if low is None and high is None:
        return ""
    if low is None or high is None:
        return (
            say("at least {number}", number=_number(low))
            if low is not None
            else say("up to {number}", number=_number(high))
        )
    return (
        _number(low)
        if low == high
        else say("{number} to {number_2}", number=_number(low), number_2=_number(high))
    )


def _number(value: Decimal | None) -> str:
    assert value is not None
    return in_digits(value)


def _said(said: Said, shelf: Library, *, alone: bool) -> SaidShown:
    """One property in one unit; the unit ends its heading where it stands in several."""
    reach, unit = said.reach, shelf.unit_words.get(said.unit, "")
    words = shelf.property_words[said.name]
    joint = ""
    if reach is not None and sum(1 for row in said.rows if row.numbers) > 1:
        joint = say("{span} {unit}", span=_span(reach.low, reach.high), unit=say(reach.unit))
    return SaidShown(
        name=said.name,
        words=words if alone else say("{words}, {unit}", words=words, unit=unit or "in words"),
        unit=unit if alone else "",
        rows=tuple(_row(row, said) for row in said.rows),
        reach=joint,
    )


def _row(row: Row, said: Said) -> RowShown:
    reach, bar = said.reach, None
    if reach is not None and row.numbers and reach.low < reach.high:
        bar = range_bar(row.numbers, typical=row.typical, low=reach.low, high=reach.high)
    known_on = row.known_on
    return RowShown(
        figure=in_figures(row),
        case=say(row.case) if row.case else "",
        basis=BASIS.get(row.basis, row.basis),
        source=row.source,
        known_on=""
        if known_on is None
        else say("{known_on} {year}", known_on=day_in_words(known_on), year=known_on.year),
        bar=bar,
    )


def _cautions(thing: Thing) -> tuple[Caution, ...]:
    """What is said of it on label, sheet and shelf too: of a plant's part, of a metal liquor."""
    if thing.kind in ("dyestuff", "hazard"):
        found = cautions_for_lot(thing.name)
    else:
        metal, _, rest = thing.name.partition(" liquor")
        found = cautions_for_jar(metal) if rest else ()
    return tuple(row for row in found if row.kind != "duty")


def _link(thing: Thing, carried: str) -> Link:
    return Link(thing.name, thing_address(thing, carried=carried), len(thing.rows))


def _sorted(things: Iterable[Thing]) -> list[Thing]:
    return sorted(things, key=lambda thing: thing.name.casefold())


@cache
def _by_slug() -> dict[tuple[str, str], Thing]:
    return {(thing.kind, slugify(thing.name)): thing for thing in library().things}
