"""*A missed visit*: what one that does not come moves, or which of the period hurts most."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse

from api.missed_asked import MISSED_WORDS, visit_asked
from api.question import question_of
from api.web.missed.view import missed_shown, visits_shown
from api.web.page import page, shown
from inventory.science.saying import say
from sourcing.missed import hardest_missed_at, missed_at


@page
def missed_page(request: HttpRequest) -> HttpResponse:
    """One visit struck where the address names one, else all of the period by how they hurt."""
    question = question_of(request, what=say("A missed visit"), more=MISSED_WORDS)
    visit = visit_asked(request.GET)
    if visit is None:
        found = hardest_missed_at(question.studio, at=question.at, days=question.days)
        visits = visits_shown(question, found.ripples)
        return shown("missed/list.html", question, here="missed", visits=visits,
                     left_out=found.left_out)  # fmt: skip
    row = missed_at(question.studio, at=question.at, days=question.days,
                    source=visit.source, on=visit.on, gives=visit.gives)  # fmt: skip
    return shown("missed/page.html", question, here="missed", missed=missed_shown(question, row))
