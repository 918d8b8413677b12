"""The page of languages: what this device reads, and what the studio has for all its readers;
and in which units the studio weighs and measures."""

from __future__ import annotations

from dataclasses import dataclass

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from api.asked import StudioUnknown
from api.rights import NotSignedIn, Right
from api.tongue.reader import (
    FORMS,
    KNOWN,
    NUMBERS_COOKIE,
    language_chosen,
    numbers_chosen,
)
from api.visitor import StudioNotSaid, Visitor, visitor_of
from api.web.accounts.frame import form_page, private_page, see
from inventory.science.custom import IMPERIAL, METRIC, UNITS, US
from inventory.science.saying import say
from inventory.studios import read_as

PAGE = "language/page.html"
YEAR_S = 365 * 24 * 3600
# A studio that said none is metric.
WEIGHED = (
    ("", say("grams and kilos, millilitres and litres")),
    (IMPERIAL, say("ounces and pounds, UK pints and gallons")),
    (US, say("ounces and pounds, US pints and gallons")),
)
NUMBERS = (("point", "1,180.5"), ("comma", "1.180,5"))
UNKNOWN = say("That is none of the choices. Choose one of those that are shown, and send it again.")


@dataclass(frozen=True, slots=True)
class Option:
    """One choice of a form."""

    value: str
    words: str
    chosen: bool


@private_page
def language_page(request: HttpRequest) -> HttpResponse:
    """What is read here; POST chooses for this device, or, for an owner, for the studio."""
    if request.method != "POST":
        return _page(request)
    language, numbers = request.POST.get("language", ""), request.POST.get("numbers", "")
    if language not in ("", *KNOWN) or numbers not in ("", *FORMS):
        return _page(request, faults=(UNKNOWN,))
    if request.POST.get("do") == "studio":
        owner = visitor_of(request, least=Right.OWNER)
        units = request.POST.get("units", owner.studio.units)
        if units not in ("", *UNITS):
            return _page(request, faults=(UNKNOWN,))
        read_as(owner.studio, language=language, number_form=numbers, units=units)
        return see(request.get_full_path())
    answer = see(request.get_full_path())
    _keep(answer, settings.LANGUAGE_COOKIE_NAME, language)
    _keep(answer, NUMBERS_COOKIE, numbers)
    return answer


def _keep(answer: HttpResponse, name: str, value: str) -> None:
    """Keep a choice on this device for a year; an empty one is forgotten."""
    if not value:
        answer.delete_cookie(name, samesite="Lax")
        return
    secure = settings.SESSION_COOKIE_SECURE
    answer.set_cookie(name, value, max_age=YEAR_S, httponly=True, secure=secure, samesite="Lax")


def _page(request: HttpRequest, *, faults: tuple[str, ...] = ()) -> HttpResponse:
    visitor = _visitor(request)
    owns = visitor is not None and visitor.right.covers(Right.OWNER)
    studio = visitor.studio if visitor is not None else None
    shown = {
        "languages": _languages(language_chosen(request)),
        "numbers": _numbers(numbers_chosen(request)),
        "studio": studio if owns else None,
        "of_studio": _languages(studio.language) if studio is not None else (),
        "numbers_of_studio": _numbers(studio.number_form) if studio is not None else (),
        "units_of_studio": _units(studio.units) if studio is not None else (),
        "action": reverse("language"),
    }
    return form_page(request, PAGE, shown, who=visitor.name if visitor else "", faults=faults)


def _visitor(request: HttpRequest) -> Visitor | None:
    try:
        return visitor_of(request)
    except (NotSignedIn, StudioUnknown, StudioNotSaid):
        return None


def _languages(chosen: str) -> tuple[Option, ...]:
    return tuple(Option(code, name, code == chosen) for code, name in KNOWN.items())


def _numbers(chosen: str) -> tuple[Option, ...]:
    return tuple(Option(form, written, form == chosen) for form, written in NUMBERS)


def _units(chosen: str) -> tuple[Option, ...]:
    chosen = "" if chosen == METRIC else chosen
    return tuple(Option(units, words, units == chosen) for units, words in WEIGHED)
