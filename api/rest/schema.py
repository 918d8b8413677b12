"""The contract with programs as it is committed, and the address that serves it.

Open to everyone: it says how to ask, holds nothing of any studio, and whoever writes a program
needs it before they have a token.
"""

from __future__ import annotations

from functools import cache
from hashlib import sha256
from pathlib import Path

from django.http import HttpResponse
from rest_framework.request import Request
from rest_framework.views import APIView

from api.asked import shown
from api.rest.contract import said
from api.rest.errors import UnknownParameter
from inventory.science.saying import say

COMMITTED = Path(__file__).resolve().parent.parent / "openapi.json"


class SchemaView(APIView):
    """GET: everything that programs may count on, as OpenAPI 3.1."""

    @said(
        "schema",
        summary="This contract",
        tag="schema",
        answer={"type": "object", "required": ["openapi", "info", "paths"]},
        example={"openapi": "3.1.1", "info": {"title": "Dye Larder", "version": "1"}, "paths": {}},
        errors=(400,),
        open=True,
        fresh=True,
    )
    def get(self, request: Request) -> HttpResponse:
        for name in request.query_params:
            detail = say(
                "The contract is the same whatever is asked; leave {name} out.", name=shown(name)
            )
            raise UnknownParameter(name[:60], "", detail)
        body, etag = _kept()
        headers = {"ETag": etag, "Cache-Control": "public, max-age=300"}
        return HttpResponse(body, content_type="application/json", headers=headers)


@cache
def _kept() -> tuple[bytes, str]:
    body = COMMITTED.read_bytes()
    return body, f'"{sha256(body).hexdigest()[:32]}"'
