"""Our errors as answers to a program: one status, one stable code, one sentence (RFC 9457)."""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus
from typing import Any

from django.core.exceptions import SuspiciousOperation
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from django.utils.translation import override
from rest_framework.exceptions import ValidationError
from rest_framework.renderers import JSONRenderer
from rest_framework.response import Response
from rest_framework.views import exception_handler, set_rollback

from api.asked import StudioUnknown, Unreadable
from api.hindered import AGAIN_AFTER_S, not_now
from api.no_files import FileRefused
from api.problems.address import Addressed, address_of
from api.problems.table import problem_called
from api.rest.fields import FieldsUnclear, errors_said, gist_of, pointed
from api.rest.framework_words import said_of
from api.rest.refused import Refused
from api.rest.values import values_of
from api.rights import TurnedAway
from api.tongue.reader import language_for_program, mark_of
from api.tongue.speaking import aloud
from inventory.errors import LarderError
from inventory.science.figures import NoFigure
from inventory.science.saying import say
from inventory.science.unclear import Unclear, UnknownPiece

MEDIA_TYPE = "application/problem+json"
ONCE = {"Cache-Control": "no-store"}  # what was refused now may be answered the next time
UNREADABLE = say("This request cannot be read. Write the address in UTF-8, and fewer words in it.")


class UnknownParameter(Unreadable):
    """An address asks with a word that this page does not know, or twice with one."""

    code = "parameter_unknown"


def answer_problem(error: Exception, context: Mapping[str, Any]) -> Response | None:
    """The answer to an error of ours or of the framework; None for one that nobody foresaw."""
    request = context.get("request")
    ours = _ours(error)
    if ours is not None:
        code, detail, values = ours
        problem = _problem(status_of(code), code, detail, request, **values)
        return _with(problem, error.headers) if isinstance(error, Refused | TurnedAway) else problem
    if (hindrance := not_now(error)) is not None:
        problem = _problem(status_of(hindrance.code), hindrance.code, str(hindrance), request)
        return _with(problem, {"Retry-After": str(AGAIN_AFTER_S)})
    return _framework_problem(error, context)


def status_of(code: str) -> HTTPStatus:
    """With which status a code is answered; what nobody wrote down, the shelves have refused."""
    problem = problem_called(code)
    return HTTPStatus.CONFLICT if problem is None else problem.status


def _ours(error: Exception) -> tuple[str, str, dict[str, object]] | None:
    """Code, sentence and values of an error that one of our floors raised."""
    if isinstance(error, Unreadable):
        return error.code, error.detail, {"parameter": error.name}
    if isinstance(error, StudioUnknown):
        return error.code, error.detail, {}
    if isinstance(error, Refused):
        return error.code, str(error), error.values
    if isinstance(error, TurnedAway):
        return error.code, str(error), values_of(error)
    if isinstance(error, FieldsUnclear):
        return error.code, str(error), {"errors": errors_said(error.errors)}
    if isinstance(error, NoFigure):
        return "figure_missing", str(error), {"item": error.item, "name": error.name}
    if isinstance(error, Unclear):
        return "amount_unclear", str(error), values_of(error)
    if isinstance(error, UnknownPiece):
        return "piece_unknown", str(error), values_of(error)
    if isinstance(error, FileRefused):
        return error.code, str(error), {}
    if isinstance(error, SuspiciousOperation):
        return "request_unreadable", UNREADABLE, {}
    if isinstance(error, LarderError) and not_now(error) is None:
        return error.code, str(error), values_of(error)
    return None


def _framework_problem(error: Exception, context: Mapping[str, Any]) -> Response | None:
    """The framework's own refusals in the same form, with its headers."""
    answered = exception_handler(error, dict(context))
    if answered is None:
        return None
    request = context.get("request")
    status = HTTPStatus(answered.status_code)
    if isinstance(error, ValidationError):
        fields = list(pointed(error.detail))
        detail, errors = gist_of(fields, say("not readable")), errors_said(fields)
        problem = _problem(status, "fields_unreadable", detail, request, errors=errors)
    else:
        problem = _problem(status, *said_of(error, context), request)
    about_body = ("content-type", "content-length")
    kept = {name: said for name, said in answered.headers.items() if name.lower() not in about_body}
    return _with(problem, kept)


def _with(problem: Response, headers: Mapping[str, str]) -> Response:
    for name, value in headers.items():
        problem[name] = value
    return problem


def _problem(
    status: HTTPStatus, code: str, detail: str, request: Addressed | None, **values: object
) -> Response:
    set_rollback()
    body = problem_body(status, code, detail, request, **values)
    answer = Response(body, status=status, headers=ONCE, content_type=MEDIA_TYPE)
    if request is not None:
        answer.data = said_again(body, answer, request)
    return answer


def problem_body(
    status: HTTPStatus,
    code: str,
    detail: str,
    request: Addressed | None = None,
    /,
    **values: object,
) -> dict[str, object]:
    """The members of a problem: those of RFC 9457, then our code, the moment and the values."""
    problem = problem_called(code)
    return {
        "type": address_of(problem, request),
        "title": status.phrase if problem is None else problem.title,
        "status": int(status),
        "detail": detail,
        "code": code,
        "at": timezone.now().isoformat(timespec="seconds"),
        **values,
    }


def problem_answer(
    request: HttpRequest, code: str, detail: str, /, **values: object
) -> HttpResponse:
    """A problem where no view of the framework is at work: in middleware, or at no address."""
    status = status_of(code)
    answer = HttpResponse(status=status, headers=ONCE, content_type=MEDIA_TYPE)
    body = problem_body(status, code, detail, request, **values)
    answer.content = JSONRenderer().render(said_again(body, answer, request))
    return answer


def said_again(
    body: Mapping[str, object], answer: HttpResponseBase, request: Addressed
) -> dict[str, object]:
    """A problem with its sentences in the language that was asked for; all else as it was.

    What is kept of an entry that needs a look stays in English: nobody knows who will read it.
    """
    language = language_for_program(request)
    answer["Content-Language"] = mark_of(language)
    patch_vary_headers(answer, ("Accept-Language",))
    errors = body.get("errors")
    with override(language):
        said = {**body, "title": aloud(str(body["title"])), "detail": aloud(str(body["detail"]))}
        if isinstance(errors, list):
            said["errors"] = [
                {**row, "detail": aloud(row["detail"])} if "detail" in row else row
                for row in errors
            ]
    return said
