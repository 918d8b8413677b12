"""A printed code leads to its thing on the shelves, today and when the page has moved on."""

from __future__ import annotations

from datetime import UTC, datetime
from http import HTTPStatus
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from api.web.shelves.anchors import anchor_of
from api.web.shelves.cut import AT_MOST, PAGE_ROWS
from inventory import ledger
from inventory.entries import NewLot, Place
from inventory.models import Studio
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY

pytestmark = pytest.mark.usefixtures("yard")
FOUND = "/found/"


def found(client: Client, **asked: str) -> Any:
    return client.get(FOUND, {"at": MONDAY, **asked})


@pytest.mark.parametrize("code", ["J1", "J6", "AV-0911", "W-88"])
def test_a_jar_a_bath_a_bag_and_a_skein_are_found_where_they_stand(
    client: Client, code: str
) -> None:
    answer = found(client, code=code)

    assert answer.status_code == HTTPStatus.SEE_OTHER
    address, _, anchor = answer["Location"].partition("#")
    assert anchor == anchor_of(code)
    [place] = [
        node for node in read(client.get(address)).query("[id]") if node.attrs["id"] == anchor
    ]
    assert code in place.to_text()


@pytest.mark.parametrize("typed", ["j1", " J1 "])
def test_a_code_typed_by_wet_hands_is_found_too(client: Client, typed: str) -> None:
    assert found(client, code=typed)["Location"].endswith("#of-J1")


def test_a_run_is_found_on_the_page_of_the_week(client: Client) -> None:
    answer = found(client, run="A")

    assert answer["Location"] == f"/?at={MONDAY.replace(':', '%3A')}#run-A"
    assert answer["Cache-Control"] == "no-store"


def test_what_is_not_there_any_more_is_said_and_another_code_asked_for(client: Client) -> None:
    page = found(client, code="AV-1")

    assert page.status_code == HTTPStatus.NOT_FOUND
    assert sound(page) == []
    assert "No “AV-1” stands on the shelves now: used up, tipped out or never there." in words(page)
    [field] = read(page).query("#found-code")
    assert field.attrs["value"] == "AV-1"


def test_without_a_code_its_letters_can_be_typed(client: Client) -> None:
    page = found(client)

    assert page.status_code == HTTPStatus.OK
    assert sound(page) == []
    assert "what are the large letters on it?" in words(page)


def test_a_lot_far_down_is_found_on_its_own_page(client: Client) -> None:
    """The whole page shows so many lots; the hundredth stands on page 2 of the lots alone."""
    many = AT_MOST["lots"] + PAGE_ROWS
    bring(many)

    near, far = (found(client, code=f"ZZ-{number:03}") for number in (0, many - 1))

    assert "part=" not in near["Location"]
    assert "part=lots&page=2#of-ZZ-083" in far["Location"]
    page = client.get(far["Location"].partition("#")[0]).content.decode()
    assert 'id="of-ZZ-083"' in page


def bring(count: int) -> None:
    """So many lots that keep longer than all others."""
    yard = Studio.objects.get()
    at = datetime(2026, 11, 22, 9, tzinfo=UTC)
    for number in range(count):
        lot = NewLot(f"ZZ-{number:03}", "madder", state="dried", place=Place("dry store"))
        ledger.receive(yard, entry=uuid4(), at=at, lot=lot, amount=100_000)
