"""A group day on paper: the sheet with its marks, the hazards for the wall, slips to take home."""

from __future__ import annotations

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse

from api.question import question_of
from api.web.drawing.qr import draw_qr
from api.web.found.address import found_address, reaches_no_phone
from api.web.group.view import group_shown
from api.web.page import page, refused, shown
from api.web.run_sheet.page import no_such_run, run_of, week_address
from inventory.science.saying import say
from sourcing.outlook import facts_at
from sourcing.remembered import week_of


@page
def group_page(request: HttpRequest, run: str) -> HttpResponse:
    """Per-person weights, marks and hours on one page, what is dangerous on the next."""
    return _sheets(request, run, "group/page.html")


@page
def slips_page(request: HttpRequest, run: str) -> HttpResponse:
    """A slip for each to take home, with the truth about fading."""
    return _sheets(request, run, "group/slips.html")


def _sheets(request: HttpRequest, run: str, template: str) -> HttpResponse:
    question = question_of(request, what=say("The sheet of a group day"))
    facts = facts_at(question.studio, at=question.at, days=question.days)
    wanted = run_of(facts, run)
    if wanted is None:
        return refused(HTTPStatus.NOT_FOUND, no_such_run(facts, run))
    if not wanted.group_block:
        detail = say(
            "Run {code} is no group day; its own sheet says all there is.", code=wanted.code
        )
        return refused(HTTPStatus.NOT_FOUND, detail)
    week = week_of(facts, days=question.days)
    answer = next(row for row in week.answers if row.run == run)
    code = draw_qr(found_address(request, question, run=run))
    return shown(
        template,
        question,
        here="week",
        sheet=group_shown(facts, week, answer, code=code),
        back=week_address(question),
        near=reaches_no_phone(request),
    )
