"""A day offline comes in at once, in any order; nothing of it is dropped, nothing counts twice."""

from __future__ import annotations

import itertools
import uuid
from typing import Any

import pytest
from django.test import Client

from api.models import Entry
from inventory.models import Posting, Studio
from tests.api.entries.larder import enter, send

pytestmark = pytest.mark.usefixtures("yard")

RECEIVE = {
    "verb": "receive", "lot": "NE-2", "what": "nettle", "amount": "40 g", "state": "fresh",
    "place": {"kind": "bench"}, "occurred_at": "2026-11-23T08:00+00:00",
}  # fmt: skip
DRAW = {"verb": "draw", "takes": [{"lot": "NE-2", "amount": "30 g"}],
        "occurred_at": "2026-11-23T08:10+00:00"}  # fmt: skip
LABEL = {"verb": "label", "lot": "NE-2", "occurred_at": "2026-11-23T08:20+00:00"}


@pytest.mark.parametrize("order", list(itertools.permutations((RECEIVE, DRAW, LABEL))))
def test_entries_come_in_any_order(client: Client, order: tuple[dict[str, Any], ...]) -> None:
    answers = send(client, *order).json()["answers"]

    assert [row["status"] for row in answers] == [201, 201, 201]
    assert [row["entry"]["verb"] for row in answers] == [entry["verb"] for entry in order]


def test_one_that_happened_before_what_it_needs_by_its_clock_waits_for_it(client: Client) -> None:
    early = {**DRAW, "occurred_at": "2026-11-23T08:00+00:00"}

    answers = send(client, early, RECEIVE).json()["answers"]

    assert [row["status"] for row in answers] == [201, 201]


def test_of_two_phones_that_drew_the_same_last_grams_one_needs_a_look(client: Client) -> None:
    send(client, RECEIVE)

    first = send(client, DRAW).json()["answers"][0]
    second = send(client, DRAW).json()["answers"][0]

    assert (first["status"], second["status"]) == (201, 202)
    entry = second["entry"]
    assert entry["state"] == "needs a look"
    assert entry["problem"]["code"] == "not_enough"
    assert "30 g asked for, 10 g left" in entry["problem"]["detail"]
    assert entry["understood"][0]["amount"] == "30"
    waiting = client.get("/api/v1/entries/", {"state": "needs a look"}).json()["entries"]
    assert [row["id"] for row in waiting] == [entry["id"]]


def test_a_batch_again_gets_every_first_answer(client: Client) -> None:
    ids = [str(uuid.uuid4()) for _ in range(3)]
    too_much = {**DRAW, "takes": [{"lot": "NE-2", "amount": "41 g"}]}
    bodies = [{**body, "id": own} for body, own in zip((RECEIVE, DRAW, too_much), ids, strict=True)]

    first = send(client, *bodies).json()["answers"]
    before = Posting.objects.of(Studio.objects.get()).count()
    again = send(client, *bodies).json()["answers"]

    assert [row["status"] for row in first] == [201, 201, 202]
    assert [row["again"] for row in again] == [True, True, True]
    assert [row["entry"] for row in again] == [row["entry"] for row in first]
    assert Posting.objects.of(Studio.objects.get()).count() == before


def test_each_is_answered_on_its_own(client: Client) -> None:
    strange = {"verb": "bake", "lot": "AV-1116"}
    broken = {"verb": "dip", "jar": "J2", "grade": "four"}

    answers = send(client, strange, broken, RECEIVE).json()["answers"]

    assert [row["status"] for row in answers] == [404, 400, 201]
    assert answers[0]["problem"]["code"] == "no_such_verb"
    assert answers[1]["problem"]["errors"][0]["pointer"] == "/grade"


def test_a_batch_of_none_or_too_many_is_refused_whole(client: Client) -> None:
    none, many = send(client), send(client, *([LABEL] * 201))

    assert (none.status_code, many.status_code) == (400, 400)
    assert Entry.objects.of(Studio.objects.get()).count() == 0


def test_what_needed_a_look_is_recorded_after_all_with_less(client: Client) -> None:
    send(client, RECEIVE, DRAW)
    kept = send(client, DRAW).json()["answers"][0]["entry"]
    settle = f"/api/v1/entries/{kept['id']}/settle/"

    still = client.post(settle, {"how": "record"}, content_type="application/json")
    done = client.post(
        settle,
        {"how": "record", "instead": {"takes": [{"lot": "NE-2", "amount": "10 g"}]}},
        content_type="application/json",
    )
    again = client.post(settle, {"how": "record"}, content_type="application/json")

    assert still.status_code == 409
    assert (done.status_code, done.json()["state"]) == (200, "recorded")
    assert done.json()["moved"][0]["left"]["amount"] == "0"
    assert done.json()["occurred_at"] == kept["occurred_at"]
    assert (again.status_code, again.json()["code"]) == (409, "nothing_to_settle")


def test_what_needed_a_look_is_let_go_and_stays_on_record(client: Client) -> None:
    send(client, RECEIVE, DRAW)
    kept = send(client, DRAW).json()["answers"][0]["entry"]

    done = client.post(
        f"/api/v1/entries/{kept['id']}/settle/",
        {"how": "let go", "note": "both of us wrote it down"},
        content_type="application/json",
    )

    assert done.json()["state"] == "let go"
    assert done.json()["problem"]["code"] == "not_enough"
    row = Entry.objects.of(Studio.objects.get()).get(entry=kept["id"])
    assert row.settled_note == "both of us wrote it down"


def test_entries_are_listed_newest_first_and_turn_the_page_while_more_come(client: Client) -> None:
    for grade in (1, 2, 3, 4, 5):
        enter(client, "dip", jar="J2", grade=grade, occurred_at=f"2026-11-23T08:0{grade}+00:00")

    first = client.get("/api/v1/entries/", {"limit": 2}).json()
    enter(client, "dip", jar="J3", grade=1)
    second = client.get(first["next"]).json()
    third = client.get(second["next"]).json()

    found = [*first["entries"], *second["entries"], *third["entries"]]
    assert [row["occurred_at"][15] for row in found] == ["5", "4", "3", "2", "1"]
    assert third["next"] is None
