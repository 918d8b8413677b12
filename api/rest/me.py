"""Who am I, where do I belong; and a studio of one's own."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.utils import timezone
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.asked import studio_name
from api.asker import Asker, asker_of, begin_own_studio
from api.contract.shapes import MOMENT, TEXT, YES, about, maybe, one_of, record, rows, taken
from api.entries.fields import Said, Words, unclear
from api.question import check_words
from api.rest.bodies import read_body
from api.rest.conditional import answered
from api.rest.contract import said
from api.rest.signing_in import Known
from api.rights import RIGHTS
from inventory.science.saying import say

RIGHT = one_of(*RIGHTS)
PLACE = record(studio=TEXT, right=RIGHT)
ME = record(
    account=about(
        maybe(record(name=TEXT, email=TEXT)),
        "Null where nobody has an account and this machine is the owner's.",
    ),
    token=about(
        maybe(record(name=TEXT, right=RIGHT, reads_only=YES, expires_at=MOMENT)),
        "The token that was shown; null for whoever is signed in.",
    ),
    studios=about(rows(PLACE), "With a token the one that it is for."),
)
ME_SHOWN = {
    "account": {"name": "Ada", "email": "ada@pellitory.example"},
    "token": {
        "name": "kitchen scale",
        "right": "helper",
        "reads_only": False,
        "expires_at": "2027-11-01T09:00:00+00:00",
    },
    "studios": [{"studio": "Pellitory Yard", "right": "owner"}],
}


class MeView(APIView):
    """GET: whoever asks, with their studios."""

    permission_classes = (Known,)

    @said(
        "me",
        summary="Who asks, with their studios and the right in each",
        tag="me",
        answer=ME,
        example=ME_SHOWN,
        errors=(400,),
        fresh=True,
    )
    def get(self, request: Request) -> HttpResponse:
        check_words(request.query_params, (), what="Who asks")
        return answered(request, _me(asker_of(request)))


class StudioSaid(Said):
    """A studio of one's own."""

    name = Words(most=120)
    zone = Words(most=64, help_text="its clock, such as Europe/London")
    currency = Words(most=3, min_length=3, required=False, default="GBP")

    def validate_name(self, name: str) -> str:
        if studio_name(name) is None:
            raise unclear(say("Write the name on one line."))
        return name


class StudiosView(APIView):
    """POST: a studio of one's own begins."""

    permission_classes = (Known,)

    @said(
        "begin_studio",
        summary="Begin a studio of one's own, with nothing on its shelves",
        about="Whoever begins it is its owner. Only somebody who is signed in may: a token is for "
        "one studio.",
        tag="studios",
        body=taken(
            ("currency",),
            name={**TEXT, "minLength": 1, "maxLength": 120},
            zone={**TEXT, "minLength": 1, "maxLength": 64},
            currency={**TEXT, "minLength": 3, "maxLength": 3, "default": "GBP"},
        ),
        body_example={"name": "Quillet Barn", "zone": "Europe/London"},
        answer=PLACE,
        example={"studio": "Quillet Barn", "right": "owner"},
        status=201,
        errors=(409, 422),
    )
    def post(self, request: Request) -> Response:
        check_words(request.query_params, (), what="A studio of one's own")
        asker = asker_of(request)
        body = read_body(StudioSaid, request)
        row = begin_own_studio(asker, **body, at=timezone.now())
        return Response({"studio": row.studio.name, "right": row.right}, status=201)


def _me(asker: Asker) -> dict[str, Any]:
    account, token = asker.account, asker.token
    return {
        "account": account and {"name": account.name, "email": account.email},
        "token": token
        and {
            "name": token.name,
            "right": token.right,
            "reads_only": token.reads_only,
            "expires_at": token.expires_at.isoformat(timespec="seconds"),
        },
        "studios": [{"studio": studio.name, "right": right} for studio, right in asker.studios],
    }
