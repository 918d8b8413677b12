"""The page behind an invitation: a new account, or the one that is signed in, joins a studio."""

from __future__ import annotations

from urllib.parse import urlencode

from django.contrib.auth import login
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from api.credentials import account_signed_in
from api.invitations import accept, accept_anew, invitation_of
from api.models import Account, Invitation, Membership
from api.passwords import password_faults
from api.rest.refused import Refused
from api.rights import NotSignedIn
from api.throttles.links import by_link
from api.web.accounts.frame import form_page, private_page, see

PAGE = "accounts/join.html"


@private_page
@by_link
def join_page(request: HttpRequest, *, token: str) -> HttpResponse:
    """Who invites to what; the button joins."""
    account = _signed_in(request)
    who = "" if account is None else account.name
    form: dict[str, object] = {
        "account": account,
        "invitation": None,
        "known": False,
        "name": "",
        "path": request.path,
    }
    try:
        row = invitation_of(token, at=timezone.now())
        form |= {"invitation": row, "known": _is_known(row), "name": request.POST.get("name", "")}
        if request.method != "POST":
            return form_page(request, PAGE, form, who=who)
        if account is not None:
            return _to(accept(token, account, at=timezone.now()))
        if faults := _faults(request, row):
            return form_page(request, PAGE, form, who=who, faults=faults)
        return _begin(request, token)
    except Refused as error:
        return form_page(request, PAGE, form, who=who, faults=(str(error),))


def _begin(request: HttpRequest, token: str) -> HttpResponse:
    """A new account, signed in at once: who it is has just been said."""
    member = accept_anew(
        token, name=request.POST.get("name", ""), password=request.POST["new"], at=timezone.now()
    )
    request.session.flush()
    login(request, member.account)
    return _to(member)


def _to(member: Membership) -> HttpResponse:
    return see("/?" + urlencode({"studio": member.studio.name}))


def _faults(request: HttpRequest, row: Invitation) -> tuple[str, ...]:
    new, again = request.POST.get("new", ""), request.POST.get("again", "")
    whose = Account(email=row.email, name=request.POST.get("name", ""))
    return password_faults(new, again, whose)


def _is_known(row: Invitation) -> bool:
    """Whether the e-mail has an account, which is then to be signed in with."""
    return Account.objects.filter(email=row.email).exists()


def _signed_in(request: HttpRequest) -> Account | None:
    try:
        return account_signed_in(request)
    except NotSignedIn:
        return None
