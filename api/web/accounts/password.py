"""The pages of passwords: change it, have forgotten it, write a new one by a link."""

from __future__ import annotations

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from api.credentials import account_signed_in
from api.models import Account
from api.passwords import password_faults
from api.recovery import LinkUnknown, account_of, recover, wish_recovery
from api.signing_in import NotRecognised, go_on, recognised, set_password
from api.throttles.links import by_link
from api.tries import RECOVERY, TooOften, count_try
from api.web.accounts.frame import form_page, private_page, too_often
from api.whence import whence
from inventory.science.saying import say

CHANGE = "accounts/password.html"
FORGOTTEN = "accounts/forgotten.html"
NEW = "accounts/new_password.html"
WRONG = say("The password that you have now is another one.")


@private_page
def password_page(request: HttpRequest) -> HttpResponse:
    """Another password for whoever is signed in; their other sessions end."""
    account = account_signed_in(request)
    form, who = {"account": account, "done": False}, account.name
    if request.method != "POST":
        return form_page(request, CHANGE, form, who=who)
    now, password = timezone.now(), request.POST.get("password", "")
    try:
        recognised(request, email=account.email, password=password, at=now)
    except NotRecognised:
        return form_page(request, CHANGE, form, who=who, faults=(WRONG,))
    except TooOften as error:
        return too_often(request, CHANGE, form, error, who=who)
    if faults := _faults(request, account):
        return form_page(request, CHANGE, form, who=who, faults=faults)
    set_password(account, request.POST["new"])
    go_on(request, account)
    return form_page(request, CHANGE, {**form, "done": True}, who=who)


@private_page
def forgotten_page(request: HttpRequest) -> HttpResponse:
    """Asks for a letter with a link; the same answer whether or not anybody has the e-mail."""
    goes = settings.MAIL is not None and bool(settings.ADDRESS)
    form = {"goes": goes, "done": False}
    if request.method != "POST" or not goes:
        return form_page(request, FORGOTTEN, form)
    now, address = timezone.now(), whence(request)
    try:
        count_try("recovery", address, at=now, allowance=RECOVERY)
    except TooOften as error:
        return too_often(request, FORGOTTEN, form, error)
    wish_recovery(request.POST.get("email", ""), at=now)
    return form_page(request, FORGOTTEN, {**form, "done": True})


@private_page
@by_link
def new_password_page(request: HttpRequest, *, token: str) -> HttpResponse:
    """Another password by the link of a letter; only the button uses the link up."""
    try:
        account = account_of(token)
        faults = _faults(request, account) if request.method == "POST" else ()
        if request.method != "POST" or faults:
            return form_page(request, NEW, {"account": account, "done": False}, faults=faults)
        recover(token, request.POST["new"])
    except LinkUnknown as error:
        return form_page(request, NEW, {"account": None, "done": False}, faults=(str(error),))
    return form_page(request, NEW, {"account": account, "done": True})


def _faults(request: HttpRequest, account: Account) -> tuple[str, ...]:
    new, again = request.POST.get("new", ""), request.POST.get("again", "")
    return password_faults(new, again, account)
