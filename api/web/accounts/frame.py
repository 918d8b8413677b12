"""How these pages differ from the others: they take forms, and nothing in between keeps them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import wraps
from http import HTTPStatus

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.template.loader import render_to_string
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.csrf import csrf_protect
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from api.tries import TooOften
from api.web.page import Frame, View, answering, places

LONGEST_WAY = 2000


def private_page(view: View) -> View:
    """A view that takes a form: from our own pages only, answered to nobody else, kept nowhere."""

    @wraps(view)
    def kept_nowhere(request: HttpRequest, *args: object, **named: object) -> HttpResponse:
        answer = view(request, *args, **named)
        answer["Cache-Control"] = "no-store"
        answer["X-Robots-Tag"] = "noindex"
        # The secret of a link is told to no other site. Told to nobody at all, a browser would
        # send the form with `Origin: null`, which is refused like one of somebody else's page.
        answer["Referrer-Policy"] = "same-origin"
        return answer

    guarded = csrf_protect(answering(kept_nowhere))
    hidden = sensitive_post_parameters("password", "new", "again")(guarded)
    return require_http_methods(["GET", "HEAD", "POST"])(hidden)


def form_page(
    request: HttpRequest,
    template: str,
    context: Mapping[str, object],
    *,
    who: str = "",
    house: str | None = None,
    faults: tuple[str, ...] = (),
    status: HTTPStatus | None = None,
) -> HttpResponse:
    """A template with its form; `faults` are the sentences that refuse what was sent.

    Who is not signed in sees no way to the other pages, as none would let them in: but where
    nobody has an account.

    Parameters
    ----------
    house : the mark of whoever sits at this machine while nobody has an account
    """
    is_let_in = bool(who) or house is not None
    frame = (
        Frame(**places(here="", carried=""), who=who, whose=house or "") if is_let_in else Frame(())
    )
    text = render_to_string(template, {"frame": frame, "faults": faults, **context}, request)
    usual = HTTPStatus.UNPROCESSABLE_ENTITY if faults else HTTPStatus.OK
    return HttpResponse(text, status=status or usual)


def too_often(
    request: HttpRequest,
    template: str,
    context: Mapping[str, object],
    error: TooOften,
    *,
    who: str = "",
) -> HttpResponse:
    """The form again, with how long to wait."""
    status = HTTPStatus.TOO_MANY_REQUESTS
    answer = form_page(request, template, context, who=who, faults=(str(error),), status=status)
    answer["Retry-After"] = str(error.wait_s)
    return answer


def see(address: str) -> HttpResponse:
    """On to another page by GET, so that a reload sends no form once more."""
    return HttpResponseRedirect(address, status=HTTPStatus.SEE_OTHER)


def way_on(request: HttpRequest) -> str:
    """The page of ours that somebody wanted before they signed in; else the first one."""
    way = str(request.POST.get("next") or request.GET.get("next") or "")
    ours = len(way) <= LONGEST_WAY and way.isprintable() and way.startswith("/")
    if ours and url_has_allowed_host_and_scheme(way, {request.get_host()}, request.is_secure()):
        return way
    return "/"
