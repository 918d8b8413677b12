"""Another week for programs: asked for once, seen as it goes on, stopped, left, taken."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any
from uuid import uuid4

import pytest
from django.db import transaction
from django.test import Client

from api.models.seeks import Seek
from api.seeking import work as working
from inventory.models import Studio
from sourcing.models import TakenWeek
from sourcing.week.best import Effort
from tests.api.web.yard import MONDAY, load

ADDRESS = "/api/v1/another-week/"


@pytest.fixture(scope="module")
def loaded(django_db_setup: None, django_db_blocker: Any) -> Iterator[Studio]:
    with django_db_blocker.unblock(), transaction.atomic():
        load()
        yield Studio.objects.get()
        transaction.set_rollback(True)


@pytest.fixture
def studio(loaded: Studio, db: None, monkeypatch: pytest.MonkeyPatch) -> Studio:
    whole = working.best

    def short(*facts: Any, **how: Any) -> Any:
        return whole(*facts, **{**how, "effort": Effort(placings=1_500, solver=0.5)})

    monkeypatch.setattr(working, "best", short)
    return loaded


def ask(client: Client, **said: Any) -> Any:
    body = {"id": str(uuid4()), "at": "2026-11-23T07:30:00+00:00", **said}
    return client.post(ADDRESS, body, content_type="application/json")


def last(client: Client) -> Any:
    return client.get(ADDRESS, {"at": MONDAY}).json()["search"]


def test_nothing_was_looked_for_yet(client: Client, studio: Studio) -> None:
    assert last(client) is None


def test_asked_twice_it_is_one_search(client: Client, studio: Studio) -> None:
    first = ask(client)
    again = ask(client, id=first.json()["search"]["id"])

    assert (first.status_code, again.status_code) == (202, 202)
    assert first.json() == again.json()
    assert first.json()["search"]["state"] == "waiting"
    assert Seek.objects.of(studio).count() == 1


def test_what_was_found_is_taken_by_its_own_words(client: Client, studio: Studio) -> None:
    ask(client)
    working.work(Seek.objects.of(studio).get().pk)

    search = last(client)
    found = search["found"]
    body = {"id": str(uuid4()), "occurred_at": "2026-11-23T07:35:00+00:00",
            "until": "2026-11-30T00:00:00+00:00",
            **{name: found[name] for name in ("order", "waits", "sites", "together")}}  # fmt: skip
    taken = client.post("/api/v1/entries/take-week/", body, content_type="application/json")

    assert search["changes"]
    assert {row["kind"] for row in search["changes"]} <= {"better", "worse", "otherwise"}
    assert taken.status_code == 201, taken.content
    assert TakenWeek.objects.of(studio).get().order == found["order"]
    after = client.get(ADDRESS, {"at": "2026-11-23T07:40"}).json()["search"]
    assert after["changes"] == [], "it is the week as it is by now"


def test_it_is_stopped_or_left_as_often_as_it_is_said(client: Client, studio: Studio) -> None:
    one = f"{ADDRESS}{ask(client).json()['search']['id']}/"

    assert client.delete(one).status_code == 204
    assert last(client)["stopping"]
    working.work(Seek.objects.of(studio).get().pk)
    assert (client.delete(one).status_code, client.delete(one).status_code) == (204, 204)

    assert (last(client)["state"], last(client)["settled"]) == ("found", "left")


def test_what_there_is_not_is_said(client: Client, studio: Studio) -> None:
    gone = client.delete(f"{ADDRESS}018f3c1e-7c1a-7000-8000-5a1d0f4c2b77/")
    wrong = ask(client, stays=["Z"])
    long = ask(client, days=29)

    assert (gone.status_code, gone.json()["code"]) == (404, "no_such_search")
    assert (wrong.status_code, wrong.json()["code"]) == (404, "no_such_run")
    assert long.status_code == 400
    assert not Seek.objects.of(studio).exists()


def test_a_single_step_stays_at_its_hour(client: Client, studio: Studio) -> None:
    ask(client, steps=[{"run": "C", "step": "extract"}])
    working.work(Seek.objects.of(studio).get().pk)

    search = last(client)

    assert search["steps"] == [{"run": "C", "step": "extract"}]
    assert search["stays"] == []
    assert search["state"] == "found", search["said"]
    assert [row for row in search["found"]["waits"] if row["stays"]] == [
        {"run": "C", "step": "extract", "not_before": "2026-11-26T10:00:00+00:00", "stays": True}
    ]


def test_a_step_without_an_hour_cannot_stay(client: Client, studio: Studio) -> None:
    ask(client, steps=[{"run": "B", "step": "scour"}])
    working.work(Seek.objects.of(studio).get().pk)

    search = last(client)

    assert search["state"] == "broken off"
    assert search["said"] == "scour of run B is to stay at its hour, but it has none."


def test_a_step_of_a_run_that_nobody_wants_is_refused(client: Client, studio: Studio) -> None:
    found = ask(client, steps=[{"run": "Q", "step": "scour"}])

    assert found.status_code == 404
    assert not Seek.objects.of(studio).exists()
