"""Programs get JSON: whatever went wrong, and wherever, is a problem and never a page."""

from __future__ import annotations

from collections.abc import Callable
from http import HTTPStatus

from django.http import HttpRequest
from django.http.response import HttpResponseBase

from api.rest.errors import problem_answer
from api.rest.framework_words import NOTHING
from api.web.errors import FAULT, for_programs

# What the framework may say by itself under a program's address, and how we say it.
SAID = {
    HTTPStatus.NOT_FOUND: ("not_found", NOTHING),
    HTTPStatus.PRECONDITION_FAILED: (
        "changed_meanwhile",
        "It was changed. Read it again.",
    ),
}
REFUSED = ("refused", "The request was refused.")


class ForPrograms:
    """Middleware that looks over what programs are answered, whoever in the house answered."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        answer = self.get_response(request)
        if not for_programs(request):
            return answer
        if answer.status_code >= 400 and "json" not in answer.headers.get("Content-Type", ""):
            answer = _as_problem(request, answer)
        if answer.status_code == HTTPStatus.MOVED_PERMANENTLY:
            _keep_the_method(answer)
        if answer.status_code == HTTPStatus.NO_CONTENT:
            answer.headers.pop("Content-Length", None)  # RFC 9110, 8.6
        # A studio's answers are for whoever asked.
        answer.headers.setdefault("Cache-Control", "private, no-cache")
        return answer


def _keep_the_method(answer: HttpResponseBase) -> None:
    """A slash that was left out: what was posted is to be posted there too (RFC 9110, 15.4.9)."""
    answer.status_code = HTTPStatus.PERMANENT_REDIRECT
    del answer.headers["Content-Type"]


def _as_problem(request: HttpRequest, answer: HttpResponseBase) -> HttpResponseBase:
    """The same status and headers, and a sentence in place of the page."""
    status = HTTPStatus(answer.status_code)
    code, detail = ("fault", FAULT) if status >= 500 else SAID.get(status, REFUSED)
    problem = problem_answer(request, code, detail, status=int(status))
    problem.status_code = status
    for name, value in answer.headers.items():
        if name.lower() not in ("content-type", "content-length", "content-encoding"):
            problem[name] = value
    return problem
