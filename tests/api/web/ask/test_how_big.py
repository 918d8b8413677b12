"""*How big can it be?* on the page for asking, on the page of a run, and for programs."""

from __future__ import annotations

from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from inventory.models import Studio
from sourcing.models import Run
from tests.api.web.pages import read, sound
from tests.api.web.yard import MONDAY, said

pytestmark = pytest.mark.usefixtures("yard")
QUERIES = 8
BLUSH = {"recipe": "blush", "card": "yes", "big": "1"}


def look(client: Client, **asked: str) -> Any:
    return client.get("/ask/", {"at": MONDAY, **asked})


def answer(page: Any) -> str:
    """What stands under *How big it can be*."""
    return said(read(page).query("section.looked")[0])


def asked(client: Client, **words: str) -> Any:
    return client.get("/api/v1/how-big/", {"at": MONDAY, **words})


def test_the_weight_may_be_left_empty(client: Client) -> None:
    page = look(client, **BLUSH)

    assert sound(page) == []
    # 295 g of wool are left unscoured: 280 g scoured.
    assert answer(page).startswith("How big it can be Up to 280 g: first step Thu 26 Nov 10:00")
    assert "What 5 g more would lack Wool short by 5.3 g" in answer(page)


def test_a_weight_that_fits_is_looked_at_in_one_step(client: Client) -> None:
    page = look(client, **BLUSH)
    (link,) = [row for row in read(page).query("section.looked a") if "280 g" in said(row)]

    then = client.get(str(link.attrs["href"]))

    assert answer(then).startswith("The answer Yes: Thu 26 Nov 10:00")


def test_a_weight_that_is_filled_in_is_told_for(client: Client) -> None:
    text = answer(look(client, **BLUSH, weight="10", unit="kg"))

    assert "How far each thing goes, told for 10,000 g" in text
    assert "not enough The line holds 3 kg at once: 10 kg would want 4 hangings" in text
    assert "enough 300 L from 8 to 80 °C take 35.9 kWh, 10.3 h on R1 alone" in text


def test_a_shade_has_to_be_chosen_first(client: Client) -> None:
    page = look(client, big="1")

    assert "Choose a shade" in said(read(page).query("main")[0])


def test_it_is_offered_beside_every_answer(client: Client) -> None:
    page = look(client, recipe="blush", weight="400", unit="g", card="yes")
    (link,) = [row for row in read(page).query("a.touch") if said(row) == "How big can it be?"]

    assert answer(client.get(str(link.attrs["href"]))).startswith("How big it can be Up to 280 g")


def test_a_run_is_asked_on_its_own_page(client: Client) -> None:
    page = client.get("/runs/E/", {"at": MONDAY, "big": "1"})

    assert sound(page) == []
    assert answer(page).startswith("How big it can be Up to 400 g: first step Thu 26 Nov 12:00")
    assert "with 0.005 kg more line room on Friday" in answer(page)
    # Two days would do for the same hands; what lacks them is said once.
    assert answer(page).count("Hands for rinse on Sat 28 Nov 10:00") == 1
    assert "with 72 min more hands on Saturday it would do" in answer(page)
    assert "with 30 min of hands on Sunday, 09:00 to 18:00 it would do" in answer(page)


def test_a_group_is_as_big_as_its_people(client: Client) -> None:
    page = client.get("/runs/F/", {"at": MONDAY, "big": "1"})

    assert "F is a group's: so much as its people dye." in said(read(page).query("main")[0])
    assert "How big can it be?" not in said(read(page).query("main")[0])


@pytest.mark.parametrize("address", ["/ask/?recipe=blush&card=yes&big=1", "/runs/E/?big=1",
                                     "/api/v1/how-big/?run=E"])  # fmt: skip
def test_no_more_is_read_than_for_any_page(client: Client, address: str) -> None:
    client.get(f"{address}&at={MONDAY}")

    with CaptureQueriesContext(
        connection,
    ) as asked_for:
        client.get(f"{address}&at={MONDAY}")

    assert len(asked_for) <= QUERIES, [row["sql"][:200] for row in asked_for]


def test_nothing_is_written_down(client: Client, yard: Studio) -> None:
    before = Run.objects.of(yard).count()

    look(client, **BLUSH)

    assert Run.objects.of(yard).count() == before


# -- for programs ------------------------------------------------------------------------------


def test_a_program_is_told_weight_step_and_what_binds(client: Client) -> None:
    found = asked(client, run="E").json()["how_big"]

    assert (found["weight_g"], found["step_g"], found["fits"]) == ("400", "5", True)
    assert found["dry_at"] == "2026-11-29T10:45:00+00:00"
    assert found["binds"][0]["kind"] == "line"
    assert found["binds"][0]["would_do"].startswith("0.005 kg more line room")
    (iron,) = [row for row in found["reaches"] if row["kind"] == "pots"]
    assert (iron["enough_for_g"], iron["enough"]) == ("400", False)


def test_one_run_more_is_asked_by_its_recipe(client: Client) -> None:
    found = asked(client, recipe="blush", agreed="yes", due="2026-12-04", weight="10 kg").json()

    assert found["how_big"]["weight_g"] == "280"
    assert found["how_big"]["told_for_g"] == "10000"


def test_nothing_asked_is_answered_with_nothing(client: Client) -> None:
    assert asked(client).json()["how_big"] is None


@pytest.mark.parametrize(
    ("words", "parameter", "detail"),
    [
        ({"run": "Z"}, "run", "No run is called Z here. There are A, B, C, D, E, F and G."),
        ({"run": "F"}, "run", "F is a group's: so much as its people dye."),
        ({"fibre": "wool"}, "run", "Say which run, or by which recipe one more would be dyed."),
        ({"run": "E", "recipe": "blush"}, "recipe",
         "Say a run or a recipe: a run that is wanted has its recipe already."),
        ({"recipe": "slate", "fibre": "linen"}, "fibre",
         "Slate is worked out for silk, not linen. Say one of them."),
        ({"recipe": "slate", "agreed": "perhaps"}, "agreed",
         "agreed is yes or no; not “perhaps”."),
        ({"run": "E", "weight": "900 kg"}, "weight", "“900 kg” is nothing, or far too much."),
    ],
)  # fmt: skip
def test_what_cannot_be_asked_is_refused_with_what_to_say(
    client: Client, words: dict[str, str], parameter: str, detail: str
) -> None:
    answer = asked(client, **words)

    assert answer.status_code == 400
    body = answer.json()
    assert (body["code"], body["parameter"]) == ("how_big_unreadable", parameter)
    assert body["detail"] == detail
