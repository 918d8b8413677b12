"""In which language a reader is answered.

Whoever chose one on their account page reads that; others read their studio's; whoever belongs to
none that said one, or is not known yet, reads what their browser asks for. Programs read English.
"""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils.cache import patch_vary_headers
from django.utils.translation import get_language, get_language_from_request, override

from api.tongue.numbers import numbers_written

PROGRAMS = "/api/"
PROGRAMS_READ = "en-gb"
# What a page is that is said to people, and depends on who reads it.
SPOKEN = ("text/html",)

Answering = Callable[[HttpRequest], HttpResponse]


class InTheirTongue:
    """Speaks the language of whoever asks for as long as they are answered."""

    def __init__(self, get_response: Answering) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        with override(_wanted(request)), numbers_written(""):
            answer = self.get_response(request)
            if answer.get("Content-Type", "").startswith(SPOKEN):
                answer.headers.setdefault("Content-Language", language_spoken())
                patch_vary_headers(answer, ("Accept-Language", "Cookie"))
            return answer


def _wanted(request: HttpRequest) -> str:
    """What the reader's own choice says, kept in a cookie, or else the browser."""
    if request.path_info.startswith(PROGRAMS):
        return PROGRAMS_READ
    return get_language_from_request(request)


def language_spoken() -> str:
    """The mark of the language that is spoken just now, as pages and headers write it."""
    language, dash, region = (get_language() or PROGRAMS_READ).partition("-")
    return f"{language}{dash}{region.upper()}"
