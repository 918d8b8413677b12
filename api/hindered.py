"""What any address answers while the database is busy, full or gone: 503, and when to come back."""

from __future__ import annotations

import logging
from collections.abc import Callable

from django.db.utils import Error
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase

from inventory.errors import NotNow
from inventory.hindrance import hindrance_of

AGAIN_AFTER_S = 5
LOG = logging.getLogger(__name__)


class Hindered:
    """Middleware for the pages; what programs are answered stands in `api/rest/errors.py`."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """One sentence as plain text; a page would need the database for its frame."""
        hindrance = not_now(error)
        if hindrance is None:
            return None
        answer = HttpResponse(f"{hindrance}\n", status=503)
        answer["Content-Type"] = "text/plain; charset=utf-8"
        answer["Retry-After"] = str(AGAIN_AFTER_S)
        return answer


def not_now(error: Exception) -> NotNow | None:
    """What an error says about the database, if it is about the database at all."""
    found = error if isinstance(error, NotNow) else None
    if isinstance(error, Error):
        found = hindrance_of(error)
    if found is not None:
        # Those who ask get a sentence; those who run the service want to know the rest.
        LOG.warning("%s (%s)", found, error.__cause__ or error)
    return found
