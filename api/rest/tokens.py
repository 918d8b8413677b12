"""Tokens for programs: those that there are, a new one, and the end of one."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.utils import timezone
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.asker import membership_of
from api.contract.shapes import DAY, MOMENT, TEXT, WHOLE, YES, about, maybe, one_of, record, rows
from api.contract.shapes import taken as body_of
from api.entries.fields import Moment, Said, Words, Yes
from api.models import ProgramToken
from api.question import check_words
from api.rest.bodies import read_body
from api.rest.conditional import answered
from api.rest.contract import STUDIO, said
from api.rights import RIGHTS, Right
from api.tokens import MOST_TOKENS, end_token, make_token, tokens_of
from api.visitor import Visitor, visitor_of

RIGHT = one_of(*RIGHTS)
TOKEN = {
    "id": WHOLE,
    "name": TEXT,
    "member": about(TEXT, "Whose it is."),
    "right": RIGHT,
    "reads_only": YES,
    "made_at": MOMENT,
    "expires_at": MOMENT,
    "last_used_on": maybe(DAY),
}
SHOWN = {
    "id": 7,
    "name": "kitchen scale",
    "member": "Ada",
    "right": "helper",
    "reads_only": False,
    "made_at": "2026-11-01T09:00:00+00:00",
    "expires_at": "2027-11-01T09:00:00+00:00",
    "last_used_on": "2026-11-23",
}


class TokenSaid(Said):
    """A token that is asked for."""

    name = Words(most=80, help_text="which program or thing it is for")
    right = serializers.ChoiceField(RIGHTS)
    expires_at = Moment(help_text="good until then; at most a year from now")
    reads_only = Yes(required=False, default=False)


class TokensView(APIView):
    """GET: the tokens of the studio that were not ended. POST: a new one."""

    least_to_write = Right.LOOKER_ON  # A token never may more than its member.

    @said(
        "tokens",
        summary="Tokens of programs: one's own, or for an owner those of the whole studio",
        asks=(STUDIO,),
        answer=record(tokens=rows(record(**TOKEN), at_most=MOST_TOKENS)),
        example={"tokens": [SHOWN]},
        fresh=True,
    )
    def get(self, request: Request) -> HttpResponse:
        check_words(request.query_params, ("studio",), what="The list of tokens")
        visitor = visitor_of(request)
        found = tokens_of(visitor.studio, account=whose(visitor)).order_by("-pk")
        return answered(request, {"tokens": [_said(row) for row in found[:MOST_TOKENS]]})

    @said(
        "make_token",
        summary="Make a token for a program",
        about="`token` is shown in this answer and never again. It may at most what its member "
        "may, whatever right it was made with. A token makes only tokens that may no more and are "
        "good no longer than itself.",
        asks=(STUDIO,),
        body=body_of(
            ("reads_only",),
            name={**TEXT, "minLength": 1, "maxLength": 80},
            right=RIGHT,
            expires_at=MOMENT,
            reads_only={**YES, "default": False},
        ),
        body_example={
            "name": "kitchen scale",
            "right": "helper",
            "expires_at": "2027-11-01T09:00:00+00:00",
        },
        answer=record(**TOKEN, token=about(TEXT, "What the program sends; begins with dyl_.")),
        example={**SHOWN, "last_used_on": None, "token": "dyl_…"},
        status=201,
        errors=(409, 422),
    )
    def post(self, request: Request) -> Response:
        check_words(request.query_params, ("studio",), what="A token")
        visitor = visitor_of(request)
        member, body = membership_of(visitor), read_body(TokenSaid, request, visitor.studio)
        by = tokens_of(visitor.studio).get(pk=visitor.token) if visitor.token else None
        row, secret = make_token(
            member,
            name=body["name"],
            right=Right(body["right"]),
            until=body["expires_at"],
            at=timezone.now(),
            reads_only=body["reads_only"],
            by=by,
        )
        return _once({**_said(row), "token": secret})


class TokenView(APIView):
    """DELETE: a token ends."""

    least_to_write = Right.LOOKER_ON

    @said(
        "end_token",
        summary="End a token: it opens nothing any more",
        about="One's own; an owner ends any of the studio's. A token may end itself.",
        asks=(STUDIO,),
        status=204,
        errors=(400,),
    )
    def delete(self, request: Request, token: int) -> Response:
        check_words(request.query_params, ("studio",), what="A token")
        visitor = visitor_of(request)
        end_token(visitor.studio, token, at=timezone.now(), account=whose(visitor))
        return Response(status=204)


def whose(visitor: Visitor) -> int | None:
    """Of whose account somebody may see and end the tokens; None: of everybody's."""
    return None if visitor.right is Right.OWNER else visitor.account


def _said(row: ProgramToken) -> dict[str, Any]:
    return {
        "id": row.pk,
        "name": row.name,
        "member": row.membership.account.name,
        "right": row.right,
        "reads_only": row.reads_only,
        "made_at": row.made_at.isoformat(timespec="seconds"),
        "expires_at": row.expires_at.isoformat(timespec="seconds"),
        "last_used_on": row.last_used_on and row.last_used_on.isoformat(),
    }


def _once(found: dict[str, Any]) -> Response:
    """An answer with a secret, which nothing in between is to keep."""
    return Response(found, status=201, headers={"Cache-Control": "no-store"})
