"""Refuse methods that no page of ours knows; a plain view would answer TRACE like a GET."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse, HttpResponseNotAllowed
from django.http.response import HttpResponseBase

KNOWN = ("GET", "HEAD", "OPTIONS", "POST", "PUT", "PATCH", "DELETE")


class KnownMethods:
    """Middleware that answers 405 to any method outside `KNOWN`."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        if request.method in KNOWN:
            return self.get_response(request)
        refusal: HttpResponse = HttpResponseNotAllowed(KNOWN)
        refusal.content = f"{request.method} is not known here; use {', '.join(KNOWN)}.".encode()
        refusal["Content-Type"] = "text/plain; charset=utf-8"
        return refusal
