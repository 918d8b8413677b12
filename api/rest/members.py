"""Members of a studio and invitations to it, for its owners."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import transaction
from django.http import HttpResponse
from django.urls import reverse
from django.utils import timezone
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.asker import membership_of
from api.contract.shapes import MOMENT, TEXT, WHOLE, about, one_of, record, rows
from api.contract.shapes import taken as body_of
from api.entries.allowed import must
from api.entries.fields import Said, Words
from api.invitations import MOST_OPEN, end_invitation, invite, open_invitations
from api.members import MOST_MEMBERS, change_right, end_membership, member_of, members_of
from api.models import Invitation, Membership
from api.question import check_words
from api.rest.bodies import read_body
from api.rest.conditional import answered, check_change, tag_of
from api.rest.contract import STUDIO, said
from api.rights import RIGHTS, Right
from api.visitor import visitor_of

RIGHT = one_of(*RIGHTS)
MEMBER = record(id=WHOLE, name=TEXT, email=TEXT, right=RIGHT, since=MOMENT)
SHOWN = {
    "id": 3,
    "name": "Ben",
    "email": "ben@pellitory.example",
    "right": "dyer",
    "since": "2026-11-01T09:00:00+00:00",
}
INVITATION = {"id": WHOLE, "email": TEXT, "right": RIGHT, "made_at": MOMENT, "expires_at": MOMENT}
INVITATION_SHOWN = {
    "id": 5,
    "email": "cal@pellitory.example",
    "right": "helper",
    "made_at": "2026-11-23T09:00:00+00:00",
    "expires_at": "2026-11-30T09:00:00+00:00",
}


class RightSaid(Said):
    """Another right."""

    right = serializers.ChoiceField(RIGHTS)


class InvitationSaid(Said):
    """Somebody to be let in."""

    email = Words(most=254)
    right = serializers.ChoiceField(RIGHTS)


class MembersView(APIView):
    """GET: the members of a studio."""

    least = Right.OWNER

    @said(
        "members",
        summary="The members of the studio with the right of each, for an owner",
        asks=(STUDIO,),
        answer=record(members=rows(MEMBER, at_most=MOST_MEMBERS)),
        example={"members": [SHOWN]},
        fresh=True,
    )
    def get(self, request: Request) -> HttpResponse:
        check_words(request.query_params, ("studio",), what="The list of members")
        found = members_of(visitor_of(request).studio).select_related("account")
        return answered(request, {"members": [_member(row) for row in found[:MOST_MEMBERS]]})


class MemberView(APIView):
    """GET: one member. PATCH: another right. DELETE: a member no more."""

    least_to_write = Right.LOOKER_ON  # Whoever wants to leave may.

    @said(
        "member",
        summary="One member of the studio, for an owner",
        asks=(STUDIO,),
        answer=MEMBER,
        example=SHOWN,
        errors=(400,),
        fresh=True,
    )
    def get(self, request: Request, member: int) -> HttpResponse:
        check_words(request.query_params, ("studio",), what="A member")
        visitor = visitor_of(request)
        row = member_of(visitor.studio, member)
        if row.account_id != visitor.account:
            must(visitor, Right.OWNER)
        return answered(request, _member(row), tag=_tag(row))

    @said(
        "change_member",
        summary="Give a member another right, for an owner",
        about="The last owner of a studio stays one.",
        asks=(STUDIO,),
        body=body_of(right=RIGHT),
        body_example={"right": "dyer"},
        answer=MEMBER,
        example=SHOWN,
        errors=(409,),
        guarded=True,
    )
    def patch(self, request: Request, member: int) -> HttpResponse:
        check_words(request.query_params, ("studio",), what="A member")
        visitor = visitor_of(request, least=Right.OWNER)
        body = read_body(RightSaid, request)
        with transaction.atomic():
            row = member_of(visitor.studio, member, lock=True)
            check_change(request, _tag(row))
            change_right(row, Right(body["right"]))
        return Response(_member(row), headers={"ETag": _tag(row)})

    @said(
        "end_membership",
        summary="End a membership: one's own, or for an owner any",
        about="The tokens of the member for this studio end with it. The last owner stays.",
        asks=(STUDIO,),
        status=204,
        errors=(400, 409),
        guarded=True,
    )
    def delete(self, request: Request, member: int) -> Response:
        check_words(request.query_params, ("studio",), what="A member")
        visitor = visitor_of(request)
        with transaction.atomic():
            row = member_of(visitor.studio, member, lock=True)
            if row.account_id != visitor.account:
                must(visitor, Right.OWNER)
            check_change(request, _tag(row))
            end_membership(row, at=timezone.now())
        return Response(status=204)


class InvitationsView(APIView):
    """GET: invitations that are open. POST: a new one."""

    least = Right.OWNER

    @said(
        "invitations",
        summary="Open invitations to the studio, for an owner",
        asks=(STUDIO,),
        answer=record(invitations=rows(record(**INVITATION), at_most=MOST_OPEN)),
        example={"invitations": [INVITATION_SHOWN]},
        fresh=True,
    )
    def get(self, request: Request) -> HttpResponse:
        check_words(request.query_params, ("studio",), what="The list of invitations")
        found = open_invitations(visitor_of(request).studio, at=timezone.now())
        rows = [_invitation(row) for row in found[:MOST_OPEN]]
        return answered(request, {"invitations": rows})

    @said(
        "invite",
        summary="Invite somebody to the studio, for an owner",
        about="`link` is shown in this answer and never again; hand it on yourself. It is good "
        "once, for seven days, and for as long as you are an owner.",
        asks=(STUDIO,),
        body=body_of(email={**TEXT, "minLength": 1, "maxLength": 254}, right=RIGHT),
        body_example={"email": "cal@pellitory.example", "right": "helper"},
        answer=record(**INVITATION, link=about(TEXT, "Where somebody joins.")),
        example={**INVITATION_SHOWN, "link": "https://larder.example/join/…/"},
        status=201,
        errors=(409, 422),
    )
    def post(self, request: Request) -> Response:
        check_words(request.query_params, ("studio",), what="An invitation")
        visitor = visitor_of(request, least=Right.OWNER)
        by, body = membership_of(visitor), read_body(InvitationSaid, request)
        right = Right(body["right"])
        row, secret = invite(by, email=body["email"], right=right, at=timezone.now())
        return Response(
            {**_invitation(row), "link": link_of(request, secret)},
            status=201,
            headers={"Cache-Control": "no-store"},
        )


class InvitationView(APIView):
    """DELETE: an invitation ends."""

    least = Right.OWNER

    @said(
        "end_invitation",
        summary="End an invitation: its link is good no longer",
        asks=(STUDIO,),
        status=204,
        errors=(400,),
    )
    def delete(self, request: Request, invitation: int) -> Response:
        check_words(request.query_params, ("studio",), what="An invitation")
        visitor = visitor_of(request, least=Right.OWNER)
        end_invitation(visitor.studio, invitation, at=timezone.now())
        return Response(status=204)


def link_of(request: Any, secret: str) -> str:
    """The whole address behind an invitation."""
    return whole_address(request, reverse("join", args=[secret]))


def whole_address(request: Any, path: str) -> str:
    """An address as readers reach the service."""
    return (
        f"{settings.ADDRESS}{path}" if settings.ADDRESS else str(request.build_absolute_uri(path))
    )


def _tag(row: Membership) -> str:
    return tag_of(row.pk, row.right, row.since, row.ended_at)


def _member(row: Membership) -> dict[str, Any]:
    return {
        "id": row.pk,
        "name": row.account.name,
        "email": row.account.email,
        "right": row.right,
        "since": row.since.isoformat(timespec="seconds"),
    }


def _invitation(row: Invitation) -> dict[str, Any]:
    return {
        "id": row.pk,
        "email": row.email,
        "right": row.right,
        "made_at": row.made_at.isoformat(timespec="seconds"),
        "expires_at": row.expires_at.isoformat(timespec="seconds"),
    }
