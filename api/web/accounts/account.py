"""The page of one's account: who am I, where do I belong, and at one studio tokens and members."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from api.asked import StudioUnknown, Unreadable
from api.credentials import account_signed_in
from api.models import Account
from api.rest.refused import Refused
from api.rights import NoRight
from api.visitor import StudioNotSaid, visitor_of
from api.web.accounts.deeds import DAYS, DEEDS, NotPressed
from api.web.accounts.frame import form_page, private_page, see
from api.web.accounts.shown import Secret, StudioShown, places_of, studio_shown
from inventory.errors import LarderError, NotNow
from inventory.science.saying import say

PAGE = "accounts/account.html"
NOT_PRESSED = say("No button of this page sends that. Open the page again and press it there.")


@private_page
def account_page(request: HttpRequest) -> HttpResponse:
    """Name, studios, and at the one that is named, or the only one, its tokens and members."""
    account = account_signed_in(request)
    if request.method != "POST":
        return _page(request, account)
    try:
        secret = DEEDS.get(request.POST.get("do", ""), _nothing)(request, timezone.now())
    except NotPressed:
        return _page(request, account, faults=(NOT_PRESSED,))
    except NotNow:
        raise
    except (Refused, NoRight, LarderError, Unreadable, StudioUnknown) as error:
        return _page(request, account, faults=(str(error),))
    # What is shown once is shown in the answer itself; all else is asked for anew.
    return _page(request, account, secret=secret) if secret else see(request.get_full_path())


def _nothing(request: HttpRequest, at: object) -> None:
    raise NotPressed


def _page(
    request: HttpRequest,
    account: Account,
    *,
    faults: tuple[str, ...] = (),
    secret: Secret | None = None,
) -> HttpResponse:
    # Whoever has just left, or lost a right, is asked for anew.
    request.__dict__.pop("visitor", None)
    shown = {
        "account": account,
        "places": places_of(account.pk, reverse("account")),
        "studio": _studio(request),
        "secret": secret,
        "days": DAYS,
    }
    return form_page(request, PAGE, shown, who=account.name, faults=faults)


def _studio(request: HttpRequest) -> StudioShown | None:
    """The studio that is asked about; None where several could be meant, or there is none."""
    try:
        visitor = visitor_of(request)
    except StudioNotSaid:
        return None
    except StudioUnknown:
        return None
    return studio_shown(visitor, reverse("account"), at=timezone.now())
