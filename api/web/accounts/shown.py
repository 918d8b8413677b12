"""What the page of one's account shows, in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from api.calendar_links import open_calendar
from api.invitations import MOST_OPEN, open_invitations
from api.members import MOST_MEMBERS, members_of
from api.rest.tokens import whose
from api.rights import RIGHTS, Right
from api.tokens import MOST_TOKENS, tokens_of
from api.visitor import Visitor, memberships_of
from inventory.science.saying import say
from sourcing.week.words import day_in_words


@dataclass(frozen=True, slots=True)
class Secret:
    """Something that is shown once."""

    what: str
    text: str
    then: str


@dataclass(frozen=True, slots=True)
class Place:
    """A studio that one belongs to."""

    name: str
    right: str
    week: str  # its address
    here: str  # the address of this page about it


@dataclass(frozen=True, slots=True)
class TokenShown:
    """A token of a program."""

    key: int
    name: str
    member: str
    may: str
    until: str
    used: str
    is_over: bool


@dataclass(frozen=True, slots=True)
class MemberShown:
    """A member of the studio."""

    key: int
    name: str
    email: str
    right: str
    since: str
    is_me: bool


@dataclass(frozen=True, slots=True)
class InvitationShown:
    """An invitation that is open."""

    key: int
    email: str
    right: str
    until: str


@dataclass(frozen=True, slots=True)
class CalendarShown:
    """The link to one's calendar."""

    made: str
    used: str


@dataclass(frozen=True, slots=True)
class StudioShown:
    """Calendar, tokens, members and invitations at one studio, as far as one may see them."""

    name: str
    address: str  # where its forms are sent
    owns: bool
    rights: tuple[str, ...]  # that a token of mine may have
    tokens: tuple[TokenShown, ...]
    members: tuple[MemberShown, ...]  # an owner sees all, others themselves
    invitations: tuple[InvitationShown, ...]
    calendar: CalendarShown | None  # None: there is none yet
    every_right: tuple[str, ...] = RIGHTS


def places_of(account: int, address: str) -> tuple[Place, ...]:
    """The studios of an account; `address` is that of this page."""
    rows = memberships_of(account)
    named = ((row, "?" + urlencode({"studio": row.studio.name})) for row in rows)
    return tuple(
        Place(row.studio.name, row.right, f"/{asked}", f"{address}{asked}") for row, asked in named
    )


def studio_shown(visitor: Visitor, address: str, *, at: datetime) -> StudioShown:
    """What somebody sees of one studio."""
    owns = visitor.right is Right.OWNER
    return StudioShown(
        name=visitor.studio.name,
        address=f"{address}?{urlencode({'studio': visitor.studio.name})}",
        owns=owns,
        rights=tuple(right for right in RIGHTS if visitor.right.covers(Right(right))),
        tokens=_tokens(visitor, at),
        members=_members(visitor),
        invitations=_invitations(visitor, at) if owns else (),
        calendar=_calendar(visitor),
    )


def _calendar(visitor: Visitor) -> CalendarShown | None:
    row = open_calendar(visitor.studio, visitor.account)
    if row is None:
        return None
    used = day_in_words(row.last_used_on) if row.last_used_on else say("never yet")
    return CalendarShown(_day(row.made_at, visitor), used)


def _tokens(visitor: Visitor, at: datetime) -> tuple[TokenShown, ...]:
    rows = tokens_of(visitor.studio, account=whose(visitor)).order_by("-pk")[:MOST_TOKENS]
    return tuple(
        TokenShown(
            key=row.pk,
            name=row.name,
            member=row.membership.account.name,
            may=say("{right}, reads only", right=row.right) if row.reads_only else row.right,
            until=_day(row.expires_at, visitor),
            used=day_in_words(row.last_used_on) if row.last_used_on else say("never yet"),
            is_over=row.expires_at <= at,
        )
        for row in rows
    )


def _members(visitor: Visitor) -> tuple[MemberShown, ...]:
    rows = members_of(visitor.studio).select_related("account")
    if visitor.right is not Right.OWNER and visitor.account is not None:
        rows = rows.filter(account_id=visitor.account)
    return tuple(
        MemberShown(
            key=row.pk,
            name=row.account.name,
            email=row.account.email,
            right=row.right,
            since=_day(row.since, visitor),
            is_me=row.account_id == visitor.account,
        )
        for row in rows[:MOST_MEMBERS]
    )


def _invitations(visitor: Visitor, at: datetime) -> tuple[InvitationShown, ...]:
    rows = open_invitations(visitor.studio, at=at)[:MOST_OPEN]
    return tuple(
        InvitationShown(row.pk, row.email, row.right, _day(row.expires_at, visitor)) for row in rows
    )


def _day(at: datetime, visitor: Visitor) -> str:
    day = at.astimezone(ZoneInfo(visitor.studio.zone)).date()
    return say("{day} {year}", day=day_in_words(day), year=day.year)
