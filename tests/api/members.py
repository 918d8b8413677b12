"""People of a studio for tests: accounts with a right, signed in or with a token."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from django.contrib.auth.hashers import make_password
from django.test import Client
from django.utils import timezone

from api.models import Account, Membership
from api.rights import Right
from api.tokens import make_token
from inventory.models import Studio

BEGAN = datetime(2026, 11, 1, 9, 0, tzinfo=UTC)
PASSWORD = "weld over woad twice"


def account(email: str = "ada@pellitory.example", *, password: str = "") -> Account:
    """Somebody with an account; without a password nobody can sign in by it."""
    name = email.partition("@")[0].capitalize()
    word = make_password(password or None)
    return Account.objects.create(email=email, name=name, made_at=BEGAN, password=word)


def member(
    studio: Studio, right: Right = Right.OWNER, email: str = "ada@pellitory.example"
) -> Membership:
    """Somebody who belongs to a studio; the same e-mail is the same person."""
    who = Account.objects.filter(email=email).first() or account(email)
    rows = Membership.objects.of(studio)
    return rows.create(account=who, right=right, since=BEGAN)


def signed_in(who: Membership, *, enforces: bool = False) -> Client:
    """A browser in which somebody is signed in."""
    client = Client(enforce_csrf_checks=enforces)
    client.force_login(who.account)
    return client


def bearer(who: Membership, right: Right | None = None, *, reads_only: bool = False) -> str:
    """A header's value with a fresh token of somebody."""
    now = timezone.now()
    _, secret = make_token(
        who,
        name="kitchen scale",
        right=right or Right(who.right),
        until=now + timedelta(days=30),
        at=now,
        reads_only=reads_only,
    )
    return f"Bearer {secret}"
