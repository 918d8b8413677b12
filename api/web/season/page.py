"""*Season wheel*: a year round, what can be gathered when, when hedges are left to the birds."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse

from api.question import question_of
from api.web.page import page, shown
from api.web.season.view import season_shown
from inventory.science.saying import say
from sourcing.put_by_outlook import put_by_at


@page
def season_page(request: HttpRequest) -> HttpResponse:
    """The wheel of the only studio, or of the one that the address names."""
    question = question_of(request, what=say("The season wheel"))
    season = season_shown(question, put_by_at(question.studio, at=question.at))
    return shown("season/page.html", question, here="season", season=season)
