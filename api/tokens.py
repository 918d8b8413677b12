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

from api.joined import Joined
from api.members import LARGEST_KEY
from api.models import Account, Membership, ProgramToken
from api.names import checked_name
from api.rest.refused import Refused
from api.rights import NoRight, Right, TokenExpired, TokenUnknown, lesser
from inventory.errors import NotNow
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.models.scope import StudioRows
from inventory.said import check_said
from inventory.science.saying import say

LOG = logging.getLogger(__name__)
PREFIX = "dyl_"  # Whoever finds one lying about knows what it opens.
LONGEST_TOKEN = 100
LONGEST_LIFE = timedelta(days=366)
MOST_TOKENS = 200  # of a studio


class TooManyTokens(Refused):
    """A studio with as many tokens as it may have."""

    code = "too_many_tokens"

    def __init__(self, studio: str) -> None:
        sentence = say(
            "{studio} has {most_tokens} tokens that were not ended. End one first.",
            studio=studio,
            most_tokens=MOST_TOKENS,
        )
        super().__init__(sentence, studio=studio, most=MOST_TOKENS)


class TokenTooLong(Refused):
    """A token that is to be good for longer than it may."""

    code = "token_too_long"

    def __init__(self, until: datetime) -> None:
        super().__init__(
            say(
                "A token is good until {until:%d %B %Y %H:%M} UTC at most, and from now on. "
                "Name an earlier moment that is still to come.",
                until=until,
            ),
            until=until,
        )


class TokenNotThere(Refused):
    """No such token of one's own, or it was ended before."""

    code = "token_not_there"

    def __init__(self, token: int) -> None:
        sentence = say(
            "There is no token {token} of yours here, or it was ended. Look at the list.",
            token=token,
        )
        super().__init__(sentence, token=token)


@said_in_words()
def make_token(
    membership: Membership,
    *,
    name: str,
    right: Right,
    until: datetime,
    at: datetime,
    reads_only: bool = False,
    by: ProgramToken | None = None,
) -> tuple[ProgramToken, str]:
    """A new token of a member, and its secret, which is kept nowhere.

    Parameters
    ----------
    by : the token that asks for another one, which is good no longer and may no more

    Raises
    ------
    NoRight, TokenTooLong, TooManyTokens, NotAName
        If it were to be allowed more than its member, or for longer than a year.
    """
    check_said({"at": at, "until": until})
    studio, has = membership.studio, Right(membership.right)
    has = has if by is None else lesser(has, Right(by.right))
    last = at + LONGEST_LIFE if by is None else by.expires_at
    if not has.covers(right):
        raise NoRight(studio=studio.name, has=has, needs=right)
    if not at < until <= last:
        raise TokenTooLong(last)
    secret = PREFIX + secrets.token_urlsafe(32)
    with transaction.atomic():
        if tokens_of(studio).count() >= MOST_TOKENS:
            raise TooManyTokens(studio.name)
        row = ProgramToken.objects.of(studio).create(
            membership=membership,
            name=checked_name(name),
            right=right,
            reads_only=reads_only or (by is not None and by.reads_only),
            digest=digest_of(secret),
            made_at=at,
            expires_at=until,
        )
    return row, secret


def tokens_of(studio: Studio, *, account: int | None = None) -> StudioRows[ProgramToken]:
    """The tokens of a studio that were not ended, or those of one account; with their members."""
    rows = ProgramToken.objects.of(studio).filter(ended_at__isnull=True)
    if account is not None:
        rows = rows.filter(membership__account_id=account)
    return rows.select_related("membership__account")


@said_in_words()
def end_token(studio: Studio, key: int, *, at: datetime, account: int | None = None) -> None:
    """A token opens nothing any more.

    Parameters
    ----------
    account : whose it must be; None for an owner, who may end any

    Raises
    ------
    TokenNotThere
    """
    if key > LARGEST_KEY or not tokens_of(studio, account=account).filter(pk=key).update(
        ended_at=at
    ):
        raise TokenNotThere(key)


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
        row = _found(digest_of(secret))
    if row is None:
        raise TokenUnknown
    now = timezone.now()
    if row.expires_at <= now:
        raise TokenExpired(
            row.name, say("{expires_at:%d %B %Y %H:%M} UTC", expires_at=row.expires_at)
        )
    _mark_used(row, now)
    return row


def _found(digest: str) -> ProgramToken | None:
    """The token of a digest, with its member, account and studio; None of one that is ended."""
    for row, member, account, studio in BY_DIGEST.rows(digest=digest):
        member.account, member.studio = account, studio
        row.membership, row.studio = member, studio
        token: ProgramToken = row
        return token
    return None


def _by_digest(*, digest: str) -> QuerySet[ProgramToken]:
    return ProgramToken.everywhere().filter(
        digest=digest,
        ended_at__isnull=True,
        membership__ended_at__isnull=True,
        membership__account__is_active=True,
    )


BY_DIGEST = Joined(
    _by_digest,
    (
        ("", ProgramToken),
        ("membership", Membership),
        ("membership__account", Account),
        ("studio", Studio),
    ),
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
