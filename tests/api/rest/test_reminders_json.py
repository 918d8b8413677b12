"""Reminders as JSON: who is told what; whole addresses are for the owner only."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client

from api.rights import Right
from inventory.models import Studio
from tests.api.members import bearer, member
from tests.api.web.yard import MONDAY
from tests.loaded import load_fixture

pytestmark = pytest.mark.django_db
ADDRESS = "dyer@pellitory-yard.example"


@pytest.fixture(autouse=True)
def studio() -> Studio:
    load_fixture()
    return Studio.objects.get()


def asked(right: Right, studio: Studio, **words: str) -> dict[str, Any]:
    token = bearer(member(studio, right, f"{right.name.lower()}@pellitory.example"))
    answer = Client().get(
        "/api/v1/reminders/", {"at": MONDAY, **words}, headers={"authorization": token}
    )
    assert answer.status_code == 200, answer.json()
    found: dict[str, Any] = answer.json()
    return found


def test_the_next_letters_and_their_readers_are_told(studio: Studio) -> None:
    found = asked(Right.OWNER, studio)

    assert found["next"][0] == {
        "at": "2026-11-23T07:30:00+00:00",
        "until": "2026-11-23T21:00:00+00:00",
        "kind": "last good day",
        "subject": "AV-1116 (avocado stones): last good day Mon 23 Nov",
        "reader": "dyer",
        "to": ADDRESS,
    }
    assert found["next_left_out"] == 0
    cafe = next(row for row in found["readers"] if row["source"])
    assert (cafe["name"], cafe["kinds"]) == (
        "Lantern Steps café",
        [{"kind": "day before", "goes": True}],
    )


@pytest.mark.parametrize("right", Right)
def test_an_address_stands_whole_for_the_owner_only(right: Right, studio: Studio) -> None:
    found = asked(right, studio)
    to = [row["to"] for row in (*found["next"], *found["readers"])]

    assert found["whole_addresses"] == (right is Right.OWNER)
    if right is Right.OWNER:
        assert ADDRESS in to
    else:
        assert all("…@" in address for address in to)


def test_fewer_days_have_fewer_letters(studio: Studio) -> None:
    week, day = (asked(right, studio, days=days)["next"] for right, days in
                 ((Right.DYER, "7"), (Right.HELPER, "1")))  # fmt: skip

    assert 0 < len(day) < len(week)
    assert day == week[: len(day)]
