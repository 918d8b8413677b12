"""Signing in and out, and the sessions that end with a password."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth import HASH_SESSION_KEY, authenticate, login, logout
from django.contrib.sessions.models import Session
from django.http import HttpRequest

from api.models import Account
from api.models.accounts import LONGEST_EMAIL, email_key
from api.passwords import LONGEST_PASSWORD
from api.tries import SIGN_IN, count_try, forget_tries
from api.whence import whence
from inventory.hindrance import said_in_words
from inventory.science.saying import say

MOST_CLEARED = 500  # sessions whose time is over, at each sign-in


class NotRecognised(Exception):
    """No such e-mail, or another password; which of the two is not said."""

    def __init__(self) -> None:
        super().__init__(say("E-mail and password do not belong together. Look at both again."))


@said_in_words()
def sign_in(request: HttpRequest, *, email: str, password: str, at: datetime) -> Account:
    """Begin a session for whoever knows the password of an e-mail.

    Raises
    ------
    NotRecognised, TooOften
        After as long a time for an e-mail that nobody has.
    """
    account = recognised(request, email=email, password=password, at=at)
    # A new key, so that one that somebody else knew before opens nothing, whoever was signed in.
    request.session.flush()
    login(request, account)
    _clear_away(at)
    return account


def recognised(request: HttpRequest, *, email: str, password: str, at: datetime) -> Account:
    """The account of an e-mail, if the password is its own; each miss is counted.

    Raises
    ------
    NotRecognised, TooOften
    """
    key, address = _email(email), whence(request)
    count_try("sign in", key, address, at=at, allowance=SIGN_IN)
    account = authenticate(request, email=key, password=password[:LONGEST_PASSWORD])
    if not isinstance(account, Account):
        raise NotRecognised
    forget_tries("sign in", key, address)
    return account


def sign_out(request: HttpRequest) -> None:
    """End this session, and nothing of it is kept."""
    logout(request)


@said_in_words()
def set_password(account: Account, password: str) -> None:
    """Another password; every session that was begun with the old one has ended."""
    account.set_password(password)
    account.save(update_fields=["password"])


def go_on(request: HttpRequest, account: Account) -> None:
    """Let this one session outlive the change of its password, under a new key."""
    request.session.cycle_key()
    request.session[HASH_SESSION_KEY] = account.get_session_auth_hash()


def _email(text: str) -> str:
    """The e-mail as it is looked for; empty for what no account could have."""
    key = email_key(text)
    return key if key.isprintable() and len(key) <= LONGEST_EMAIL else ""


def _clear_away(at: datetime) -> None:
    over = Session.objects.filter(expire_date__lt=at).order_by("expire_date")
    if keys := list(over.values_list("pk", flat=True)[:MOST_CLEARED]):
        Session.objects.filter(pk__in=keys).delete()
