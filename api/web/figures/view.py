"""*Figures and cautions*: what the week's sums rest on, and all that is known of each thing."""

from __future__ import annotations

from dataclasses import dataclass
from http import HTTPStatus

from django.http import HttpRequest, HttpResponse, QueryDict
from django.urls import reverse

from api.asked import Unreadable
from api.question import question_of
from api.tongue.trade import trade
from api.web.figures.standing import StandingShown, standing_shown
from api.web.figures.things import KindShown, kinds_shown, thing_at, thing_shown
from api.web.page import page, refused, shown
from inventory.science.cautions import Caution, shipped_cautions, shipped_parts
from inventory.science.library import KINDS, library
from inventory.science.saying import first_large, say
from sourcing.figures import figures_at
from sourcing.week.words import listed

WHAT = say("The page of figures")
LONGEST_SEARCH = 60
FIGURES_AT_MOST = 1_000  # on one page; a search finds the rest


class SearchUnreadable(Unreadable):
    """A search that is too long, or for a kind of thing that the catalogue has not."""

    code = "search_unreadable"


@dataclass(frozen=True, slots=True)
class Search:
    """What somebody looks for."""

    find: str  # as typed, single spaces
    kind: str  # one of KINDS; empty: all

    @property
    def words(self) -> tuple[str, ...]:
        return tuple(self.find.casefold().split())


@dataclass(frozen=True, slots=True)
class KindChoice:
    kind: str
    words: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class FiguresView:
    """The whole page."""

    search: Search
    choices: tuple[KindChoice, ...]
    hidden: tuple[tuple[str, str], ...]  # what the address asks for beside the search
    figures: tuple[StandingShown, ...]
    more: int  # figures that the page has no room for
    own: int
    kinds: tuple[KindShown, ...]
    found: int
    cautions: str  # the address of the cautions


@dataclass(frozen=True, slots=True)
class Belongs:
    """Cautions of one thing or piece of work."""

    what: str
    cautions: tuple[Caution, ...]


@page
def figures_page(request: HttpRequest) -> HttpResponse:
    """The figures that this studio's week rests on, then the catalogue by kind."""
    question = question_of(request, what=WHAT, more=("find", "kind"))
    search = search_asked(request.GET)
    standing = () if search.kind else figures_at(question.studio, at=question.at)
    figures = tuple(row for row in standing_shown(standing) if _matches(row, search))
    things = [
        row for row in library().search(search.find) if not search.kind or row.kind == search.kind
    ]
    view = FiguresView(
        search=search,
        choices=tuple(KindChoice(kind, KINDS[kind][1], kind == search.kind) for kind in KINDS),
        hidden=question.said,
        figures=figures[:FIGURES_AT_MOST],
        more=max(0, len(figures) - FIGURES_AT_MOST),
        own=sum(row.own for row in figures),
        kinds=kinds_shown(things, carried=question.carried),
        found=len(things),
        cautions=reverse("cautions") + question.carried,
    )
    return shown("figures/page.html", question, here="figures", view=view)


@page
def thing_page(request: HttpRequest, kind: str, slug: str) -> HttpResponse:
    """All that is known of one thing, every source beside the others."""
    question = question_of(request, what=WHAT)
    thing = thing_at(kind, slug)
    if thing is None:
        said = say(
            "The catalogue has no {kind} called “{slug}”. Look for it among the figures.",
            kind=kind[:40],
            slug=slug[:60],
        )
        return refused(HTTPStatus.NOT_FOUND, said)
    return shown("figures/thing.html", question, here="figures", thing=thing_shown(thing))


@page
def cautions_page(request: HttpRequest) -> HttpResponse:
    """Every caution with what it belongs to, its basis and its source."""
    question = question_of(request, what=say("The page of cautions"))
    by: dict[str, list[Caution]] = {}
    for what, caution in shipped_cautions():
        by.setdefault(what, []).append(caution)
    for plant, part, caution in shipped_parts():
        by.setdefault(
            plant if part == "all" else say("{plant}, {part}", plant=plant, part=part), []
        ).append(caution)
    belongs = tuple(Belongs(first_large(trade(what)), tuple(rows)) for what, rows in by.items())
    return shown("figures/cautions.html", question, here="figures", belongs=belongs)


def search_asked(query: QueryDict) -> Search:
    """What an address looks for; nothing looks for everything."""
    find, kind = " ".join(query.get("find", "").split()), query.get("kind", "")
    if len(find) > LONGEST_SEARCH:
        detail = say(
            "Look for no more than {longest_search} letters; {count} were asked for.",
            longest_search=LONGEST_SEARCH,
            count=len(find),
        )
        raise SearchUnreadable("find", find, detail)
    if kind and kind not in KINDS:
        detail = say(
            "The catalogue has {kinds}; not “{kind}”.", kinds=listed(KINDS), kind=kind[:40]
        )
        raise SearchUnreadable("kind", kind, detail)
    return Search(find, kind)


def _matches(row: StandingShown, search: Search) -> bool:
    said = say(
        "{item} {words} {source} {note}",
        item=row.item,
        words=row.words,
        source=row.source,
        note=row.note,
    ).casefold()
    return all(word in said for word in search.words)
