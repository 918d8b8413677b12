"""Who is asking, and what they may do: one answer for pages, programs and feeds.

A view says the least right that it wants and gets a `Visitor`; what is not allowed never reaches
the rows. While nobody has an account and the service answers this machine only, whoever sits at
it is the owner. Nothing is remembered from one request to the next: a right that is taken away is
gone at once.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Protocol

from django.db.models import Exists, QuerySet
from django.http import QueryDict

from api.asked import StudioNotNamed, StudioUnknown, studio_asked, studio_name
from api.credentials import (
    account_signed_in,
    at_this_machine,
    is_still_signed_in,
    key_signed_in,
    token_shown,
)
from api.joined import Joined
from api.models import Account, Membership, ProgramToken
from api.rights import NoRight, NotSignedIn, ReadsOnly, Right, lesser
from api.tokens import token_of
from api.tongue.reader import at_home
from inventory.models import Studio
from inventory.science.saying import say
from sourcing.week.words import listed

__all__ = ["Asking", "Right", "Visitor", "visitor_of"]

READING = ("GET", "HEAD", "OPTIONS")
MOST_NAMED = 20  # studios, in a sentence
MOST_STUDIOS = 100  # of one account


class StudioNotSaid(StudioNotNamed):
    """Somebody belongs to several studios and named none; a page lets them choose."""


class BelongsNowhere(StudioUnknown):
    """An account that belongs to no studio, or to none any more."""

    code = "belongs_nowhere"

    def __init__(self) -> None:
        super().__init__(None)
        self.detail = say(
            "You belong to no studio yet. Ask an owner to invite you, or begin one of your own "
            "on the page /account/."
        )
        self.args = (self.detail,)


class Asking(Protocol):
    """As much of a request as is read here; pages and programs have it alike."""

    @property
    def GET(self) -> QueryDict: ...

    @property
    def META(self) -> Mapping[str, Any]: ...

    @property
    def method(self) -> str | None: ...


@dataclass(frozen=True, slots=True)
class Visitor:
    """Somebody who may look at one studio, and what else they may do there."""

    studio: Studio
    right: Right
    account: int | None = None  # its key; None: nobody has one, and this machine is the owner's
    token: int | None = None  # key of the token that a program showed
    name: str = ""
    reads_only: bool = False
    called: str = ""  # of the token


def visitor_of(
    request: Asking, *, least: Right = Right.LOOKER_ON, keeps_nothing: bool = False
) -> Visitor:
    """Who asks about which studio, if their right covers `least`.

    The studio is the one that `?studio=` names, else the only one that the visitor belongs to.

    Parameters
    ----------
    keeps_nothing : a question too long for an address, which a token may ask that only reads

    Raises
    ------
    NotSignedIn, NoRight, ReadsOnly
        If whoever asks may not.
    StudioUnknown, StudioNotNamed
        Also for a studio that there is, and that the visitor does not belong to.
    """
    # Within one request it is asked at the door and again by the view.
    seen: Any = getattr(request, "_request", request)
    visitor: Visitor | None = getattr(seen, "visitor", None)
    if visitor is None:
        visitor = _find(request)
        seen.visitor = visitor
        at_home(seen, visitor.studio)
    if not visitor.right.covers(least):
        raise NoRight(studio=visitor.studio.name, has=visitor.right, needs=least)
    if visitor.reads_only and request.method not in READING and not keeps_nothing:
        raise ReadsOnly(visitor.called)
    return visitor


def _find(request: Asking) -> Visitor:
    name = request.GET.get("studio")
    if (secret := token_shown(request)) is not None:
        return _by_token(token_of(secret), name)
    if (key := key_signed_in(request)) is not None:
        return _by_session(request, key, name)
    return _in_open_house(request, name)


def _by_token(token: ProgramToken, name: str | None) -> Visitor:
    member, studio = token.membership, token.membership.studio
    if name is not None and (studio_name(name) or "").casefold() != studio.name.casefold():
        raise StudioUnknown(name)
    return Visitor(
        studio=studio,
        right=lesser(Right(token.right), Right(member.right)),
        account=member.account_id,
        token=token.pk,
        name=member.account.name,
        reads_only=token.reads_only,
        called=token.name,
    )


def _by_session(request: Asking, key: int, name: str | None) -> Visitor:
    """One question, which joins account, membership and studio."""
    found = memberships_of(key)
    if not found:
        account_signed_in(request)  # Turned away, should there be no such account any more.
        raise StudioUnknown(name) if name is not None else BelongsNowhere
    if not is_still_signed_in(request, found[0].account):
        raise NotSignedIn
    if name is None and len(found) > 1:
        names = listed(row.studio.name for row in found[:MOST_NAMED])
        detail = say("You belong to {names}. Say which one by its name: ?studio=NAME.", names=names)
        raise StudioNotSaid("studio", "", detail)
    member = found[0] if name is None else _called(name, found)
    return Visitor(
        studio=member.studio,
        right=Right(member.right),
        account=key,
        name=member.account.name,
    )


def _called(name: str, found: list[Membership]) -> Membership:
    """The membership of the studio of that name, in any case where none is written just so."""
    wanted = studio_name(name) or ""
    for same in (str, str.casefold):
        for row in found:
            if same(row.studio.name) == same(wanted):
                return row
    raise StudioUnknown(name)


def memberships_of(account: int) -> list[Membership]:
    """Where an account belongs today, with the studios, by their names."""
    found = []
    for member, whose, studio in BY_ACCOUNT.rows(account=account):
        member.account, member.studio = whose, studio
        found.append(member)
    return found


def _by_account(*, account: int) -> QuerySet[Membership]:
    rows = Membership.everywhere().order_by("studio__name").filter(ended_at__isnull=True)
    return rows.filter(account_id=account, account__is_active=True)[:MOST_STUDIOS]


BY_ACCOUNT = Joined(_by_account, (("", Membership), ("account", Account), ("studio", Studio)))


def _in_open_house(request: Asking, name: str | None) -> Visitor:
    """Whoever sits at this machine, as long as nobody has an account: asked along with the row."""
    if not at_this_machine(request):
        raise NotSignedIn
    studio, has_doors = _only_one() if name is None else _named(name)
    if has_doors:
        raise NotSignedIn
    return Visitor(studio, Right.OWNER)


def _only_one() -> tuple[Studio, bool]:
    """The only studio, and whether anybody has an account."""
    found = list(WITH_DOORS.rows())
    if len(found) == 1:
        studio, has_doors = found[0]
        return studio, has_doors
    if Account.objects.exists():
        raise NotSignedIn
    return studio_asked(None), False


def _named(name: str) -> tuple[Studio, bool]:
    """The studio of a name, and whether anybody has an account."""
    try:
        studio = studio_asked(name, _with_doors())
    except StudioUnknown:
        if Account.objects.exists():
            raise NotSignedIn from None
        raise
    return studio, studio.has_doors  # type: ignore[attr-defined]


def _with_doors() -> QuerySet[Studio]:
    return Studio.objects.annotate(has_doors=Exists(Account.objects.all()))


WITH_DOORS = Joined(
    lambda: _with_doors().order_by("name")[:2], (("", Studio),), also=("has_doors",)
)
