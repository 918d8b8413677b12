"""Tokens for programs: made and shown once, found by their digest, ended.

A token holds 256 bits of chance, so one quick digest keeps it: there is nothing to be guessed, and
a slow one would cost each request what a sign-in costs. The framework's own tokens (knox) were
looked at: theirs belong to an account, not to a membership, know no right, ask one question more,
and bring nine migrations and a second user of the signing key.
"""

from __future__ import annotations

import hashlib
import logging
import secrets
from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from api.models import Membership, ProgramToken
from api.rights import NoRight, Right, TokenExpired, TokenUnknown
from inventory.errors import NotNow
from inventory.hindrance import said_in_words
from inventory.said import check_said

LOG = logging.getLogger(__name__)
PREFIX = "dyl_"  # Whoever finds one lying about knows what it opens.
LONGEST_TOKEN = 100
LONGEST_LIFE = timedelta(days=366)


@said_in_words()
def make_token(
    membership: Membership,
    *,
    name: str,
    right: Right,
    until: datetime,
    at: datetime,
    reads_only: bool = False,
) -> tuple[ProgramToken, str]:
    """A new token of a member, and its secret, which is kept nowhere.

    Raises
    ------
    NoRight
        If it were to be allowed more than its member.
    """
    check_said({"at": at, "until": until, "name": name})
    member = Right(membership.right)
    if not member.covers(right):
        raise NoRight(studio=membership.studio.name, has=member, needs=right)
    secret = PREFIX + secrets.token_urlsafe(32)
    with transaction.atomic():
        row = ProgramToken.objects.of(membership.studio).create(
            membership=membership,
            name=name.strip(),
            right=right,
            reads_only=reads_only,
            digest=digest_of(secret),
            made_at=at,
            expires_at=until,
        )
    return row, secret


def digest_of(secret: str) -> str:
    """What is kept of a token."""
    return hashlib.sha256(secret.encode()).hexdigest()


def token_of(secret: str) -> ProgramToken:
    """The token of a secret, with its member, account and studio, asked in one question.

    Raises
    ------
    TokenUnknown, TokenExpired
        Also when its member has left, or the account was ended.
    """
    row = None
    if secret.startswith(PREFIX) and secret.isascii() and len(secret) <= LONGEST_TOKEN:
        row = _good().filter(digest=digest_of(secret)).first()
    if row is None:
        raise TokenUnknown
    now = timezone.now()
    if row.expires_at <= now:
        raise TokenExpired(row.name, f"{row.expires_at:%d %B %Y %H:%M} UTC")
    _mark_used(row, now)
    return row


def _good() -> QuerySet[ProgramToken]:
    rows = ProgramToken.everywhere().select_related("membership__account", "membership__studio")
    return rows.filter(
        ended_at__isnull=True,
        membership__ended_at__isnull=True,
        membership__account__is_active=True,
    )


def _mark_used(row: ProgramToken, now: datetime) -> None:
    """Mark the day, once: so that whoever looks over the tokens sees which are used."""
    if row.last_used_on == now.date():
        return
    try:
        with said_in_words():
            ProgramToken.everywhere().filter(pk=row.pk).update(last_used_on=now.date())
    except NotNow as hindrance:
        # Whoever only reads is not to wait for this; the next request marks it.
        LOG.info("A token's day was not marked: %s", hindrance)
