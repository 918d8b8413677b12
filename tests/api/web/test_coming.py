"""*What will come*: guesses shown as guesses, the fan and its table, and the same as JSON."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from django.test import Client
from justhtml import Element

from inventory.models import Studio
from sourcing.models import Agreement
from sourcing.pickups import miss_pickup
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, load

pytestmark = pytest.mark.django_db

QUERIES = 8


@pytest.fixture
def yard() -> Studio:
    load()
    return Studio.objects.get()


def said(client: Client, **asked: str) -> str:
    return words(client.get("/coming/", {"at": MONDAY, **asked}))


@pytest.mark.usefixtures("yard")
def test_every_dyestuff_with_an_agreement_has_its_part(client: Client) -> None:
    page = client.get("/coming/", {"at": MONDAY})
    heads = [node.to_text().strip() for node in read(page).query("main h2")]

    assert sound(page) == []
    assert heads == ["Avocado stones", "Onion skins", "Privet", "Red cabbage"]
    assert "A forecast, not on the shelf. A yes of the week never rests on it" in words(page)


@pytest.mark.usefixtures("yard")
def test_pick_ups_say_who_when_how_much_and_how_sure(client: Client) -> None:
    text = said(client, gives="avocado stones")

    # 13.3: 58 stones told of for tonight; then 50 stones likely, at worst none.
    assert "Mon 23 Nov 17:00 Lantern Steps café told of 2,436 g, 58 stones" in text
    assert "counts on the shelf from its hour" in text
    assert "Thu 26 Nov 17:00 Lantern Steps café a guess 2,100 g, 50 stones 0 g" in text


@pytest.mark.usefixtures("yard")
def test_a_run_that_is_short_is_told_how_surely_enough_comes(client: Client) -> None:
    text = said(client, gives="avocado stones")

    assert "B Old Rose is short of 2,034 g: a chance of over 99 % that so much comes by" in text
    assert "50 % sure by Thu 26 Nov 80 % sure by Mon 30 Nov 95 % sure by Thu 3 Dec" in text
    assert "For each run by itself; what comes is there only once." in text


@pytest.mark.usefixtures("yard")
def test_a_thin_history_is_said_to_rest_on_a_promise(client: Client) -> None:
    text = said(client, gives="privet")

    assert "little is known Hedge at the corner house: no visit is on record yet" in text
    assert "it rests on what the source promised" in text
    assert "little is known" not in said(client, gives="avocado stones")
    assert "it rests on 7 visits on record, 1 of them missed." in said(
        client, gives="avocado stones"
    )


@pytest.mark.usefixtures("yard")
def test_the_fan_has_its_table(client: Client) -> None:
    tree = read(client.get("/coming/", {"at": MONDAY, "gives": "avocado stones"}))
    (picture,) = [node for node in tree.query("svg.fan") if isinstance(node, Element)]
    rows = tree.query("details tbody tr")

    assert picture.attrs["role"] == "img"
    assert "B and G are short of 2,034 g" in picture.to_text()
    assert len(list(rows)) == 7  # Mondays and Thursdays after tonight


@pytest.mark.usefixtures("yard")
def test_each_pick_up_leads_to_what_moves_without_it(client: Client) -> None:
    tree = read(client.get("/coming/", {"at": MONDAY, "gives": "avocado stones"}))
    links = [node.attrs["href"] or "" for node in tree.query("a.strike")
             if isinstance(node, Element)]  # fmt: skip

    assert len(links) == 8
    for link in (links[0], links[1], links[-1]):
        assert client.get(link).status_code == 200


def test_a_closed_source_says_why_and_gives_no_amount(client: Client, yard: Studio) -> None:
    Agreement.objects.of(yard).filter(gives="onion skins").update(
        closed=[["2026-11-28", "2026-11-29"]]
    )

    text = said(client, gives="onion skins")

    assert (
        "Sat 28 Nov 09:00 Three Crates greengrocer not to be fetched closed till 29 November"
        in text
    )


def test_a_missed_pick_up_is_shown_as_missed(client: Client, yard: Studio) -> None:
    miss_pickup(
        yard,
        at=datetime(2026, 11, 26, 17, tzinfo=UTC),
        source="Lantern Steps café",
        gives="avocado stones",
    )

    text = said(client, gives="avocado stones")

    assert "Thu 26 Nov 17:00 Lantern Steps café missed" in text


@pytest.mark.usefixtures("yard")
def test_what_no_source_gives_is_refused_with_what_is_agreed(client: Client) -> None:
    page = client.get("/coming/", {"at": MONDAY, "gives": "walnut hulls"})
    body = client.get("/api/v1/coming/", {"at": MONDAY, "gives": "walnut hulls"})

    assert page.status_code == body.status_code == 400
    assert "No source gives “walnut hulls”. Agreed are avocado stones" in words(page)
    assert body.json()["code"] == "not_agreed"
    assert sound(page) == []


def test_a_studio_without_sources_has_a_page(client: Client) -> None:
    Studio.objects.create(name="Bare Loft", zone="Pacific/Auckland")

    page = client.get("/coming/", {"at": MONDAY})

    assert "Nothing is agreed with any source yet, so nothing is expected." in words(page)
    assert sound(page) == []


@pytest.mark.usefixtures("yard")
def test_the_same_stands_in_json(client: Client) -> None:
    body = client.get("/api/v1/coming/", {"at": MONDAY, "gives": "avocado stones"}).json()
    (row,) = body["dyestuffs"]

    assert body["is"] == "a forecast, not on the shelf"
    assert (body["first"], body["last"]) == ("2026-11-23", "2026-12-20")
    assert row["pick_ups"][0]["state"] == "reported"
    assert row["pick_ups"][0]["reported_g"] == "2436"
    assert [each["chance"] for each in row["will_have_come"][0]["at_least"]] == [
        0.9, 0.75, 0.5, 0.25, 0.1,
    ]  # fmt: skip
    assert {each["run"]: each["short_g"] for each in row["short"]} == {"G": "2034", "B": "2034"}
    assert row["short"][0]["days"][0] == {"chance": 0.5, "by": "2026-11-26"}


@pytest.mark.usefixtures("yard")
def test_a_page_asks_few_questions(client: Client, django_assert_max_num_queries: object) -> None:
    with django_assert_max_num_queries(QUERIES):  # type: ignore[operator]
        client.get("/coming/", {"at": MONDAY})
    with django_assert_max_num_queries(QUERIES):  # type: ignore[operator]
        client.get("/api/v1/coming/", {"at": MONDAY})
