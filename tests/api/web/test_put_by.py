"""*Put by* as a page and as JSON: the worked yard, asked after runs of its hedge olive."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.test import Client

from inventory.models import Studio
from sourcing.models import Agreement
from sourcing.put_by_wishes import wish_put_by
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, load
from tests.once import once

pytestmark = pytest.mark.django_db
OLIVE = {"of": "privet", "runs": "4", "each": "480 g", "from": "2027-03", "until": "2027-08"}


made = once(load)


@pytest.fixture(autouse=True)
def _yard(made: None, db: None) -> None:
    """Pellitory Yard."""


def asked(client: Client, **more: str) -> dict[str, Any]:
    found: dict[str, Any] = client.get("/api/v1/put-by/", {"at": MONDAY, **more}).json()
    return found


def test_the_page_is_sound_with_and_without_a_question(client: Client) -> None:
    assert sound(client.get("/put-by/", {"at": MONDAY})) == []
    assert sound(client.get("/put-by/", {"at": MONDAY, **OLIVE})) == []


def test_four_runs_of_480_g_want_1920_g_and_the_page_says_what_to_do(client: Client) -> None:
    """The design papers' privet: 80 g are left of 560 g, so 1,840 g are lacking (12, no. 31)."""
    said = words(client.get("/put-by/", {"at": MONDAY, **OLIVE}))

    assert "Put by at least 1,840 g of privet, dried (4,843 g fresh), by Fri 27 Nov 2026." in said
    assert "4 runs wanted: 1,920 g, dried. The shelf has 80 g that keeps till its run." in said
    assert "3,915 g to 6,560 g fresh, as the figures range" in said
    assert "A guess: " in said
    assert "at worst nothing" in said
    assert "Its sources said 2,000 g." in said
    assert "by Sun 28 Feb 2027." in said
    assert "no privet Mar to Aug 2027" in said
    assert "poison" in said


def test_the_drawing_and_the_table_say_the_same(client: Client) -> None:
    tree = read(client.get("/put-by/", {"at": MONDAY, **OLIVE}))

    drawn = [node.to_text() for node in tree.query("figure.months svg text")]
    rows = [node.to_text() for node in tree.query("article table th[scope=row]")]
    assert [text for text in drawn if text in ("Mar 27", "Aug 27")] == ["Mar 27", "Aug 27"]
    assert len(rows) == 10  # Nov 2026 to Aug 2027
    assert sum(mark in drawn for mark in ("✓", "?", "✗")) >= 1


def test_a_shade_is_asked_for_by_the_weight_of_fibre(client: Client) -> None:
    (plan,) = asked(client, **{**OLIVE, "of": "Hedge Olive", "each": "600 g"})["plans"]

    assert plan["wanted"] == {"amount": "1920", "unit": "g"}  # 600 g × 80 % × 4
    assert plan["wishes"][0]["shade"] == "Hedge Olive"


def test_json_has_every_figure_of_the_page(client: Client) -> None:
    (plan,) = asked(client, **OLIVE)["plans"]

    assert plan["put_by"] == {"amount": "1840", "unit": "g"}
    assert plan["by"] == "2026-11-27"
    assert plan["open_till"] == "2027-02-28"
    assert [row["from"] for row in plan["runs_that_fall"]] == [
        "2027-03-01", "2027-04-01", "2027-05-01", "2027-06-01",
    ]  # fmt: skip
    assert plan["shade_gap"] == {"from": "2027-03-01", "to": "2027-08-31"}
    assert 0 < plan["chance"] < 0.2
    assert plan["gap"]["until"] == "2027-09-01"


def test_without_days_the_next_gap_is_meant(client: Client) -> None:
    (plan,) = asked(client, of="privet", runs="2", each="480 g")["plans"]

    assert plan["wishes"][0]["from"] == "2027-03-01"
    assert plan["wishes"][0]["to"] == "2027-08-31"


def test_the_gaps_of_the_yard_are_named(client: Client) -> None:
    found = asked(client)

    assert found["plans"] == []
    assert ("privet", "2027-03-01", "2027-09-01") in {
        (row["dyestuff"], row["from"], row["until"]) for row in found["gaps"]
    }


@pytest.mark.parametrize(
    ("more", "status", "detail"),
    [
        ({"runs": "0"}, 400, "“0” is no number of runs. Write 1 to 100."),
        ({"runs": "101"}, 400, "“101” is no number of runs. Write 1 to 100."),
        ({"each": ""}, 400, "Say what each run takes, such as 480 g."),
        ({"from": "2027-13"}, 400,
         "“2027-13” is no day. Write one as 2027-03-01, or a month as 2027-03."),
        ({"from": "2027-09"}, 400,
         "The last day lies before the first, or more than two years after it."),
        ({"state": "wet"}, 400, "state is dried or frozen; not “wet”."),
        ({"of": ""}, 400, "Say of what: a dyestuff, or a shade."),
        ({"of": "moonlight"}, 409,
         "Nothing here is called moonlight: no dyestuff, and no shade that takes one. "
         "Look among the sources and recipes."),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_said_in_a_sentence(
    client: Client, more: dict[str, str], status: int, detail: str
) -> None:
    answer = client.get("/api/v1/put-by/", {"at": MONDAY, **OLIVE, **more})

    assert (answer.status_code, answer.json()["detail"]) == (status, detail)
    assert client.get("/put-by/", {"at": MONDAY, **OLIVE, **more}).status_code == status


def test_what_never_shuts_wants_days_of_its_own(client: Client) -> None:
    answer = client.get("/api/v1/put-by/", {"at": MONDAY, "of": "avocado stones", "runs": "1",
                                            "each": "3 kg"})  # fmt: skip

    assert answer.status_code == 409
    assert answer.json()["detail"] == (
        "No gap of avocado stones is ahead. Say from when to when the runs are wanted."
    )


def test_the_page_asks_no_more_than_eight_questions(
    client: Client, django_assert_max_num_queries: Any
) -> None:
    with django_assert_max_num_queries(8):
        client.get("/put-by/", {"at": MONDAY, **OLIVE})


def test_runs_that_fall_are_named_by_shade_and_month(client: Client) -> None:
    olive = {**OLIVE, "of": "Hedge Olive", "each": "600 g"}
    said = words(client.get("/put-by/", {"at": MONDAY, **olive}))

    assert "Hedge Olive: privet, dried, for 4 runs" in said
    assert (
        "If nothing more is put by: 4 of 4 runs fall: Hedge Olive in Mar, Apr, May and Jun 2027. "
        "That leaves no Hedge Olive Mar to Aug 2027." in said
    )


def test_a_wish_that_is_written_down_stands_on_the_page_and_in_the_morning(
    client: Client,
) -> None:
    wish_put_by(
        Studio.objects.get(),
        code="olive",
        recipe="hedge-olive",
        runs=4,
        each_mg=600_000,
        since=date(2027, 3, 1),
        last_on=date(2027, 8, 31),
    )

    page = client.get("/put-by/", {"at": MONDAY})
    assert sound(page) == []
    assert "only asked for" not in words(page)
    assert "Put by at least 1,840 g of privet, dried (4,843 g fresh)" in words(page)
    week = client.get("/", {"at": MONDAY})
    assert sound(week) == []
    assert "Put privet by on Fri: 1,840 g dried (4,843 g fresh) wanted for Hedge Olive" in words(
        week
    )


def test_what_falls_is_said_for_what_likely_comes_and_for_nine_times_in_ten(
    client: Client,
) -> None:
    said = words(client.get("/put-by/", {"at": MONDAY, **OLIVE}))

    assert (
        "If what likely comes is put by: 3 of 4 runs fall: privet in Apr, May and Jun 2027. With "
        "no more than comes nine times in ten: 4 of 4 runs fall: privet in Mar, Apr, May and "
        "Jun 2027." in said
    )


def test_a_hedge_without_leave_is_named_among_what_is_left_out(client: Client) -> None:
    Agreement.objects.of(Studio.objects.get()).filter(gives="privet").update(
        permission_by="", permission_on=None
    )

    page = client.get("/put-by/", {"at": MONDAY, **OLIVE})
    assert sound(page) == []
    assert "Left out: Hedge at the corner house: no permission on record." in words(page)
