"""The page of one's account: who am I, where do I belong."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse

from api.credentials import account_signed_in
from api.visitor import memberships_of
from api.web.accounts.frame import form_page, private_page

PAGE = "accounts/account.html"
MOST_STUDIOS = 100


@dataclass(frozen=True, slots=True)
class StudioShown:
    """A studio that one belongs to."""

    name: str
    right: str
    address: str  # of its week


@private_page
def account_page(request: HttpRequest) -> HttpResponse:
    """Name, e-mail, studios with the right in each, and the button for signing out."""
    account = account_signed_in(request)
    studios = tuple(
        StudioShown(row.studio.name, row.right, "/?" + urlencode({"studio": row.studio.name}))
        for row in memberships_of(account.pk)[:MOST_STUDIOS]
    )
    return form_page(request, PAGE, {"account": account, "studios": studios}, who=account.name)
