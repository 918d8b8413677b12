"""What an address answers that nobody serves, and a request that cannot be read."""

from __future__ import annotations

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse

from api.rest import errors
from api.web.page import refused

NOTHING = "Nothing is kept at this address."
STALE = (
    "The button was pressed on a page that is too old, or from elsewhere. Open the address again "
    "and press it there."
)
UNREADABLE = "This request cannot be read. Ask again from a page of this studio."


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """A problem to programs, a page to people."""
    if request.path.startswith("/api/"):
        return errors.not_found(request, exception)
    return refused(HTTPStatus.NOT_FOUND, NOTHING)


def not_from_there(request: HttpRequest, reason: str = "") -> HttpResponse:
    """A form that was not sent from a page of ours; nothing was changed."""
    return refused(HTTPStatus.FORBIDDEN, STALE)


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """A Host that is not ours, or what the framework finds suspicious."""
    return refused(HTTPStatus.BAD_REQUEST, UNREADABLE)
