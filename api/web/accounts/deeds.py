"""What the buttons on the page of one's account do; each is one verb, under its name."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

from django.http import HttpRequest
from django.urls import reverse

from api.asker import asker_of, begin_own_studio, membership_of
from api.calendar_links import end_calendar, make_calendar
from api.invitations import end_invitation, invite
from api.members import change_right, end_membership, member_of
from api.rest.members import link_of, whole_address
from api.rest.tokens import whose
from api.rights import RIGHTS, Right
from api.tokens import end_token, make_token
from api.visitor import visitor_of
from api.web.accounts.shown import Secret
from inventory.science.saying import say

DAYS = (7, 30, 90, 180, 365)  # for which a token is good


class NotPressed(ValueError):
    """A form that no button of ours sends."""


def make_token_by(request: HttpRequest, at: datetime) -> Secret:
    """A token, to be shown once."""
    visitor = visitor_of(request)
    days = _number(request, "days")
    if days not in DAYS:
        raise NotPressed
    row, secret = make_token(
        membership_of(visitor),
        name=request.POST.get("name", ""),
        right=_right(request),
        until=at + timedelta(days=days),
        at=at,
        reads_only="reads_only" in request.POST,
    )
    return Secret(
        say("The token “{name}”", name=row.name), secret, say("Give it to the program now.")
    )


def end_token_by(request: HttpRequest, at: datetime) -> None:
    """A token opens nothing any more."""
    visitor = visitor_of(request)
    end_token(visitor.studio, _number(request, "token"), at=at, account=whose(visitor))


def change_member_by(request: HttpRequest, at: datetime) -> None:
    """Another right for a member."""
    visitor = visitor_of(request, least=Right.OWNER)
    change_right(member_of(visitor.studio, _number(request, "member")), _right(request))


def end_member_by(request: HttpRequest, at: datetime) -> None:
    """A member no more: by an owner, or by oneself."""
    visitor = visitor_of(request)
    row = member_of(visitor.studio, _number(request, "member"))
    if row.account_id != visitor.account:
        visitor_of(request, least=Right.OWNER)
    end_membership(row, at=at)


def invite_by(request: HttpRequest, at: datetime) -> Secret:
    """A link for somebody, to be shown once."""
    visitor = visitor_of(request, least=Right.OWNER)
    row, secret = invite(
        membership_of(visitor), email=request.POST.get("email", ""), right=_right(request), at=at
    )
    return Secret(
        say("The invitation for {email}", email=row.email),
        link_of(request, secret),
        say("Send it to them; it is good once, for seven days."),
    )


def end_invitation_by(request: HttpRequest, at: datetime) -> None:
    """A link is good no longer."""
    visitor = visitor_of(request, least=Right.OWNER)
    end_invitation(visitor.studio, _number(request, "invitation"), at=at)


def make_calendar_by(request: HttpRequest, at: datetime) -> Secret:
    """A link to the calendar, to be shown once; the one before it ends."""
    secret = make_calendar(membership_of(visitor_of(request)), at=at)
    return Secret(
        say("The link to the calendar"),
        whole_address(request, reverse("calendar", args=[secret])),
        say("Give it to the calendar on your phone or desk, as one to subscribe to."),
    )


def end_calendar_by(request: HttpRequest, at: datetime) -> None:
    """The link to the calendar opens nothing any more."""
    end_calendar(membership_of(visitor_of(request)), at=at)


def begin_studio_by(request: HttpRequest, at: datetime) -> None:
    """A studio of one's own."""
    name, zone = request.POST.get("name", ""), request.POST.get("zone", "")
    begin_own_studio(asker_of(request), name=name.strip(), zone=zone, currency="GBP", at=at)


DEEDS: dict[str, Callable[[HttpRequest, datetime], Secret | None]] = {
    "make-token": make_token_by,
    "end-token": end_token_by,
    "change-member": change_member_by,
    "end-member": end_member_by,
    "invite": invite_by,
    "end-invitation": end_invitation_by,
    "make-calendar": make_calendar_by,
    "end-calendar": end_calendar_by,
    "begin-studio": begin_studio_by,
}


def _right(request: HttpRequest) -> Right:
    said = request.POST.get("right", "")
    if said not in RIGHTS:
        raise NotPressed
    return Right(said)


def _number(request: HttpRequest, name: str) -> int:
    said = request.POST.get(name, "")
    if not said.isascii() or not said.isdecimal() or len(said) > 18:
        raise NotPressed
    return int(said)
