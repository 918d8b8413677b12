"""*Today* as a page: read who asks and when, ask the week, show the day."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.views.decorators.csrf import csrf_protect

from api.question import moment_now, question_of
from api.source_links.words import unseen_words
from api.visitor import Right, visitor_of
from api.web.page import frame_of, page
from api.web.today.view import today
from inventory.science.saying import say
from sourcing.outlook import facts_at
from sourcing.remembered import week_of


@csrf_protect
@page
def today_page(request: HttpRequest) -> HttpResponse:
    """The day's steps in order of the clock, each with its figures and a way to say it is done."""
    question = question_of(request, what=say("Today"))
    visitor = visitor_of(request)
    may_write = visitor.right.covers(Right.HELPER)
    facts = facts_at(question.studio, at=question.at, days=question.days)
    week = week_of(facts, days=question.days)
    hidden = tuple((name, text) for name, text in question.said if name in ("studio", "at"))
    # A page of another moment says what was done at that moment; nobody did it in times to come.
    past = "at" in dict(question.said) and question.at <= moment_now()
    stamp = question.at.isoformat(timespec="minutes") if past else ""
    context = {
        "wrote": unseen_words(question.studio, at=question.at),
        "may_see": visitor.right.covers(Right.DYER),
        "way": request.get_full_path(),
        "frame": frame_of(question, "today"),
        "hidden": hidden,
        "today": today(facts, week, carried=question.carried, may_write=may_write, stamp=stamp),
    }
    # Asked for again it is looked at again: the shelves may have changed, and the clock has.
    text = render_to_string("today/page.html", context, request)
    return HttpResponse(text, headers={"Cache-Control": "no-cache"})
