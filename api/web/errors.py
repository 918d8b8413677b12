"""What an address answers that nobody serves, a request that cannot be read, a fault of ours.

Programs, at addresses under `/api/`, get a problem as JSON and never a page.
"""

from __future__ import annotations

from http import HTTPStatus

from django.core.exceptions import DisallowedHost
from django.http import HttpRequest, HttpResponse
from django.views.defaults import server_error

from api.no_files import FileRefused
from api.rest.errors import UNREADABLE, problem_answer, status_of
from api.rest.framework_words import NOTHING
from api.web.page import refused
from inventory.science.saying import say

STALE = say(
    "The button was pressed on a page that is too old, or from elsewhere. Open the "
    "address again and press it there."
)
UNREADABLE_PAGE = say("This request cannot be read. Ask again from a page of this studio.")
OTHER_HOST = say("The service does not answer to this name. Ask under its own.")
FAULT = say(
    "Something went wrong here that nobody foresaw. Nothing is half recorded; send "
    "the same again, it counts once."
)


def for_programs(request: HttpRequest) -> bool:
    """Whether an address is one of those that answer JSON."""
    return request.path.startswith("/api/")


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """A problem to programs, a page to people."""
    if for_programs(request):
        return problem_answer(request, "not_found", NOTHING)
    return refused(HTTPStatus.NOT_FOUND, NOTHING)


def not_from_there(request: HttpRequest, reason: str = "") -> HttpResponse:
    """A form that was not sent from a page of ours; nothing was changed."""
    if for_programs(request):
        return problem_answer(request, "permission_denied", STALE)
    return refused(HTTPStatus.FORBIDDEN, STALE)


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """A Host that is not ours, or what the framework finds suspicious."""
    if isinstance(exception, FileRefused):
        return turned_away(request, exception.code, str(exception))
    if not for_programs(request):
        return refused(HTTPStatus.BAD_REQUEST, UNREADABLE_PAGE)
    if isinstance(exception, DisallowedHost):
        return problem_answer(request, "host_unknown", OTHER_HOST)
    return problem_answer(request, "request_unreadable", UNREADABLE)


def turned_away(request: HttpRequest, code: str, detail: str, /, **values: object) -> HttpResponse:
    """A refusal by its code, before any page or program's door is reached."""
    if for_programs(request):
        return problem_answer(request, code, detail, **values)
    return refused(status_of(code), detail)


def fault(request: HttpRequest) -> HttpResponse:
    """What nobody foresaw: what was being recorded is there whole or not at all."""
    if for_programs(request):
        return problem_answer(request, "fault", FAULT)
    return server_error(request)
