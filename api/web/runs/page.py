"""One run: its answer, steps, takes and cost, what would unlock it, and what can be done about it.

Another weight or day is looked at first, in the address; then it is kept.
"""

from __future__ import annotations

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse

from api.question import Question, question_of
from api.tongue.customs import custom_of
from api.visitor import Right, visitor_of
from api.web.ask.asked import RunAsked, due_of, run_asked, weight_of
from api.web.ask.how_big import HowBigShown, how_big_shown
from api.web.ask.view import LookedShown, looked_shown
from api.web.forms import REFUSALS, form_view, on_to, sentences_of, with_form
from api.web.note.ways import ways_from
from api.web.page import refused
from api.web.runs.address import run_address, run_in
from api.web.runs.deeds import DEEDS
from api.web.runs.finished import finished_run
from api.web.runs.view import run_shown
from inventory.science.custom import Custom
from inventory.science.saying import say
from sourcing.outlook import facts_at
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.how_big import how_big_of
from sourcing.week.what_if import CannotBe
from sourcing.week.what_if.one_more import Looked, as_it_is, otherwise
from sourcing.week.what_if.runs import AnotherDueDate, AnotherWeight

WORDS = ("weight", "unit", "by", "day")
BIG = "big"  # asked how big it can be


@form_view
def run_page(request: HttpRequest, key: str) -> HttpResponse:
    """A run that is wanted; of one that is dyed, what became of it."""
    question = question_of(request, what=say("The page of a run"), more=(*WORDS, BIG))
    code = run_in(key)
    faults: tuple[str, ...] = ()
    if request.method == "POST":
        visitor_of(request, least=Right.DYER)
        try:
            return on_to(_deed(request, question, code))
        except REFUSALS as error:
            faults = sentences_of(error)
    facts = facts_at(question.studio, at=question.at, days=question.days)
    run = next((row for row in facts.runs if row.code == code), None)
    if run is None:
        return _not_wanted(request, question, code)
    asked = run_asked(request.GET)
    looked, wrong = _looked(asked, run, facts, question)
    big, cannot = _how_big(request, asked, run, facts, question)
    shown = run_shown(run, looked.answer, facts, question)
    return with_form(request, "runs/page.html", question, here="runs", run=shown,
                     faults=(*faults, *wrong, *cannot), big=big,
                     ways=ways_from(question, "claim", "release", run=run.code),
                     looked=_in_words(looked, asked, run, question),
                     big_address=_big_address(run, question),
                     asked=asked, looked_at=_says_something(asked) and not wrong,
                     said=question.said)  # fmt: skip


def _how_big(
    request: HttpRequest, asked: RunAsked, run: RunFacts, facts: WeekFacts, question: Question
) -> tuple[HowBigShown | None, tuple[str, ...]]:
    """The largest weight of the run, where that was asked and can be; else why it cannot."""
    if BIG not in request.GET:
        return None, ()
    here = run_address(run.code)
    try:
        found = how_big_of(facts, run.code, days=question.days)
    except CannotBe as error:
        return None, sentences_of(error)
    return how_big_shown(
        found, facts, lambda fields: here + asked.address(question.carried, **fields)
    ), ()


def _big_address(run: RunFacts, question: Question) -> str:
    """Where it is asked how big a run can be; empty where its weight is settled."""
    if run.kept is not None or run.group_block:
        return ""
    address = run_address(run.code, question.carried)
    return f"{address}{'&' if question.carried else '?'}{BIG}=1"


def _says_something(asked: RunAsked) -> bool:
    return bool(asked.weight or asked.by or asked.day)


def _deed(request: HttpRequest, question: Question, code: str) -> str:
    """What a button of the page does, and where to go then."""
    deed = DEEDS.get(request.POST.get("do", ""))
    return run_address(code, question.carried) if deed is None else deed(request, question, code)


def _not_wanted(request: HttpRequest, question: Question, code: str) -> HttpResponse:
    done = finished_run(question.studio, code)
    if done is None:
        said = say(
            "No run is called {code}. Those that are wanted stand in this week.", code=code[:40]
        )
        return refused(HTTPStatus.NOT_FOUND, said)
    return with_form(request, "runs/finished.html", question, here="runs", run=done)


def _looked(
    asked: RunAsked, run: RunFacts, facts: WeekFacts, question: Question
) -> tuple[Looked, tuple[str, ...]]:
    """The week with the run as it is asked about; as it is where that cannot be."""
    wrong: tuple[str, ...] = ()
    try:
        changes = changes_of(asked, run, facts, custom=custom_of(question.studio))
        if changes:
            return otherwise(facts, changes, run=run.code, days=question.days), ()
    except REFUSALS as error:
        wrong = sentences_of(error)
    return as_it_is(facts, run=run.code, days=question.days), wrong


def changes_of(
    asked: RunAsked, run: RunFacts, facts: WeekFacts, *, custom: Custom
) -> list[AnotherDueDate | AnotherWeight]:
    """What is to be otherwise about a run; nothing where the fields say what it is."""
    changes: list[AnotherDueDate | AnotherWeight] = []
    if asked.weight:
        changes.append(AnotherWeight(run.code, weight_of(asked.weight, asked.unit,
                                                         custom=custom)[0]))  # fmt: skip
    if asked.by or asked.day:
        due = None if asked.by == "any" else due_of(asked, facts)
        changes.append(AnotherDueDate(run.code, due))
    return changes


def _in_words(looked: Looked, asked: RunAsked, run: RunFacts, question: Question) -> LookedShown:
    here = run_address(run.code)

    def otherwise_asked(fields: dict[str, str]) -> str:
        if "card" in fields:
            # Whether the shade is agreed is written down here, below.
            return f"{run_address(run.code, question.carried)}#gates"
        return here + asked.address(question.carried, **fields)

    return looked_shown(looked, question, otherwise_asked)
