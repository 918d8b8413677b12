"""The framework's refusals in our words: code, and what was asked, what there is, what to do."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.http import Http404
from rest_framework.exceptions import (
    APIException,
    MethodNotAllowed,
    NotAcceptable,
    NotAuthenticated,
    UnsupportedMediaType,
)

from api.asked import shown
from inventory.science.saying import Said, say
from sourcing.week.words import listed

NOTHING = say("Nothing is kept at this address.")
SIGN_IN = say("Sign in, or send a token as Authorization: Bearer TOKEN.")


def said_of(error: Exception, context: Mapping[str, Any]) -> tuple[str, str]:
    """Code and sentence of a refusal of the framework."""
    if isinstance(error, Http404):
        return "not_found", NOTHING
    if not isinstance(error, APIException):
        return "refused", str(error)
    view, request = context.get("view"), context.get("request")
    # The framework keeps plain text; what it was told can be said again.
    told = error.args[0] if error.args else None
    sentence = told if isinstance(told, Said) else str(error.detail)
    if isinstance(error, NotAuthenticated):
        sentence = SIGN_IN
    elif isinstance(error, NotAcceptable):
        sentence = say("Answers here are application/json. Ask for that, or leave Accept out.")
    elif isinstance(error, MethodNotAllowed) and view is not None and request is not None:
        allowed = " or ".join(view.allowed_methods)
        sentence = say(
            "{method} is not known here. Use {allowed}.",
            method=shown(str(request.method)),
            allowed=allowed,
        )
    elif isinstance(error, UnsupportedMediaType) and view is not None and request is not None:
        sentence = _unread(view, str(request.content_type))
    return str(error.default_code), sentence


def _unread(view: Any, kind: str) -> str:
    kinds = listed(parser.media_type for parser in view.get_parsers())
    return say("This address reads {kinds}, not {kind}. Send that.", kinds=kinds, kind=shown(kind))
