"""The door of programs: a token, or the session of a page; nobody comes in without either."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import HttpRequest, HttpResponse
from rest_framework.authentication import BaseAuthentication, CSRFCheck
from rest_framework.permissions import BasePermission

from api.asker import asker_of
from api.credentials import at_this_machine, key_signed_in, token_shown
from api.rest.contract import said_of
from api.rights import FromElsewhere, Right
from api.visitor import READING, visitor_of

if TYPE_CHECKING:
    from rest_framework.request import Request
    from rest_framework.views import APIView


class TokenOrSession(BaseAuthentication):
    """Looks that a session writes from our own pages only; who it is, `visitor_of` says."""

    def authenticate(self, request: Request) -> None:
        """Nothing, as nobody is known by an account alone: the right hangs on the studio."""
        if request.method not in READING and token_shown(request) is None:
            check_from_here(request._request)

    def authenticate_header(self, request: Request) -> str:
        return "Bearer"


def check_from_here(request: HttpRequest) -> None:
    """Refuse what a browser sends for somebody else's page.

    Raises
    ------
    FromElsewhere
        Of a session, without the token of our forms; in the open house, from another origin.
    """
    reason: object = None
    if key_signed_in(request) is not None:
        check = CSRFCheck(_unanswered)
        check.process_request(request)
        reason = check.process_view(request, _unanswered, (), {})
    elif at_this_machine(request) and not _is_own(request.META.get("HTTP_ORIGIN"), request):
        # No form was handed out that could hold a token; but a browser says whose page it shows.
        reason = "Origin"
    if reason:
        raise FromElsewhere(str(reason))


def _is_own(origin: str | None, request: HttpRequest) -> bool:
    return origin is None or origin == f"{request.scheme}://{request.get_host()}"


def _unanswered(request: HttpRequest) -> HttpResponse:
    raise AssertionError("Asked for the check alone.")


class Belongs(BasePermission):
    """Whoever belongs to the studio asked about, with the least right that a view names.

    A view says `least = Right.DYER`, or `least_to_write` for all that is not reading, which needs
    the right of a helper where it says nothing, and `keeps_nothing = True` where no method of it
    writes; what its contract calls open is open to anybody.
    """

    def has_permission(self, request: Request, view: APIView) -> bool:
        said = said_of(view, request.method or "")
        if said is not None and said.open:
            return True
        least = getattr(view, "least", Right.LOOKER_ON)
        keeps_nothing = getattr(view, "keeps_nothing", False)
        if request.method not in READING and not keeps_nothing:
            usual = least if least.covers(Right.HELPER) else Right.HELPER
            least = getattr(view, "least_to_write", usual)
        visitor_of(request, least=least, keeps_nothing=keeps_nothing)
        return True


class Known(BasePermission):
    """Whoever is known at all, where no studio is asked about."""

    def has_permission(self, request: Request, view: APIView) -> bool:
        asker_of(request)
        return True
