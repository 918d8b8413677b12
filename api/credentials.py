"""What somebody who asks has with them: a token, a session, or a seat at this machine."""

from __future__ import annotations

from collections.abc import Mapping
from ipaddress import IPv6Address, ip_address
from typing import Any, Protocol

from django.conf import settings
from django.contrib.auth import HASH_SESSION_KEY, SESSION_KEY
from django.utils.crypto import constant_time_compare

from api.models import Account
from api.rights import NotSignedIn, TokenUnknown

SCHEME = "bearer"
# Whoever stands between says so in one of these; then nobody sits at this machine.
PASSED_ON = ("HTTP_FORWARDED", "HTTP_X_FORWARDED_FOR", "HTTP_X_REAL_IP", "HTTP_VIA")


class Carrying(Protocol):
    """As much of a request as is read here."""

    @property
    def META(self) -> Mapping[str, Any]: ...


def token_shown(request: Carrying) -> str | None:
    """The token in the header `Authorization: Bearer TOKEN`; None without the header.

    Raises
    ------
    TokenUnknown
        For a header that is there and holds none.
    """
    said = str(request.META.get("HTTP_AUTHORIZATION", ""))
    if not said:
        return None
    scheme, _, token = said.partition(" ")
    if scheme.lower() != SCHEME or not token.strip():
        raise TokenUnknown
    return token.strip()


def key_signed_in(request: Carrying) -> int | None:
    """The key of the account that this session was begun for; asks nothing without a cookie."""
    text = _session(request).get(SESSION_KEY)
    return int(text) if isinstance(text, str) and text.isdecimal() else None


def is_still_signed_in(request: Carrying, account: Account) -> bool:
    """Whether the session was begun with the password that the account has today."""
    known = str(_session(request).get(HASH_SESSION_KEY, ""))
    return account.is_active and constant_time_compare(known, account.get_session_auth_hash())


def account_signed_in(request: Carrying) -> Account:
    """The account of whoever asks, whether or not it belongs to a studio.

    Raises
    ------
    NotSignedIn
        Without a session, or with one of an account or a password that is no more.
    """
    key = key_signed_in(request)
    account = None if key is None else Account.objects.filter(pk=key).first()
    if account is None or not is_still_signed_in(request, account):
        raise NotSignedIn
    return account


def at_this_machine(request: Carrying) -> bool:
    """Whether the service answers this machine only and somebody asks from it."""
    if not settings.THIS_MACHINE_ONLY or any(request.META.get(name) for name in PASSED_ON):
        return False
    try:
        address = ip_address(str(request.META.get("REMOTE_ADDR", "")))
    except ValueError:
        return False
    if isinstance(address, IPv6Address) and address.ipv4_mapped is not None:
        address = address.ipv4_mapped
    return address.is_loopback


def _session(request: Carrying) -> Mapping[str, Any]:
    # What programs ask is wrapped once more; the session is that of the request within.
    within = getattr(request, "_request", request)
    session: Mapping[str, Any] = getattr(within, "session", {})
    return session
