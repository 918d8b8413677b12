"""Labels for jar, bag and skein: plain words, dates in full, what to beware of, a way back."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from api.web.labels.asked import LABELS_AT_MOST
from tests.api.web.note.filled import opened, sent
from tests.api.web.pages import as_read, read, sound, words
from tests.api.web.paper.codes import codes_of
from tests.api.web.yard import MONDAY

pytestmark = pytest.mark.usefixtures("yard")


def labels(client: Client, *codes: str, **asked: str) -> Any:
    return client.get("/labels/", {"at": MONDAY, "of": codes, **asked})


def label(client: Client, code: str) -> str:
    """What one label says, with single spaces."""
    [found] = read(labels(client, code)).query("article.label")
    return as_read(found.to_text())


def test_the_label_of_iron_7_says_what_the_tape_would_say(client: Client) -> None:
    """Design papers 12, no. 16."""
    said = label(client, "J1")

    for text in (
        "J1 Iron 7 iron liquor, 1 vinegar to 2 water, vinegar 5 %",
        "begun Tue 17 Nov 2026, 3 L",
        "dip Tue 24 Nov 2026",
        "by the clock Tue 1 Dec 2026",
        "HIGH SHELF iron liquor swallowed can kill a child",
        "lid loose, away from flame and ring; up to 10.0 L of gas",
        "NOT FOOD",
    ):
        assert text in said


def test_a_jar_that_is_ready_says_its_strip_and_when_it_is_dipped_again(client: Client) -> None:
    said = label(client, "J2")

    assert "strip 4 of 5 on Mon 2 Nov 2026 dip again after Sun 31 Jan 2027" in said
    assert "L of gas" not in said


def test_copper_says_its_hour_gloves_and_that_it_is_held(client: Client) -> None:
    said = label(client, "J4")

    assert "usable Mon 23 Nov 2026 16:00" in said
    assert "GLOVES" in said
    assert "HOLD" in said
    assert "hydrogen" not in said


def test_a_jar_that_nobody_knows_is_set_aside_with_room_for_what_it_is(client: Client) -> None:
    said = label(client, "J5")

    assert "J5 not known: orange Set aside: no label in it 700 mL what it is" in said
    assert "NOT FOOD" in said


def test_a_bath_says_until_when(client: Client) -> None:
    said = label(client, "J6")

    assert "nettle bath made Thu 19 Nov 2026, 8 L, kept at 8 °C" in said
    assert "last good day Tue 24 Nov 2026" in said


def test_the_poison_flag_follows_privet_to_its_bag(client: Client) -> None:
    said = label(client, "PR-1003")

    assert "privet, dried weight 560 g dried last good day Sun 3 Oct 2027" in said
    assert "POISON all of privet is poisonous to people, horses and dogs" in said
    assert "OWNER'S YES" not in said


def test_a_fugitive_dyestuff_says_so(client: Client) -> None:
    assert "FADES soon loses its colour" in label(client, "CB-1121")


def test_what_is_past_its_last_good_day_says_stop(client: Client) -> None:
    assert "Past its last good day: compost" in label(client, "AV-1109")


@pytest.mark.parametrize(
    ("code", "name"), [("W-90", "wool"), ("L-31", "flax or linen"), ("T-07", "lyocell")]
)
def test_fibre_has_the_name_that_the_law_gives_it(client: Client, code: str, name: str) -> None:
    said = label(client, code)

    assert f"fibre name for sale {name}" in said
    assert "check your local rules" in said
    assert "NOT FOOD" not in said


def test_a_skein_says_its_dry_weight_and_what_it_has_had(client: Client) -> None:
    said = label(client, "W-90")

    assert "W-90 wool yarn dry weight 600 g" in said
    assert "mordanted with alum 12 %, dry since Tue 3 Nov 2026" in said


def test_damp_wool_says_for_how_long(client: Client) -> None:
    said = label(client, "W-85")

    assert "Damp too long: look for mould" in said
    assert "damp no longer than Fri 20 Nov 2026" in said


def test_each_code_leads_to_its_own_thing(client: Client) -> None:
    page = labels(client, "J1", "AV-0911", "W-88")

    assert codes_of(page) == [
        "http://testserver/found/?code=J1",
        "http://testserver/found/?code=AV-0911",
        "http://testserver/found/?code=W-88",
    ]
    assert sound(page) == []


def test_labels_come_in_the_order_asked_for_each_once(client: Client) -> None:
    page = read(labels(client, "W-88", "J1", "W-88"))

    assert [row.to_text() for row in page.query(".label-code")] == ["W-88", "J1"]


def test_all_that_stands_on_the_shelves_can_be_chosen(client: Client) -> None:
    page = labels(client, "J1")
    boxes = {row.attrs["value"]: row for row in read(page).query('input[type="checkbox"]')}

    assert {"J1", "J6", "AV-0911", "W-88"} <= set(boxes)
    assert [code for code, row in boxes.items() if "checked" in row.attrs] == ["J1"]
    assert read(labels(client)).query("article.label") == []


def test_what_is_not_there_is_said_and_the_rest_is_printed(client: Client) -> None:
    page = labels(client, "J1", "AV-1")

    assert "“AV-1”: nothing of that name stands on the shelves at this moment." in words(page)
    assert len(read(page).query("article.label")) == 1


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({"paper": "silk"}, "There is no paper “silk”. Ask for a4, 100x60, 80x50 and 60x40."),
        (
            {"of": [f"X{number}" for number in range(LABELS_AT_MOST + 1)]},
            "61 labels asked for; 60 at most are printed at once.",
        ),
        ({"at": [MONDAY, MONDAY]}, "at stands twice in the address; write it once."),
    ],
)
def test_what_cannot_be_printed_is_refused(
    client: Client, asked: dict[str, Any], sentence: str
) -> None:
    page = client.get("/labels/", asked)

    assert page.status_code == HTTPStatus.BAD_REQUEST
    assert sentence in words(page)


def test_sixty_labels_are_printed(client: Client) -> None:
    codes = [f"X{number}" for number in range(LABELS_AT_MOST)]

    assert labels(client, *codes).status_code == HTTPStatus.OK


def test_labels_ask_the_tables_no_more_often_than_the_shelves(client: Client) -> None:
    with CaptureQueriesContext(connection) as asked:
        labels(client, "J1", "J2", "PR-1003", "W-88")

    assert len(asked) <= 8


@pytest.mark.parametrize("code", ["J1", "J6", "AV-0911", "W-88"])
def test_everything_on_the_shelves_leads_to_its_label(client: Client, code: str) -> None:
    page = read(client.get("/shelves/", {"at": MONDAY}))
    links = [a.attrs["href"] for a in page.query("a") if a.to_text().startswith("Label")]

    [link] = [link for link in links if link.endswith(f"&of={code}")]
    assert [row.to_text() for row in read(client.get(link)).query(".label-code")] == [code]


def label_links(client: Client, answer: Any) -> list[str]:
    page = read(client.get(answer["Location"]))
    return [a.attrs["href"] for a in page.query("a") if a.to_text() == "Print its label"]


def test_what_was_just_made_leads_to_its_label(client: Client) -> None:
    answer = sent(client, opened(client, "pick-up", source="Lantern Steps café"), amount="58")

    [link] = label_links(client, answer)

    [code] = [row.to_text() for row in read(client.get(link)).query(".label-code")]
    assert link.endswith(f"of={code}")


def test_what_was_there_already_needs_no_new_label(client: Client) -> None:
    answer = sent(client, opened(client, "dip"), grade="3")

    assert label_links(client, answer) == []
