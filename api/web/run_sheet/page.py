"""The sheet of a run, to be printed and hung by the ring."""

from __future__ import annotations

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from api.asked import shown as quoted
from api.question import Question, question_of
from api.web.drawing.qr import draw_qr
from api.web.found.address import found_address, reaches_no_phone
from api.web.page import page, refused, shown
from api.web.run_sheet.view import sheet_shown
from inventory.science.saying import joined, say
from sourcing.outlook import facts_at
from sourcing.remembered import week_of
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.words import listed

NAMED_AT_MOST = 20


@page
def run_sheet_page(request: HttpRequest, run: str) -> HttpResponse:
    """One run on one page: weights, litres, times and doses filled in, boxes for the rest."""
    question = question_of(request, what=say("The sheet of a run"))
    facts = facts_at(question.studio, at=question.at, days=question.days)
    wanted = run_of(facts, run)
    if wanted is None:
        return refused(HTTPStatus.NOT_FOUND, no_such_run(facts, run))
    week = week_of(facts, days=question.days)
    answer = next(row for row in week.answers if row.run == run)
    code = draw_qr(found_address(request, question, run=run))
    return shown(
        "run_sheet/page.html",
        question,
        here="week",
        sheet=sheet_shown(facts, answer, wanted, code=code),
        back=week_address(question),
        near=reaches_no_phone(request),
    )


def run_of(facts: WeekFacts, code: str) -> RunFacts | None:
    """A run that is asked for."""
    return next((run for run in facts.runs if run.code == code), None)


def no_such_run(facts: WeekFacts, code: str) -> str:
    """What is said where no run has a code."""
    codes = sorted(run.code for run in facts.runs)
    if not codes:
        return say("There is no run {code}: no run is asked for at this moment.", code=quoted(code))
    more = (
        say(" and {count:,} more", count=len(codes) - NAMED_AT_MOST)
        if len(codes) > NAMED_AT_MOST
        else ""
    )
    named = listed(codes) if not more else joined(", ", codes[:NAMED_AT_MOST])
    return say(
        "There is no run {code}. Asked for are {named}{more}.",
        code=quoted(code),
        named=named,
        more=more,
    )


def week_address(question: Question) -> str:
    """The page of the week, asked the same."""
    return f"{reverse('week')}{question.carried}"
