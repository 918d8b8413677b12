"""Who belongs to a studio and with which right: joined, changed, ended; one owner always stays."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.hashers import make_password
from django.db import transaction
from django.db.models import Q

from api.models import Account, Membership, ProgramToken
from api.names import checked_email, checked_name
from api.rest.refused import Refused
from api.rights import Right
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.models.scope import StudioRows
from inventory.science.saying import say

MOST_MEMBERS = 200
LARGEST_KEY = 2**63 - 1


class EmailTaken(Refused):
    """Another account has the e-mail."""

    code = "email_taken"

    def __init__(self, email: str) -> None:
        super().__init__(
            say("There is an account {email} already. Sign in with it.", email=email), email=email
        )


class NoSuchMember(Refused):
    """Nobody of that number belongs to the studio."""

    code = "member_unknown"

    def __init__(self, studio: str, member: int) -> None:
        sentence = say(
            "{studio} has no member {member}. Look at the list of members.",
            studio=studio,
            member=member,
        )
        super().__init__(sentence, studio=studio, member=member)


class LastOwner(Refused):
    """The only owner of a studio would be one no more."""

    code = "last_owner"

    def __init__(self, studio: str) -> None:
        sentence = say(
            "{studio} has no other owner. Make another member an owner first.", studio=studio
        )
        super().__init__(sentence, studio=studio)


class TooManyMembers(Refused):
    """A studio that is full."""

    code = "too_many_members"

    def __init__(self, studio: str) -> None:
        sentence = say(
            "{studio} has {most_members} members, and no studio has more. End one first.",
            studio=studio,
            most_members=MOST_MEMBERS,
        )
        super().__init__(sentence, studio=studio, most=MOST_MEMBERS)


@said_in_words()
def add_account(*, email: str, name: str, password: str | None, at: datetime) -> Account:
    """A new account; without a password only a link for one lets its owner in.

    Raises
    ------
    NotAnEmail, NotAName, EmailTaken
    """
    key, called = checked_email(email), checked_name(name)
    with transaction.atomic():
        account, is_new = Account.objects.get_or_create(
            email=key,
            defaults={"name": called, "made_at": at, "password": make_password(password)},
        )
    if not is_new:
        raise EmailTaken(key)
    return account


@said_in_words()
def join(studio: Studio, account: Account, *, right: Right, at: datetime) -> Membership:
    """A member of a studio; who belongs to it already keeps the larger of both rights.

    Raises
    ------
    TooManyMembers
    """
    rows = Membership.objects.of(studio)
    with transaction.atomic():
        is_member = members_of(studio).filter(account=account).exists()
        if not is_member and members_of(studio).count() >= MOST_MEMBERS:
            raise TooManyMembers(studio.name)
        row, is_new = rows.select_for_update().get_or_create(
            account=account, defaults={"right": right, "since": at}
        )
        if not is_new and row.ended_at is None:
            row.right = right if right.covers(Right(row.right)) else row.right
        elif not is_new:
            row.right, row.since, row.ended_at = right, at, None
        row.save(update_fields=["right", "since", "ended_at"])
    return row


@said_in_words()
def change_right(member: Membership, right: Right) -> Membership:
    """Another right; tokens that were allowed more are worth as much as their member.

    Raises
    ------
    LastOwner
    """
    with transaction.atomic():
        if right is not Right.OWNER:
            _check_another_owner(member)
        member.right = right
        member.save(update_fields=["right"])
    return member


@said_in_words()
def end_membership(member: Membership, *, at: datetime) -> None:
    """A member no more; their tokens for this studio end too, for good.

    Raises
    ------
    LastOwner
    """
    with transaction.atomic():
        _check_another_owner(member)
        member.ended_at = at
        member.save(update_fields=["ended_at"])
        tokens = ProgramToken.objects.of(member.studio).filter(membership=member)
        tokens.filter(ended_at__isnull=True).update(ended_at=at)


@said_in_words()
def end_account(account: Account, *, at: datetime) -> None:
    """Nobody comes in with this account any more; what they recorded stays.

    Raises
    ------
    LastOwner
        Of any studio.
    """
    with transaction.atomic():
        rows = Membership.everywhere().select_related("studio").filter(account=account)
        for member in rows.filter(ended_at__isnull=True):
            end_membership(member, at=at)
        account.is_active = False
        account.save(update_fields=["is_active"])


def members_of(studio: Studio) -> StudioRows[Membership]:
    """The members of a studio today."""
    return Membership.objects.of(studio).filter(ended_at__isnull=True)


def member_of(studio: Studio, key: int, *, lock: bool = False) -> Membership:
    """A member of a studio by their key.

    Raises
    ------
    NoSuchMember
        Also for one who left.
    """
    rows = members_of(studio).select_related("account", "studio")
    if lock:
        # With the owners, in one order: of two owners who leave at once none waits for the other
        # while the other waits for him.
        rows = rows.select_for_update(of=("self",)).filter(Q(pk=key) | Q(right=Right.OWNER))
    else:
        rows = rows.filter(pk=key)
    found = {row.pk: row for row in rows.order_by("pk")} if key <= LARGEST_KEY else {}
    if key not in found:
        raise NoSuchMember(studio.name, key)
    return found[key]


def _check_another_owner(member: Membership) -> None:
    """Of two owners who leave at once the second finds himself the last."""
    owners = members_of(member.studio).select_for_update().filter(right=Right.OWNER)
    keys = [row.pk for row in owners.order_by("pk")]
    if member.pk in keys and len(keys) == 1:
        raise LastOwner(member.studio.name)
