"""*Put by*: how much to dry or freeze by when, so that wanted runs last over the gaps ahead."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse

from api.put_by_asked import MORE, put_by_asked
from api.question import question_of
from api.tongue.customs import custom_of
from api.web.page import page, shown
from api.web.put_by.view import view_of
from inventory.science.saying import say
from sourcing.put_by_outlook import put_by_at

WHAT = say("The page of putting-by")


@page
def put_by_page(request: HttpRequest) -> HttpResponse:
    """Every plan, the one that the address asks for in front, then the gaps."""
    question = question_of(request, what=WHAT, more=MORE)
    asked = put_by_asked(request.GET, custom=custom_of(question.studio))
    view = view_of(put_by_at(question.studio, at=question.at, asked=asked))
    said = {name: request.GET.get(name, "") for name in MORE}
    return shown("put_by/page.html", question, here="put_by", view=view, hidden=question.said,
                 of=said["of"], runs=said["runs"], each=said["each"], since=said["from"],
                 until=said["until"], asked=asked is not None)  # fmt: skip
