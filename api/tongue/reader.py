"""In which language a reader is answered.

Whoever chose one reads that, on the device where they chose it; others read their studio's;
whoever belongs to none that said one, or is not known yet, reads what their browser asks for.
Programs read English, but for
the sentences of a refusal, which are said as they ask for them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import Protocol

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.utils.cache import patch_vary_headers
from django.utils.translation import activate, get_language, get_language_from_request, override
from django.utils.translation.trans_real import (
    get_supported_language_variant,
    parse_accept_lang_header,
)

from api.tongue.measures import set_units, units_of
from api.tongue.numbers import numbers_written, set_form
from inventory.models import Studio

PROGRAMS = "/api/"
PROGRAMS_READ = "en-gb"
# What a page is that is said to people, and depends on who reads it.
SPOKEN = ("text/html", "text/plain")
KNOWN = {code: name for code, name in settings.LANGUAGES}
# A device that chose how numbers are written keeps it here.
NUMBERS_COOKIE = "numbers"
FORMS = ("point", "comma")


class Asking(Protocol):
    """As much of a request as says in which language it wants its answer."""

    @property
    def headers(self) -> Mapping[str, str]: ...


Answering = Callable[[HttpRequest], HttpResponse]


class InTheirTongue:
    """Speaks the language of whoever asks for as long as they are answered."""

    def __init__(self, get_response: Answering) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        with (
            override(_wanted(request)),
            numbers_written(numbers_chosen(request)),
            units_of(""),
        ):
            answer = self.get_response(request)
            if answer.get("Content-Type", "").startswith(SPOKEN):
                answer.headers.setdefault("Content-Language", language_spoken())
                patch_vary_headers(answer, ("Accept-Language", "Cookie"))
            return answer


def at_home(request: HttpRequest, studio: Studio) -> None:
    """From here on as the studio has it, unless the reader chose otherwise; no table is asked."""
    if request.path_info.startswith(PROGRAMS):
        return
    if studio.language in KNOWN and not language_chosen(request):
        activate(studio.language)
    if studio.number_form and not numbers_chosen(request):
        set_form(studio.number_form)
    set_units(studio.units)


@contextmanager
def studio_reads(studio: Studio) -> Iterator[None]:
    """What is worked out without a reader, such as a letter, is said as the studio has it."""
    language = studio.language if studio.language in KNOWN else PROGRAMS_READ
    with override(language), numbers_written(studio.number_form), units_of(studio.units):
        yield


def language_chosen(request: HttpRequest) -> str:
    """The language that this device chose; empty: none."""
    said = request.COOKIES.get(settings.LANGUAGE_COOKIE_NAME, "")
    return said if said in KNOWN else ""


def numbers_chosen(request: HttpRequest) -> str:
    """How this device wants numbers written; empty: as the studio or the language has them."""
    said = request.COOKIES.get(NUMBERS_COOKIE, "")
    return said if said in FORMS else ""


def _wanted(request: HttpRequest) -> str:
    """What was chosen, or else what the browser asks for."""
    if request.path_info.startswith(PROGRAMS):
        return PROGRAMS_READ
    return language_chosen(request) or get_language_from_request(request)


def language_for_program(request: Asking) -> str:
    """The language in which a program is refused: the one it asks for, else English."""
    asked = request.headers.get("Accept-Language", "")
    for language, _ in parse_accept_lang_header(asked):
        try:
            return get_supported_language_variant(language)
        except LookupError:
            continue
    return PROGRAMS_READ


def language_spoken() -> str:
    """The mark of the language that is spoken just now, as pages and headers write it."""
    return mark_of(get_language() or PROGRAMS_READ)


def mark_of(language: str) -> str:
    """A language as pages and headers write it.

    >>> mark_of("en-gb"), mark_of("de")
    ('en-GB', 'de')
    """
    language, dash, region = language.partition("-")
    return f"{language}{dash}{region.upper()}"
