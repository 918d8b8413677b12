"""Our errors as answers to a program: one status, one stable code, one sentence (RFC 9457)."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from http import HTTPStatus
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone
from rest_framework.exceptions import APIException
from rest_framework.renderers import JSONRenderer
from rest_framework.response import Response
from rest_framework.views import exception_handler, set_rollback

from api.asked import StudioUnknown, Unreadable
from api.hindered import AGAIN_AFTER_S, not_now
from inventory.errors import (
    LarderError,
    NoSuchEntry,
    NoSuchLot,
    NoSuchSite,
    NoSuchVessel,
    NotAnAmount,
    NotAStrip,
    NotKept,
    NotNow,
    NoZone,
    UnknownFibre,
)
from inventory.science.figures import NoFigure
from sourcing.errors import NoSuchPickUp, NoSuchSource

MEDIA_TYPE = "application/problem+json"


class UnknownParameter(Unreadable):
    """An address asks with a word that this page does not know, or twice with one."""

    code = "parameter_unknown"


def answer_problem(error: Exception, context: Mapping[str, Any]) -> Response | None:
    """The answer to an error of ours or of the framework; None for one that nobody foresaw."""
    if isinstance(error, Unreadable):
        return _problem(HTTPStatus.BAD_REQUEST, error.code, error.detail, parameter=error.name)
    if isinstance(error, StudioUnknown):
        return _problem(HTTPStatus.NOT_FOUND, error.code, error.detail)
    if isinstance(error, NoFigure):
        values = {"item": error.item, "name": error.name}
        return _problem(HTTPStatus.CONFLICT, "figure_missing", str(error), **values)
    if (hindrance := not_now(error)) is not None:
        return _try_again(hindrance)
    if isinstance(error, LarderError):
        return _problem(_status_of(error), error.code, str(error), **_values(error))
    return _framework_problem(error, context)


def _status_of(error: LarderError) -> HTTPStatus:
    """Not there, not readable, or refused by what the shelves hold."""
    if isinstance(error, NoSuchLot | NoSuchVessel | NoSuchSite | NoSuchEntry):
        return HTTPStatus.NOT_FOUND
    if isinstance(error, NoSuchSource | NoSuchPickUp):
        return HTTPStatus.NOT_FOUND
    if isinstance(error, NoZone | NotAnAmount | NotAStrip | NotKept | UnknownFibre):
        return HTTPStatus.BAD_REQUEST
    return HTTPStatus.CONFLICT


def _try_again(hindrance: NotNow) -> Response:
    """The database is busy, full or gone: nothing asked was wrong."""
    problem = _problem(HTTPStatus.SERVICE_UNAVAILABLE, hindrance.code, str(hindrance))
    problem["Retry-After"] = str(AGAIN_AFTER_S)
    return problem


def _values(error: LarderError) -> dict[str, object]:
    """What the error carries, as far as JSON has a form for it."""
    return {
        name: value if isinstance(value, int) else str(value)
        for name, value in vars(error).items()
        if isinstance(value, str | int | Decimal | UUID)
    }


def _framework_problem(error: Exception, context: Mapping[str, Any]) -> Response | None:
    """The framework's own refusals in the same form, with its headers."""
    answered = exception_handler(error, dict(context))
    if answered is None:
        return None
    code, detail = "refused", str(error)
    if isinstance(error, Http404):
        code, detail = "not_found", "Nothing is kept at this address."
    elif isinstance(error, APIException):
        code = str(error.default_code)
    status = HTTPStatus(answered.status_code)
    problem = _problem(status, code, detail)
    for name, value in answered.headers.items():
        if name.lower() not in ("content-type", "content-length"):
            problem[name] = value
    return problem


def _problem(status: HTTPStatus, code: str, detail: str, **values: object) -> Response:
    set_rollback()
    return Response(
        problem_body(status, code, detail, **values), status=status, content_type=MEDIA_TYPE
    )


def problem_body(status: HTTPStatus, code: str, detail: str, **values: object) -> dict[str, object]:
    """The members of a problem: those of RFC 9457, then our code, the moment and the values."""
    return {
        "type": "about:blank",
        "title": status.phrase,
        "status": int(status),
        "detail": detail,
        "code": code,
        "at": timezone.now().isoformat(timespec="seconds"),
        **values,
    }


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """What an unknown address is answered: a problem to programs, a sentence to people."""
    detail = "Nothing is kept at this address."
    if request.path.startswith("/api/"):
        body = JSONRenderer().render(problem_body(HTTPStatus.NOT_FOUND, "not_found", detail))
        return HttpResponse(body, status=404, content_type=MEDIA_TYPE)
    return HttpResponse(f"{detail}\n", status=404, content_type="text/plain; charset=utf-8")
