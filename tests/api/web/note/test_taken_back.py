"""What was written down by mistake is taken back for ten minutes by the clock of the record."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from api.models.entries import Entry
from inventory.models import Studio
from tests.api.web.note.filled import asked_in, faults, main_of, opened, sent, told
from tests.api.web.pages import as_read, read, sound

pytestmark = pytest.mark.usefixtures("yard")
TOO_LATE = (
    "Ten minutes have gone by, and it stays on record. Write down what is true now: weigh it "
    "again, recount it or dip it again."
)


@pytest.fixture
def wet(client: Client, yard: Studio) -> str:
    """The address of a pick-up that was just written down."""
    answer = sent(client, opened(client, "pick-up", gives="avocado stones"), amount="58")
    address: str = answer["Location"]
    return address


def test_it_is_taken_back_at_once(client: Client, wet: str) -> None:
    page = client.get(wet)
    assert sound(page) == []
    assert "Take it back until" in main_of(page)

    said = told(client, client.post(wet))

    assert "It is taken back AV-1124: 0 g left" in said
    assert "It was taken back already." in main_of(client.get(wet))


def test_pressed_twice_it_is_taken_back_once(client: Client, wet: str, yard: Studio) -> None:
    first = client.post(wet)

    again = client.post(wet)

    assert (again.status_code, again["Location"]) == (303, first["Location"])
    assert Entry.objects.of(yard).count() == 2


@pytest.mark.parametrize(("after", "may"), [(timedelta(minutes=10), True),
                                            (timedelta(minutes=10, seconds=1), False)])  # fmt: skip
def test_ten_minutes_and_no_longer(
    client: Client, wet: str, yard: Studio, monkeypatch: Any, after: timedelta, may: bool
) -> None:
    row = Entry.objects.of(yard).get()
    monkeypatch.setattr(timezone, "now", lambda: row.recorded_at + after)

    answer = client.post(wet)

    assert answer.status_code == (303 if may else 409)
    assert may or faults(answer) == [TOO_LATE]
    assert Entry.objects.of(yard).count() == (2 if may else 1)


def test_an_entry_that_nobody_sent_is_not_found(client: Client) -> None:
    page = client.get("/note/said/018f3c1e-7c1a-7000-8000-5a1d0f4c2b11/")

    assert page.status_code == 404
    assert "Nothing was written down under this number." in main_of(page)


def test_what_was_taken_back_is_not_reckoned_with_as_a_pick_up(client: Client) -> None:
    wrong = sent(client, opened(client, "pick-up", gives="avocado stones"), amount="580")
    later = {"at": "2026-11-25T07:30"}
    assert "last time 580 stones" in main_of(client.get("/note/pick-up/", later))
    assert "580" in main_of(client.get("/sources/", later))

    told(client, client.post(wrong["Location"]))

    assert "last time 62 stones" in main_of(client.get("/note/pick-up/", later))
    assert "580" not in main_of(client.get("/sources/", later))


def test_its_amounts_can_be_put_right_from_there(client: Client, wet: str) -> None:
    (link,) = (
        node for node in read(client.get(wet)).query("main a")
        if as_read(node.to_text()) == "Put its amounts right"
    )  # fmt: skip

    form = opened(client, "correct", **asked_in((link.attrs or {})["href"] or ""))
    answer = sent(client, form, amounts_1_amount="2400 g")

    assert "AV-1124: 2,400 g left" in told(client, answer)


def test_what_was_received_came_and_was_not_counted_on_the_shelf(client: Client, wet: str) -> None:
    entry = wet.split("/")[3]

    form = opened(client, "correct", corrects=entry)

    assert "AV-1124, avocado stones, came" in main_of(form.page)


def test_what_moved_in_another_year_says_in_which(client: Client) -> None:
    page = client.get("/note/correct/", {"at": "2027-01-05T09:00"})
    then = client.get("/note/correct/", {"at": "2026-12-30T09:00"})

    assert re.search(r" \d+ [A-Z][a-z]{2} 2026, \d\d:\d\d", page.content.decode())
    assert not re.search(r" \d+ Nov 2026, \d\d:\d\d", then.content.decode())
