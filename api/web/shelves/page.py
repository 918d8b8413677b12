"""The page of the shelves: what is asked, what is seen, how much of it is shown at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from django.http import HttpRequest, HttpResponse

from api.question import Question, question_of
from api.shelves_asked import MORE, Asked, asked_of
from api.web.page import page, shown
from api.web.shelves.cut import AT_MOST, Cut, Rest
from api.web.shelves.fibre import FibreGroup, fibre_shown, in_order
from api.web.shelves.figures import FigureShown
from api.web.shelves.jars import BathShown, JarShown, bath_shown, jars_shown
from api.web.shelves.lots import (
    LotShown,
    SupplyShown,
    TotalShown,
    lots_shown,
    summed,
    supplies_shown,
    totals_shown,
)
from api.web.shelves.moved import MovedShown, moved_shown
from api.web.shelves.pots import (
    PlaceShown,
    PotShown,
    RingShown,
    cold_shown,
    lines_shown,
    pots_shown,
    rings_shown,
)
from inventory.science.cautions import Caution
from inventory.science.saying import say
from sourcing.shelves import ShelvesFacts, shelves_at

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class ShelvesShown:
    """The whole page, or one part of it."""

    part: str  # empty: all parts
    back: str  # address of the whole page
    jars: tuple[JarShown, ...]
    baths: tuple[BathShown, ...]
    bath_figures: tuple[FigureShown, ...]
    lots: tuple[LotShown, ...]
    lot_figures: tuple[FigureShown, ...]
    lot_cautions: tuple[Caution, ...]
    totals: tuple[TotalShown, ...]
    fibre: tuple[FibreGroup, ...]
    fibre_figures: tuple[FigureShown, ...]
    supplies: tuple[SupplyShown, ...]
    pots: tuple[PotShown, ...]
    cold: tuple[PlaceShown, ...]
    lines: tuple[PlaceShown, ...]
    rings: tuple[RingShown, ...]
    moved: tuple[MovedShown, ...]
    rest: Mapping[str, Rest]
    has: Mapping[str, bool]


@page
def shelves_page(request: HttpRequest) -> HttpResponse:
    """The shelves of the only studio, or of the one that the address names."""
    question = question_of(request, what=say("The page of the shelves"), more=MORE)
    asked = asked_of(request.GET)
    facts = shelves_at(
        question.studio,
        at=question.at,
        skip=asked.skip_moved,
        kinds=asked.kinds,
        with_moved=asked.with_moved,
        with_places=asked.with_places,
    )
    view = view_of(facts, question, asked)
    return shown("shelves/page.html", question, here="shelves", shelves=view)


def view_of(facts: ShelvesFacts, question: Question, asked: Asked) -> ShelvesShown:
    """Everything on the page in words and shapes."""
    cut = Cut(question.said, asked)
    carried = question.carried
    shelf = facts.shelf
    stories = [facts.story(jar) for jar in cut("jars", shelf.jars)]
    baths = tuple(bath_shown(facts, row, carried=carried) for row in cut("baths", shelf.baths))
    lots = lots_shown(facts, cut("lots", facts.lots, rest=summed), carried=carried)
    fibre = fibre_shown(facts, cut("fibre", in_order(shelf.fibre)), carried=carried)
    moved = tuple(cut.moved(moved_shown(facts), more=facts.more_moved))
    whole = not asked.part
    return ShelvesShown(
        part=asked.part,
        back=question.carried or "?",
        jars=jars_shown(facts, stories, carried=carried),
        baths=baths,
        bath_figures=_once(bath.figure for bath in baths),
        lots=lots,
        lot_figures=_once(lot.figure for lot in lots),
        lot_cautions=_once(caution for lot in lots for caution in lot.cautions),
        totals=totals_shown(facts, cut("totals", facts.totals)),
        fibre=fibre,
        fibre_figures=_once(f for group in fibre for row in group.rows for f in row.figures),
        supplies=supplies_shown(cut("supplies", shelf.supplies), facts),
        pots=pots_shown(facts, cut("pots", shelf.vessels), carried=carried),
        cold=cold_shown(facts) if whole else (),
        lines=lines_shown(facts) if whole else (),
        rings=rings_shown(facts) if whole else (),
        moved=moved,
        rest=cut.rest,
        has={name: whole or name == asked.part for name in AT_MOST},
    )


def _once(rows: Iterable[T]) -> tuple[T, ...]:
    return tuple(dict.fromkeys(rows))
