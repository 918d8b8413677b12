"""*Studio rules*: the shipped figure beside the studio's own, and what another would change."""

from __future__ import annotations

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from api.question import Question, question_of
from api.rights import Right
from api.tongue.customs import custom_of
from api.visitor import visitor_of
from api.web.forms import REFUSALS, form_view, on_to, sentences_of, with_form
from api.web.page import page, refused, shown
from api.web.rules.changing import keep, looked_at, rule_asked, to_shipped
from api.web.rules.view import listed_rules, rule_shown
from inventory.science.saying import say
from sourcing.figures import figures_at
from sourcing.notebook.row_key import key_cells_in

LONGEST_FOUND = 60


@page
def rules_page(request: HttpRequest) -> HttpResponse:
    """The rules that this studio has set itself, then those that it may set."""
    question = question_of(request, what=say("The page of rules"), more=("find",))
    find = " ".join(request.GET.get("find", "")[:LONGEST_FOUND].split())
    standing = figures_at(question.studio, at=question.at)
    rules = listed_rules(standing, question, find=find)
    return shown("rules/list.html", question, here="rules", rules=rules, find=find,
                 said=question.said)  # fmt: skip


@form_view
def rule_page(request: HttpRequest, key: str) -> HttpResponse:
    """One figure: what is shipped, what is the studio's own, and another looked at or kept."""
    question = question_of(request, what=say("The page of a rule"), more=("value",))
    cells = key_cells_in(key)
    item, name = cells if cells is not None and len(cells) == 2 else (key, "")
    standing = figures_at(question.studio, at=question.at)
    found = next((row for row in standing if (row.item, row.name) == (item, name)), None)
    if found is None:
        unknown = say(
            "No sum asks for a rule of {item} called {replace}.",
            item=item[:40],
            replace=name.replace("_", " ")[:40],
        )
        return refused(
            HTTPStatus.NOT_FOUND,
            say("{unknown} Those there are stand under Studio rules.", unknown=unknown),
        )
    here = reverse("rule", args=[key])
    faults: tuple[str, ...] = ()
    if request.method == "POST":
        visitor_of(request, least=Right.OWNER)
        try:
            deed = to_shipped if request.POST.get("do") == "shipped" else keep
            deed(question.studio, found, request.POST, question.at)
            return on_to(here + question.carried)
        except REFUSALS as error:
            faults = sentences_of(error)
    said = (request.POST if request.method == "POST" else request.GET).get("value", "").strip()
    looked = None
    if said and not faults:
        try:
            value = rule_asked(found, said, custom=custom_of(question.studio))
            looked = looked_at(question, found, value)
        except REFUSALS as error:
            faults = sentences_of(error)
    return with_form(request, "rules/page.html", question, here="rules", faults=faults,
                     rule=rule_shown(found, question), looked=looked, value=said,
                     action=here, said=question.said, today=_today(question))  # fmt: skip


def _today(question: Question) -> str:
    return str(question.at.date())
