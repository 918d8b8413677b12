"""What can go wrong, in words for people: all problems, and each under the address of its `type`.

Open to everyone: whoever gets a problem may read what it means, and nothing here is a studio's.
"""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse

from api.problems.table import problem_called, problems
from api.question import check_words
from api.web.page import page, plainly_shown
from inventory.science.saying import say

A_DAY = "public, max-age=86400"


@page
def problems_page(request: HttpRequest) -> HttpResponse:
    """Every problem with its status and title, the statuses in their order."""
    check_words(request.GET, (), what=say("The list of problems"))
    rows = sorted(problems().values(), key=lambda row: (row.status, row.code))
    answer = plainly_shown("problems/list.html", problems=rows)
    answer["Cache-Control"] = A_DAY
    return answer


@page
def problem_page(request: HttpRequest, slug: str) -> HttpResponse:
    """One problem: what it means, what to do, a sentence as it may be answered."""
    problem = problem_called(slug.replace("-", "_"))
    if problem is None or problem.slug != slug:
        raise Http404
    check_words(request.GET, (), what=say("The page of a problem"))
    answer = plainly_shown("problems/page.html", problem=problem)
    answer["Cache-Control"] = A_DAY
    return answer
