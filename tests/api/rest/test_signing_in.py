"""What a browser writes comes from our own pages, and a program needs none of that."""

from __future__ import annotations

import pytest
from django.test import Client, override_settings
from django.urls import include, path
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.rights import Right
from inventory.models import Studio
from tests.api.members import bearer, member, signed_in

FORM_TOKEN = "x" * 32


class Slate(APIView):
    """Something that a helper writes on."""

    least_to_write = Right.HELPER

    def get(self, request: Request) -> Response:
        return Response({"said": "read"})

    def post(self, request: Request) -> Response:
        return Response({"said": "written"})


urlpatterns = [path("api/slate/", Slate.as_view()), path("", include("api.urls"))]
pytestmark = pytest.mark.urls(__name__)


@pytest.fixture
def yard(db: None) -> Studio:
    return Studio.objects.create(name="Pellitory Yard", zone="Europe/London")


def _write(client: Client, **headers: str) -> tuple[int, str]:
    answer = client.post("/api/slate/", {}, content_type="application/json", headers=headers)
    return answer.status_code, answer.json().get("code") or answer.json()["said"]


def test_a_session_writes_with_the_token_of_our_forms_only(yard: Studio) -> None:
    client = signed_in(member(yard, Right.HELPER), enforces=True)

    assert client.get("/api/slate/").status_code == 200
    assert _write(client) == (403, "from_elsewhere")
    client.cookies["csrftoken"] = FORM_TOKEN
    assert _write(client, **{"X-CSRFToken": "y" * 32}) == (403, "from_elsewhere")
    assert _write(client, **{"X-CSRFToken": FORM_TOKEN}) == (200, "written")
    elsewhere = {"X-CSRFToken": FORM_TOKEN, "Origin": "https://elsewhere.example"}
    assert _write(client, **elsewhere) == (403, "from_elsewhere")


def test_a_program_writes_with_its_token_alone(yard: Studio) -> None:
    client = Client(enforce_csrf_checks=True)
    who = member(yard, Right.HELPER)

    assert _write(client, Authorization=bearer(who)) == (200, "written")
    assert _write(client, Authorization=bearer(who, reads_only=True)) == (403, "token_reads_only")


def test_whoever_may_only_look_on_reads_and_writes_nothing(yard: Studio) -> None:
    client = signed_in(member(yard, Right.LOOKER_ON))

    assert client.get("/api/slate/").status_code == 200
    assert _write(client) == (403, "no_right")


def test_in_an_open_house_the_pages_of_others_write_nothing(yard: Studio) -> None:
    client = Client(enforce_csrf_checks=True)

    assert _write(client) == (200, "written")
    assert _write(client, Origin="http://testserver") == (200, "written")
    assert _write(client, Origin="https://elsewhere.example") == (403, "from_elsewhere")
    assert _write(client, Origin="null") == (403, "from_elsewhere")


def test_a_stranger_is_asked_who_he_is_before_anything_else(yard: Studio) -> None:
    with override_settings(THIS_MACHINE_ONLY=False):
        assert _write(Client(enforce_csrf_checks=True)) == (401, "not_signed_in")
