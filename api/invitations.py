"""Invitations: made by an owner, good once and for seven days, for a new account or an old one."""

from __future__ import annotations

import secrets
from datetime import datetime, timedelta

from django.db import transaction

from api.members import LARGEST_KEY, add_account, join
from api.models import Account, Invitation, Membership
from api.names import checked_email
from api.rest.refused import Refused
from api.rights import Right
from api.tokens import digest_of
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.models.scope import StudioRows
from inventory.science.saying import say

GOOD_FOR = timedelta(days=7)
MOST_OPEN = 50
LONGEST_LINK = 100


class InvitationUnknown(Refused):
    """A link that was used, ended, is too old, or was never made."""

    code = "invitation_unknown"

    def __init__(self) -> None:
        super().__init__(
            say(
                "This invitation is good no longer: it is used once, within seven days. Ask "
                "for another one."
            )
        )


class TooManyInvitations(Refused):
    """A studio with as many open invitations as it may have."""

    code = "too_many_invitations"

    def __init__(self, studio: str) -> None:
        sentence = say(
            "{studio} has {most_open} open invitations. End one, or wait for it to pass.",
            studio=studio,
            most_open=MOST_OPEN,
        )
        super().__init__(sentence, studio=studio, most=MOST_OPEN)


@said_in_words()
def invite(by: Membership, *, email: str, right: Right, at: datetime) -> tuple[Invitation, str]:
    """An invitation and the secret of its link, which is kept nowhere.

    Raises
    ------
    NotAnEmail, TooManyInvitations
    """
    key, secret = checked_email(email), secrets.token_urlsafe(24)
    with transaction.atomic():
        if open_invitations(by.studio, at=at).count() >= MOST_OPEN:
            raise TooManyInvitations(by.studio.name)
        row = Invitation.objects.of(by.studio).create(
            email=key,
            right=right,
            made_by=by,
            digest=digest_of(secret),
            made_at=at,
            expires_at=at + GOOD_FOR,
        )
    return row, secret


def open_invitations(studio: Studio, *, at: datetime) -> StudioRows[Invitation]:
    """The invitations to a studio that somebody may still follow."""
    rows = Invitation.objects.of(studio).filter(used_at__isnull=True, ended_at__isnull=True)
    return rows.filter(expires_at__gt=at)


@said_in_words()
def end_invitation(studio: Studio, key: int, *, at: datetime) -> None:
    """Its link is good no longer.

    Raises
    ------
    InvitationUnknown
    """
    rows = open_invitations(studio, at=at).filter(pk=key)
    if key > LARGEST_KEY or not rows.update(ended_at=at):
        raise InvitationUnknown


def invitation_of(secret: str, *, at: datetime, lock: bool = False) -> Invitation:
    """The invitation of a link, with its studio.

    Raises
    ------
    InvitationUnknown
        Also when whoever made it is an owner no more.
    """
    rows = Invitation.everywhere().select_related("studio", "made_by")
    if lock:
        rows = rows.select_for_update(of=("self",))
    known = secret.isascii() and len(secret) <= LONGEST_LINK
    row = rows.filter(digest=digest_of(secret)).first() if known else None
    if row is None or row.used_at or row.ended_at or row.expires_at <= at:
        raise InvitationUnknown
    if row.made_by.ended_at or row.made_by.right != Right.OWNER:
        raise InvitationUnknown
    return row


@said_in_words()
def accept(secret: str, account: Account, *, at: datetime) -> Membership:
    """Whoever has an account joins by a link, which is used up with it.

    Raises
    ------
    InvitationUnknown, TooManyMembers
    """
    with transaction.atomic():
        row = invitation_of(secret, at=at, lock=True)
        return _use(row, account, at)


@said_in_words()
def accept_anew(secret: str, *, name: str, password: str, at: datetime) -> Membership:
    """Whoever has no account gets one by a link, with the e-mail that was invited, and joins.

    Raises
    ------
    InvitationUnknown, TooManyMembers, NotAName, EmailTaken
    """
    with transaction.atomic():
        row = invitation_of(secret, at=at, lock=True)
        account = add_account(email=row.email, name=name, password=password, at=at)
        return _use(row, account, at)


def _use(row: Invitation, account: Account, at: datetime) -> Membership:
    row.used_at = at
    row.save(update_fields=["used_at"])
    return join(row.studio, account, right=Right(row.right), at=at)
