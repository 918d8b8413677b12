"""*This week*: the answer for every run as a page, and the sheet as plain text."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from api.asked import StudioUnknown, Unreadable
from api.question import question_of
from api.rest.week import week_asked
from api.rights import NotSignedIn, TurnedAway
from api.sheet import sheet
from api.web.page import page, shown, to_sign_in
from api.web.this_week.view import this_week
from inventory.science.figures import NoFigure
from sourcing.outlook import facts_at
from sourcing.remembered import week_of

PLAIN = "text/plain; charset=utf-8"


@page
def week_page(request: HttpRequest) -> HttpResponse:
    """What can be dyed, in which pot, starting when, and what stops the rest."""
    question = question_of(request)
    facts = facts_at(question.studio, at=question.at, days=question.days)
    week = week_of(facts, days=question.days, unlocks=True)
    return shown("week/page.html", question, here="week", week=this_week(question, facts, week))


@require_safe
def sheet_page(request: HttpRequest) -> HttpResponse:
    """The sheet of the only studio, or of the one that the address names."""
    try:
        text, status = sheet(week_asked(request)), 200
    except NotSignedIn:
        return to_sign_in(request)
    except TurnedAway as error:
        text, status = f"{error}\n", 403
    except StudioUnknown as error:
        text, status = f"{error}\n", 404
    except Unreadable as error:
        text, status = f"{error}\n", 400
    except NoFigure as error:
        text, status = f"{error}\n", 409
    return HttpResponse(text, status=status, content_type=PLAIN)
