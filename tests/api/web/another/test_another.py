"""*Another week*: looked for, watched, taken or left, and back to the plain one."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any
from uuid import uuid4

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from api.models.entries import Entry
from api.models.seeks import FOUND, Seek
from api.rights import Right
from api.seeking import work as working
from inventory.models import Studio
from sourcing.models import TakenWeek
from sourcing.week.best import TIME_OVER, Goals
from tests.api.members import member, signed_in
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, said

QUERIES = 8
pytestmark = pytest.mark.usefixtures("yard")


def page(client: Client) -> Any:
    return client.get("/another/", {"at": MONDAY})


def press(client: Client, what: str) -> Any:
    """Press a button of the page as it stands."""
    tree = read(page(client))
    (button,) = tree.query(f"button[value={what}]")
    fields = {"do": what}
    for node in button.parent.parent.query("input"):
        fields[node.attrs["name"]] = node.attrs.get("value") or ""
    return client.post(f"/another/?at={MONDAY}", fields)


def looked(client: Client, studio: Studio) -> None:
    """Oak Grey first was found: it fits, and others give way."""
    press(client, "look")
    goals = asdict(Goals(5, 0, 0, 9, 1))
    found = {
        "guidance": {"order": ["E"], "floors": [], "sites": []}, "goals": goals, "plain": goals,
        "bound": {**goals, "on_time": 8}, "status": TIME_OVER, "gap": 0.375, "placings": 12_000,
        "open_goal": "on_time", "seconds": 4.0,
    }  # fmt: skip
    Seek.objects.of(studio).filter(ended_at__isnull=True).update(
        state=FOUND, found=found, ended_at=timezone.now()
    )


def test_it_is_offered_and_nothing_is_looked_for_by_itself(client: Client, yard: Studio) -> None:
    with CaptureQueriesContext(connection) as asked:
        found = page(client)

    assert sound(found) == []
    assert len(asked) <= QUERIES
    assert "Look for another week" in words(found)
    assert not Seek.objects.of(yard).exists()


def test_while_it_is_looked_for_the_page_says_how_far_it_has_come(
    client: Client, yard: Studio
) -> None:
    assert press(client, "look").status_code == 303
    assert "it begins in a moment" in words(page(client))
    goals = {"on_time": 3, "saved_mg": 0, "changed": 0, "dry_min": 9, "worst_day_min": 1}
    Seek.objects.of(yard).update(progress={
        "goals": goals, "bound": {**goals, "on_time": 4}, "placings": 1240, "part": 0.41,
    })  # fmt: skip

    found = page(client)

    assert sound(found) == []
    assert "1,240 runs placed, 41 % of the time it takes at most" in words(found)
    assert "No week can be better by more than 25.0 % in fibre dry in time." in words(found)
    press(client, "stop")
    assert "It stops in a moment, and keeps the best so far." in words(page(client))


def test_what_was_found_is_told_line_by_line_and_taken_as_one_entry(
    client: Client, yard: Studio
) -> None:
    looked(client, yard)
    with CaptureQueriesContext(connection) as asked:
        found = page(client)

    assert sound(found) == []
    assert len(asked) <= QUERIES
    lines = [said(row) for row in read(found).query(".changes li")]
    assert lines[0] == (
        "gained Oak Grey (E) fits: first step Thu 26 Nov 13:00, dry Sun 29 Nov 15:00. The run"
    )
    assert any(row.startswith("given up") for row in lines)
    assert "No week can be better by more than 37.5 % in fibre dry in time." in words(found)

    answer = press(client, "take")

    assert (answer.status_code, answer["Location"].split("?")[0]) == (303, "/")
    assert Entry.objects.of(yard).get().verb == "take-week"
    taken = TakenWeek.objects.of(yard).get()
    assert taken.order == ["E"]
    assert "A week was taken" in words(page(client))
    assert "Another week was taken: runs are placed in its order." in words(
        client.get("/", {"at": MONDAY})
    )


def test_it_is_left_and_the_plain_week_comes_back(client: Client, yard: Studio) -> None:
    looked(client, yard)
    press(client, "leave")
    assert "Look for another week" in words(page(client))
    looked(client, yard)
    press(client, "take")

    press(client, "plain")

    assert TakenWeek.objects.of(yard).count() == 2
    assert "A week was taken" not in words(page(client))


def test_what_broke_off_says_so(client: Client, yard: Studio) -> None:
    press(client, "look")
    Seek.objects.of(yard).update(tries=working.TRIES_AT_MOST)
    working.work(Seek.objects.of(yard).get().pk)

    found = page(client)

    assert sound(found) == []
    assert "It broke off three times" in words(found)
    assert "Look for another week" in words(found)


def test_a_helper_looks_on_and_decides_nothing(client: Client, yard: Studio) -> None:
    helper = signed_in(member(yard, Right.HELPER))

    assert helper.get("/another/", {"at": MONDAY}).status_code == 200
    answer = helper.post(f"/another/?at={MONDAY}", {"do": "look"})

    assert answer.status_code == 403
    assert not Seek.objects.of(yard).exists()


def test_a_single_step_is_asked_to_stay(client: Client, yard: Studio) -> None:
    shown = words(page(client))
    assert "extract, Thu 26 Nov 10:00" in shown

    fields = {"do": "look", "entry": str(uuid4()), "steps": ["C|extract", "D|iron", "nonsense"]}
    client.post(f"/another/?at={MONDAY}", fields)

    assert Seek.objects.of(yard).get().stays == [["C", "extract"], ["D", "iron"]]
