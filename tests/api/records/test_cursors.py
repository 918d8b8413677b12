"""Cursors: a list goes on where it ended, whatever is written meanwhile."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from inventory import ledger
from inventory.models import Studio
from sourcing.models import Weather
from tests.inventory.larder import DAY, MONDAY_NINE, stones, studio_of
from tests.once import once

pytestmark = pytest.mark.django_db
MANY = 7


def _load() -> None:
    """Seven lots that came one after the other, each with a code, a posting and a movement."""
    studio = studio_of()
    for number in range(MANY):
        at = MONDAY_NINE + (number // 2) * timedelta(hours=1)  # two each at one moment
        stones(studio, f"L-{number * 10:03}", 100 + number, at=at)


made = once(_load)


@pytest.fixture
def yard(made: None, db: None) -> Studio:
    return Studio.objects.get()


def page(client: Client, address: str) -> dict[str, Any]:
    answer = client.get(address)
    assert answer.status_code == 200, answer.content
    found: dict[str, Any] = answer.json()
    return found


def turned(
    client: Client, address: str, *, between: Callable[[int], object] = lambda _: None
) -> list[dict[str, Any]]:
    """All records of a list, two at a time, with something written after each two."""
    found: list[dict[str, Any]] = []
    following: str | None = f"{address}{'&' if '?' in address else '?'}limit=2"
    while following:
        answer = page(client, following)
        assert 1 <= len(answer["records"]) <= 2
        found += answer["records"]
        following = answer["next"]
        between(len(found))
    return found


NAMES = [("lots", "code"), ("postings", "entry"), ("movements", "id"), ("stays", "id")]


@pytest.mark.parametrize(("noun", "name"), NAMES, ids=[noun for noun, _ in NAMES])
def test_rows_written_while_one_turns_pages_make_none_come_twice_and_none_go_missing(
    client: Client, yard: Studio, noun: str, name: str
) -> None:
    before = [record[name] for record in page(client, f"/api/v1/{noun}/")["records"]]

    def between(shown: int) -> None:
        """Lots with codes and moments before, between and behind those that were there."""
        if shown > 4 * MANY:
            raise AssertionError("There is no end to it.")
        if shown <= MANY:
            for code, at in (("A", -DAY), ("L-035-", timedelta(minutes=90)), ("Z", DAY)):
                stones(yard, f"{code}{shown}", at=MONDAY_NINE + at)

    shown = [record[name] for record in turned(client, f"/api/v1/{noun}/", between=between)]

    assert len(set(shown)) == len(shown)
    assert [each for each in shown if each in set(before)] == before
    assert len(before) == MANY


def test_what_is_left_may_change_between_pages_and_no_lot_goes_missing(
    client: Client, yard: Studio
) -> None:
    def between(shown: int) -> None:
        if shown == 2:
            ledger.draw(yard, entry=uuid4(), at=MONDAY_NINE + DAY, takes=[("L-060", 106_000)])

    found = turned(client, "/api/v1/lots/", between=between)

    assert [record["code"] for record in found] == [f"L-{n * 10:03}" for n in range(MANY)]
    assert found[-1]["left"] == {"amount": "0", "unit": "g"}
    left = turned(client, "/api/v1/lots/?any_left=yes")
    assert [record["code"] for record in left] == [f"L-{n * 10:03}" for n in range(MANY - 1)]


@pytest.mark.parametrize(("noun", "name"), NAMES, ids=[noun for noun, _ in NAMES])
def test_a_list_from_its_end_holds_the_same_the_other_way_round(
    client: Client, yard: Studio, noun: str, name: str
) -> None:
    def between(shown: int) -> None:
        if shown == 2:
            stones(yard, "Z", at=MONDAY_NINE + 2 * DAY)

    forwards = [record[name] for record in page(client, f"/api/v1/{noun}/")["records"]]
    found = turned(client, f"/api/v1/{noun}/?backwards=yes", between=between)

    assert [record[name] for record in found] == forwards[::-1]


def test_days_are_an_order_too(client: Client, yard: Studio) -> None:
    for number in range(5):
        day = MONDAY_NINE.date() + number * DAY
        Weather.objects.of(yard).create(day=day, frost=True)

    days = [record["day"] for record in turned(client, "/api/v1/weather/?frost=yes")]

    assert days == [f"2026-11-{23 + number}" for number in range(5)]


def test_the_last_page_that_is_full_has_no_next_one(client: Client, yard: Studio) -> None:
    assert page(client, f"/api/v1/lots/?limit={MANY}")["next"] is None
    assert page(client, f"/api/v1/lots/?limit={MANY - 1}")["next"] is not None


def test_next_is_a_whole_address_that_asks_the_same(client: Client, yard: Studio) -> None:
    following = page(client, "/api/v1/lots/?limit=2&kind=dyestuff")["next"]

    assert following.startswith("http://testserver/api/v1/lots/?limit=2&kind=dyestuff&cursor=")
    records = page(client, following)["records"]
    assert [record["code"] for record in records] == ["L-020", "L-030"]


def test_a_cursor_holds_for_its_own_question_only(client: Client, yard: Studio) -> None:
    other = studio_of("Quillet Barn")
    stones(other, "Q-1")
    following = page(client, "/api/v1/lots/?studio=Pellitory Yard&limit=2")["next"]
    cursor = following.partition("cursor=")[2]
    changed = ("A" if cursor[0] != "A" else "B") + cursor[1:]
    asked = [
        f"lots/?studio=Quillet Barn&cursor={cursor}",
        f"lots/?studio=Pellitory Yard&kind=dyestuff&cursor={cursor}",
        f"jars/?studio=Pellitory Yard&cursor={cursor}",
        f"lots/?studio=Pellitory Yard&backwards=yes&cursor={cursor}",
        f"lots/?studio=Pellitory Yard&cursor={changed}",
        f"lots/?studio=Pellitory Yard&cursor={cursor[:-2]}",
        "lots/?studio=Pellitory Yard&cursor=",
        "lots/?studio=Pellitory Yard&cursor=é",
        f"lots/?studio=Pellitory Yard&cursor={'A' * 5000}",
    ]

    for address in asked:
        answer = client.get(f"/api/v1/{address}")
        assert answer.status_code == 400, address
        assert answer.json()["code"] == "cursor_unreadable", address
    again = page(client, f"/api/v1/lots/?studio=Pellitory Yard&limit=5&cursor={cursor}")
    assert len(again["records"]) == 5
