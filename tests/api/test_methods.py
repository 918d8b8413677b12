"""Methods that no page knows are refused before any page sees them."""

from __future__ import annotations

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import Client, RequestFactory

from api.methods import KNOWN, KnownMethods


def _plain_view(request: HttpRequest) -> HttpResponse:
    """Django hands any method to a plain function."""
    return HttpResponse("seen")


@pytest.mark.parametrize("method", KNOWN)
def test_known_methods_reach_the_view(method: str) -> None:
    answer = KnownMethods(_plain_view)(RequestFactory().generic(method, "/"))

    assert answer.status_code == 200


@pytest.mark.parametrize("method", ["TRACE", "CONNECT", "PROPFIND", "get", ""])
def test_other_methods_are_answered_405_with_what_is_allowed(method: str) -> None:
    request = RequestFactory().get("/")
    request.method = method

    answer = KnownMethods(_plain_view)(request)

    assert answer.status_code == 405
    assert answer["Allow"] == "GET, HEAD, OPTIONS, POST, PUT, PATCH, DELETE"


def test_the_service_itself_refuses_trace() -> None:
    assert Client().trace("/no-such-page/").status_code == 405
    assert Client().get("/no-such-page/").status_code == 404
