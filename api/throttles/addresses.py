"""Programs' requests counted by the address that they come from, before anything is looked at."""

from __future__ import annotations

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase

from api.throttles.door import TooManyRequests, let_through
from api.web.errors import for_programs, turned_away
from api.whence import whence


class ByAddress:
    """Middleware for addresses under `/api/`: few a minute for strangers, many for a house."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        if for_programs(request):
            # A token may be none. But a house full of good ones is not shut out for it: what one
            # of them may ask is counted by itself (api/rest/throttles.py).
            is_known = "HTTP_AUTHORIZATION" in request.META or _has_session(request)
            try:
                let_through(request, "address" if is_known else "stranger", whence(request))
            except TooManyRequests as error:
                return told(request, error)
        return self.get_response(request)


def told(request: HttpRequest, error: TooManyRequests) -> HttpResponse:
    """The refusal as a problem to programs and a page to people."""
    answer = turned_away(request, error.code, str(error), **error.values)
    answer["Retry-After"] = str(error.wait_s)
    return answer


def _has_session(request: HttpRequest) -> bool:
    return settings.SESSION_COOKIE_NAME in request.COOKIES
