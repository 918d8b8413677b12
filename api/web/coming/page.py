"""*What will come*: pick-ups of the next weeks, what they will have brought by when, as a page."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse

from api.coming_asked import COMING_WORDS, check_agreed, gives_asked
from api.question import question_of
from api.web.coming.view import coming_shown
from api.web.page import page, shown
from inventory.science.saying import say
from sourcing.coming import coming_at


@page
def coming_page(request: HttpRequest) -> HttpResponse:
    """Every dyestuff that some source gives, or the one that the address names."""
    question = question_of(request, what=say("What will come"), more=COMING_WORDS)
    gives = gives_asked(request.GET)
    facts, found = coming_at(question.studio, at=question.at, days=question.days, gives=gives)
    check_agreed(gives, found)
    coming = coming_shown(question, facts, found)
    return shown("coming/page.html", question, here="coming", coming=coming)
