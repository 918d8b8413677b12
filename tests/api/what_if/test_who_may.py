"""Whoever may look at a week may ask what it would be; nobody else hears anything."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.test import Client

from api.rights import Right
from inventory.models import Studio
from tests.api.members import bearer, member
from tests.api.what_if.asking import MONDAY, WEEK

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("yard")]
BODY = {"at": MONDAY, "days": 1, "changes": [{"change": "run left out", "run": "A"}]}


def asked(who: str = "", **words: str) -> tuple[int, dict[str, Any]]:
    headers = {"authorization": who} if who else {}
    answer = Client(headers=headers).post(
        WEEK, json.dumps(BODY), content_type="application/json", query_params=words
    )
    return answer.status_code, answer.json()


def test_a_looker_on_may_ask_even_with_a_token_that_only_reads() -> None:
    looker = member(Studio.objects.get(name="Pellitory Yard"), Right.LOOKER_ON)

    for token in (bearer(looker), bearer(looker, reads_only=True)):
        status, answer = asked(token)

        assert status == 200
        assert answer["studio"] == "Pellitory Yard"


def test_whoever_is_not_signed_in_or_belongs_elsewhere_hears_nothing() -> None:
    other = Studio.objects.create(name="Kelpwick Loft", zone="Europe/London", country="GB")
    stranger = bearer(member(other))

    assert asked()[0] == 401
    assert asked(stranger, studio="Pellitory Yard")[0] == 404
    assert asked(stranger)[1]["errors"] == [
        {"pointer": "/changes/0/run", "detail": "No run is called A here. There is none."}
    ]
