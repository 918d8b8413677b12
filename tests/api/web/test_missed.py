"""*If a visit is missed*: what moves in words, marks and bars; every visit by how it hurts."""

from __future__ import annotations

import pytest
from django.test import Client
from justhtml import Element

from inventory.models import Studio
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, load

pytestmark = pytest.mark.django_db

THURSDAY = {
    "at": MONDAY, "source": "Lantern Steps café", "gives": "avocado stones", "on": "2026-11-26",
}  # fmt: skip
QUERIES = 8


@pytest.fixture
def yard() -> Studio:
    load()
    return Studio.objects.get()


@pytest.mark.usefixtures("yard")
def test_thursday_missed_is_told_in_words(client: Client) -> None:
    page = client.get("/missed/", THURSDAY)
    text = words(page)

    assert sound(page) == []
    assert "If Lantern Steps café does not come on Thu 26 Nov" in text
    assert "2,100 g likely, at worst 0 g, not told of yet" in text
    assert "is a guess" in text
    assert "Avocado stones: short stays 2,034 g = 49 stones" in text
    assert (
        "Avocado stones: G and B want 12,000 g by Mon 7 Dec: 366 g spare (8 stones) becomes "
        "short by 1,734 g (42 stones)"
    ) in text
    assert "F, A, C, D and E stay as they are." in text
    assert "Freezer on Thu 26 Nov: likely over by 546 g becomes 1,554 g free" in text


@pytest.mark.usefixtures("yard")
def test_the_bars_say_what_their_words_say(client: Client) -> None:
    tree = read(client.get("/missed/", THURSDAY))
    bars = [node for node in tree.query("rect") if isinstance(node, Element)
            and "balance-there" in (node.attrs.get("class") or "")]  # fmt: skip

    # 12,366 g is the widest, 300 long; 10,266 ÷ 12,366 × 300 = 249.05; the line at 12,000: 291.1.
    assert [bar.attrs["width"] for bar in bars] == ["300.0", "249.1"]
    (need,) = [node for node in tree.query("path") if isinstance(node, Element)
               and node.attrs.get("class") == "balance-need"]  # fmt: skip
    assert (need.attrs["d"] or "").startswith("M291.1 0")
    assert "with it: 12,366 g, 366 g spare (8 stones)" in words(client.get("/missed/", THURSDAY))


@pytest.mark.usefixtures("yard")
def test_without_a_visit_all_stand_with_what_they_bring_and_do(client: Client) -> None:
    page = client.get("/missed/", {"at": MONDAY})
    text = words(page)

    assert sound(page) == []
    assert text.index("Thu 26 Nov 17:00") < text.index("Mon 23 Nov 17:00")
    assert "avocado stones 2,436 g told of" in text
    assert "avocado stones 2,100 g likely, a guess" in text
    assert "privet 2,000 g likely, a guess Nothing moves" in text


@pytest.mark.usefixtures("yard")
def test_each_visit_leads_to_its_own_page(client: Client) -> None:
    tree = read(client.get("/missed/", {"at": MONDAY}))
    links = [
        node.attrs["href"] or "" for node in tree.query("ol.visits a") if isinstance(node, Element)
    ]

    assert len(links) == 4
    for link in links:
        assert client.get(link).status_code == 200
    assert "at=2026-11-23T07%3A30" in links[0]


@pytest.mark.usefixtures("yard")
def test_the_week_leads_to_what_a_missed_visit_does(client: Client) -> None:
    tree = read(client.get("/", {"at": MONDAY}))

    links = [node.attrs.get("href") or "" for node in tree.query("a") if isinstance(node, Element)]
    assert [link for link in links if link.startswith("/missed/")] == [
        "/missed/?at=2026-11-23T07%3A30"
    ]


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize(
    ("change", "status", "said"),
    [
        ({"on": "2026-11-27"}, 409, "is expected on Fri 27 Nov 2026. Expected are Mon 23 Nov,"),
        ({"source": "Café"}, 409, "No source is called Café."),
        ({"on": "soon"}, 400, "“soon” is no day. Write it such as 2026-11-26."),
        ({"on": ""}, 400, "A missed visit is asked for with its source and its day"),
    ],
)
def test_what_cannot_be_struck_is_said(
    client: Client, change: dict[str, str], status: int, said: str
) -> None:
    page = client.get("/missed/", {**THURSDAY, **change})

    assert page.status_code == status
    assert said in words(page)
    assert sound(page) == []


def test_a_studio_without_pick_ups_has_a_page(client: Client) -> None:
    Studio.objects.create(name="Bare Loft", zone="Pacific/Auckland")

    page = client.get("/missed/", {"at": MONDAY})

    assert "No visit is expected up to the end of the period." in words(page)
    assert sound(page) == []


@pytest.mark.usefixtures("yard")
def test_a_page_asks_few_questions(client: Client, django_assert_max_num_queries: object) -> None:
    with django_assert_max_num_queries(QUERIES):  # type: ignore[operator]
        client.get("/missed/", THURSDAY)
    with django_assert_max_num_queries(QUERIES):  # type: ignore[operator]
        client.get("/missed/", {"at": MONDAY})
