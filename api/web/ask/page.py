"""*Ask for a run*: look first, with nothing written down; then ask for it."""

from __future__ import annotations

from dataclasses import replace

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from api.how_big_asked import new_name
from api.question import Question, question_of
from api.tongue.customs import custom_of
from api.visitor import Right, visitor_of
from api.web.ask.asked import WORDS, RunAsked, Wish, run_asked, wish_of
from api.web.ask.choices import form_of
from api.web.ask.how_big import HowBigShown, how_big_shown
from api.web.ask.view import LookedShown, Otherwise, looked_shown
from api.web.forms import REFUSALS, enter, form_view, on_to, sentences_of, with_form
from api.web.runs.address import run_address
from inventory.models import Studio
from inventory.science.saying import say
from sourcing.outlook import facts_at
from sourcing.runs import card_before, next_code
from sourcing.week.facts import WeekFacts
from sourcing.week.how_big import how_big
from sourcing.week.what_if.one_more import one_more
from sourcing.week.what_if.runs import OneRunMore

TEMPLATE = "ask/page.html"
FIND = "find"
BIG = "big"  # asked how big it can be; the weight may be left empty then


@form_view
def ask_page(request: HttpRequest) -> HttpResponse:
    """A shade, so much fibre, by when, for whom: the answer, and a way to ask for it."""
    question = question_of(request, what=say("The page for asking"), more=(*WORDS, FIND, BIG))
    asked = run_asked(request.POST if request.method == "POST" else request.GET)
    if request.method == "POST":
        visitor_of(request, least=Right.DYER)
    facts = facts_at(question.studio, at=question.at, days=question.days)
    looked: LookedShown | None = None
    big: HowBigShown | None = None
    faults: tuple[str, ...] = ()
    try:
        if request.method == "POST":
            return on_to(_ask(request, asked, facts, question))
        if BIG in request.GET:
            big = _how_big(asked, facts, question)
        elif asked.complete:
            looked = _look(asked, facts, question)
        elif asked.recipe and "weight" in request.GET:
            faults = (say("Say how much fibre, dry. Or ask how big it can be."),)
    except REFUSALS as error:
        faults = sentences_of(error)
    find = request.GET.get(FIND, "")[:60]
    form = form_of(asked, facts, custom=custom_of(question.studio), find=find)
    return with_form(request, TEMPLATE, question, here="ask", faults=faults, form=form,
                     looked=looked, big=big, big_address=_big_address(asked, question),
                     find=find, said=question.said)  # fmt: skip


def _look(asked: RunAsked, facts: WeekFacts, question: Question) -> LookedShown:
    wish = wish_of(asked, facts, custom=custom_of(question.studio))
    run = _one_more(wish, facts, question.studio)
    return looked_shown(one_more(facts, run, days=question.days), question,
                        _otherwise(asked, question))  # fmt: skip


def _how_big(asked: RunAsked, facts: WeekFacts, question: Question) -> HowBigShown:
    """The largest that fits; how far things go is told for a weight that was filled in."""
    filled = asked if asked.weight else replace(asked, weight="1", unit="kg")
    wish = wish_of(filled, facts, custom=custom_of(question.studio))
    run = _one_more(wish, facts, question.studio)
    found = how_big(facts, run, days=question.days, wish_mg=wish.mg if asked.weight else None)
    return how_big_shown(found, facts, _otherwise(asked, question))


def _one_more(wish: Wish, facts: WeekFacts, studio: Studio) -> OneRunMore:
    return OneRunMore(new_name(facts), wish.recipe.code, wish.fibre, wish.mg, wish.due,
                      for_whom=wish.whom, client=wish.client, fibre_lot=wish.lot,
                      shade_card=_agreed(wish, studio))  # fmt: skip


def _otherwise(asked: RunAsked, question: Question) -> Otherwise:
    """The address that asks the same with some fields otherwise."""
    here = reverse("ask")
    return lambda fields: here + asked.address(question.carried, **fields)


def _big_address(asked: RunAsked, question: Question) -> str:
    return f"{_otherwise(asked, question)({})}&{BIG}=1"


def _ask(request: HttpRequest, asked: RunAsked, facts: WeekFacts, question: Question) -> str:
    """The run written down, and where it has its page."""
    wish = wish_of(asked, facts, custom=custom_of(question.studio))
    done = enter(request, "ask-run", _entry(wish, question.studio))
    code = str(done.row.said["run"])
    return run_address(code, question.carried)


def _agreed(wish: Wish, studio: Studio) -> bool:
    """Whether the shade is agreed: as said, as before, or because only we are to like it."""
    if wish.agreed is not None:
        return wish.agreed
    before = card_before(studio, shade=wish.recipe.shade, fibre=wish.fibre)
    return not wish.client if before is None else before


def _entry(wish: Wish, studio: Studio) -> dict[str, object]:
    """The fields of the entry, as a program would write them."""
    said: dict[str, object] = {
        "run": next_code(studio),
        "recipe": wish.recipe.code,
        "fibre": wish.fibre,
        "weight": wish.words,
        "client": wish.client,
        "shade_card": _agreed(wish, studio),
    }
    if wish.due is not None:
        said["due"] = wish.due.isoformat()
    more = {"fibre_lot": wish.lot, "for_whom": wish.whom}
    return said | {name: text for name, text in more.items() if text}
