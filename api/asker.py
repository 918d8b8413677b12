"""Who is asking, where no studio is asked about: an account with all that it belongs to."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from api.credentials import account_signed_in, at_this_machine, key_signed_in, token_shown
from api.members import join, members_of
from api.models import Account, Membership, ProgramToken
from api.rest.refused import Refused
from api.rights import NotSignedIn, Right
from api.tokens import token_of
from api.visitor import MOST_STUDIOS, Asking, Visitor, memberships_of
from inventory.models import Studio
from inventory.science.saying import say
from inventory.studios import begin_studio


class PersonNeeded(Refused):
    """Something that a token does not reach."""

    code = "person_needed"

    def __init__(self) -> None:
        super().__init__(
            say("A token is for one studio and does not reach this. Sign in on the page /sign-in/.")
        )


class NoAccountYet(Refused):
    """Something that hangs on an account, in a house where nobody has one."""

    code = "no_account_yet"

    def __init__(self) -> None:
        super().__init__(
            "Nobody has an account here yet, and this hangs on one. Make the first: "
            "python3 manage.py account add EMAIL --name NAME"
        )


class TooManyStudios(Refused):
    """An account that belongs to as many studios as one may."""

    code = "too_many_studios"

    def __init__(self) -> None:
        sentence = say(
            "You belong to {most_studios} studios, and nobody belongs to more. Leave one.",
            most_studios=MOST_STUDIOS,
        )
        super().__init__(sentence, most=MOST_STUDIOS)


@dataclass(frozen=True, slots=True)
class Asker:
    """Somebody who is known, and where they may go."""

    account: Account | None  # None: nobody has one, and this machine is the owner's
    token: ProgramToken | None
    studios: tuple[tuple[Studio, Right], ...]


def asker_of(request: Asking) -> Asker:
    """Who asks, with their studios and the right in each.

    Raises
    ------
    NotSignedIn
    """
    # Within one request it is asked at the door and again by the view.
    seen: Any = getattr(request, "_request", request)
    if getattr(seen, "asker", None) is None:
        seen.asker = _find(request)
    found: Asker = seen.asker
    return found


def _find(request: Asking) -> Asker:
    if (secret := token_shown(request)) is not None:
        token = token_of(secret)
        return Asker(token.membership.account, token, (_place(token.membership),))
    if key_signed_in(request) is not None:
        account = account_signed_in(request)
        rows = memberships_of(account.pk)
        return Asker(account, None, tuple(_place(row) for row in rows))
    if not at_this_machine(request) or Account.objects.exists():
        raise NotSignedIn
    studios = Studio.objects.order_by("name")[:MOST_STUDIOS]
    return Asker(None, None, tuple((studio, Right.OWNER) for studio in studios))


def begin_own_studio(
    asker: Asker, *, name: str, zone: str, currency: str, at: datetime
) -> Membership:
    """A studio of one's own: whoever begins it is its owner.

    Raises
    ------
    PersonNeeded, NoAccountYet, TooManyStudios, and those of `begin_studio`
    """
    if asker.token is not None:
        raise PersonNeeded
    if asker.account is None:
        raise NoAccountYet
    if len(asker.studios) >= MOST_STUDIOS:
        raise TooManyStudios
    with transaction.atomic():
        studio = begin_studio(name, zone=zone, currency=currency)
        return join(studio, asker.account, right=Right.OWNER, at=at)


def membership_of(visitor: Visitor) -> Membership:
    """The membership that a visitor came by.

    Raises
    ------
    NoAccountYet
        In an open house.
    """
    if visitor.account is None:
        raise NoAccountYet
    return members_of(visitor.studio).select_related("studio").get(account_id=visitor.account)


def _place(row: Membership) -> tuple[Studio, Right]:
    return row.studio, Right(row.right)
