"""Refuse methods that no page of ours knows, and tell which ones an address knows.

A plain view would answer TRACE like a GET.
"""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.urls import Resolver404, resolve

from api.asked import shown
from api.web.errors import turned_away
from inventory.science.saying import joined, say

KNOWN = ("GET", "HEAD", "OPTIONS", "POST", "PUT", "PATCH", "DELETE")


class KnownMethods:
    """Middleware that answers 405 to any method outside `KNOWN`, and OPTIONS for every address."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        if request.method not in KNOWN:
            said = shown(request.method or "")
            detail = say(
                "{said} is not known here. Use {known} or {known_2}.",
                said=said,
                known=joined(", ", KNOWN[:-1]),
                known_2=KNOWN[-1],
            )
            refusal = turned_away(request, "method_not_allowed", detail)
            refusal["Allow"] = ", ".join(KNOWN)
            return refusal
        if request.method != "OPTIONS":
            return self.get_response(request)
        return _told(_of_program(request)) or self._of_page(request)

    def _of_page(self, request: HttpRequest) -> HttpResponseBase:
        """A page does not know OPTIONS, and its refusal names what it knows."""
        answer = self.get_response(request)
        return (
            _told({name.strip() for name in answer.headers.get("Allow", "").split(",")}) or answer
        )


def _of_program(request: HttpRequest) -> set[str]:
    """The methods that a program's address knows, whoever asks; none where it is no such one."""
    try:
        view = getattr(resolve(request.path_info).func, "cls", None)
    except Resolver404:
        return set()
    known = {name for name in KNOWN if view is not None and hasattr(view, name.lower())}
    return known | {"HEAD"} if "GET" in known else known


def _told(names: set[str]) -> HttpResponse | None:
    """The answer to OPTIONS (RFC 9110, 9.3.7)."""
    allowed = [name for name in KNOWN if name in names | {"OPTIONS"}]
    if len(allowed) == 1:
        return None
    told = HttpResponse(status=204, headers={"Allow": ", ".join(allowed)})
    del told["Content-Type"]
    return told
