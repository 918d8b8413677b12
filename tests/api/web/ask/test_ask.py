"""*Ask for a run*: looked at without a trace, answered with ways on, written down once."""

from __future__ import annotations

from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from api.rights import Right
from inventory.models import Studio
from sourcing.models import Recipe, Run, ShadeCard
from tests.api.members import member, signed_in
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, said

pytestmark = pytest.mark.usefixtures("yard")
QUERIES = 8
SLATE = {"recipe": "slate", "weight": "200", "unit": "g"}


def look(client: Client, **asked: str) -> Any:
    return client.get("/ask/", {"at": MONDAY, **asked})


def ask(client: Client, **asked: str) -> Any:
    return client.post(f"/ask/?at={MONDAY}", asked)


def answer(page: Any) -> str:
    """What stands under *The answer*."""
    return said(read(page).query("section.looked")[0])


def test_the_page_offers_every_shade_with_what_it_wants(client: Client) -> None:
    page = look(client)
    shades = [said(row) for row in read(page).query("label.shade")]

    assert sound(page) == []
    assert len(shades) == 6
    assert "Blush wool: 12 % alum, 150 % avocado stones" in shades
    assert "Hedge Olive wool: 80 % dried privet, 35 mL per 100 g of copper liquor" in shades


def test_a_run_that_fits_is_answered_with_its_hours(client: Client) -> None:
    """All of S-12 is meant for D; undated, the new run takes what D leaves of the silk: nothing."""
    page = look(client, **SLATE, by="2026-11-27")

    assert sound(page) == []
    assert answer(page).startswith("The answer Yes: Mon 23 Nov 09:00 cold alum, dry Thu 26 Nov")
    assert "100 g of ON-0801 onion skins, leaves 720 g" in words(page)


def test_what_a_run_pushes_out_of_place_is_said(client: Client) -> None:
    text = answer(look(client, **SLATE, by="2026-11-27"))

    assert "What it moves D Slate no Answer yes becomes no" in text
    assert "Now silk short by 200 g" in text


def test_a_run_that_takes_from_nobody_moves_nobody(client: Client) -> None:
    text = answer(look(client, recipe="blush", weight="100"))

    assert "What it moves No other run moves." in text
    assert text.endswith("1 keeps answer and days, with other hours, pots or lots in between.")


def test_what_there_is_enough_for_is_one_press_away(client: Client) -> None:
    """W-88 has 2,400 g, and A takes 2,105 g of it: 295 g raw are 280 g scoured."""
    page = look(client, recipe="blush", weight="1", unit="kg")
    way = read(page).query("a.way-link")[0]

    text = answer(client.get(str(way.attrs["href"])))

    assert answer(page).startswith("The answer No: Wool short by 758 g")
    assert said(way).startswith("240 g instead")
    assert text.startswith("The answer Yes")


def test_a_day_that_is_too_early_leads_to_the_first_that_is_not(client: Client) -> None:
    page = look(client, recipe="slate", weight="200", by="day", day="2026-11-25")
    links = {said(row): str(row.attrs["href"]) for row in read(page).query("a.way-link")}
    later = next(href for text, href in links.items() if "hand it over" in text or "Wait" in text)

    text = answer(client.get(later))

    assert "by=day" in later
    assert text.startswith("The answer Yes")


def test_without_an_agreed_shade_a_client_hears_no_and_what_to_do(client: Client) -> None:
    page = look(client, **SLATE, by="2026-11-27", card="no")
    ways = {said(row): str(row.attrs["href"]) for row in read(page).query("a.way-link")}
    agreed = next(href for text, href in ways.items() if "shade card" in text)

    assert "Shade card for Slate on silk is not approved yet" in words(page)
    assert "card=yes" in agreed


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({"recipe": "slate", "weight": ""}, "Say how much fibre, dry."),
        ({"recipe": "puce", "weight": "1"}, "Choose a shade; there is no recipe of that name."),
        ({**SLATE, "on": "W-90"}, "Slate is worked out for silk, not for wool."),
        ({**SLATE, "weight": "0"}, "“0 g”: it is nothing. Write a weight such as 500 g."),
        ({**SLATE, "weight": "3 L"}, "Say what the fibre weighs dry, such as 200 g."),
        ({**SLATE, "weight": "100.1", "unit": "kg"}, "a run of 100 kg at most is worked out."),
        ({**SLATE, "by": "2026-11-22"}, "22 November 2026 has passed."),
        ({**SLATE, "by": "day"}, "Say by which day, or choose “whenever it fits”."),
        ({**SLATE, "by": "soon"}, "“soon” is no day."),
    ],
    ids=["nothing", "recipe", "fibre", "zero", "litres", "heavy", "past", "no day", "unclear"],
)
def test_what_cannot_be_asked_is_said_and_nothing_typed_is_lost(
    client: Client, asked: dict[str, str], sentence: str
) -> None:
    page = look(client, **asked)
    fields = {str(row.attrs.get("name")): row.attrs for row in read(page).query("form.ask input")}

    assert page.status_code == 422
    assert sound(page) == []
    assert sentence in words(page)
    assert (fields["weight"].get("value") or "") == asked["weight"]


def test_a_run_is_asked_for_and_gets_the_answer_it_was_shown(client: Client, yard: Studio) -> None:
    shown = answer(look(client, **SLATE, by="2026-11-27"))
    page = ask(client, **SLATE, by="2026-11-27", whom="the weavers")
    run = Run.objects.of(yard).get(code="H")

    assert (page.status_code, page["Location"]) == (
        303,
        f"/runs/H/?at={MONDAY.replace(':', '%3A')}",
    )
    assert (run.fibre, run.weight_mg, run.for_whom, run.client) == (
        "silk", 200_000, "the weavers", True)  # fmt: skip
    text = answer(client.get(page["Location"]))
    assert shown.startswith(text)
    assert ShadeCard.objects.of(yard).get(run=run).approved  # as D's is


def test_one_form_sent_twice_is_one_run(client: Client, yard: Studio) -> None:
    page = look(client, **SLATE)
    entry = str(read(page).query("input[name=entry]")[0].attrs["value"])

    first = ask(client, **SLATE, entry=entry)
    again = ask(client, **SLATE, entry=entry)

    assert first["Location"] == again["Location"]
    assert Run.objects.of(yard).count() == 8


def test_what_is_refused_leaves_no_run_behind(client: Client, yard: Studio) -> None:
    page = ask(client, **{**SLATE, "on": "W-90"})

    assert page.status_code == 422
    assert "not for wool" in words(page)
    assert Run.objects.of(yard).count() == 7


def test_a_helper_looks_and_does_not_ask(client: Client, yard: Studio) -> None:
    helper = signed_in(member(yard, Right.HELPER, "jo@yard.example"))

    page = ask(helper, **SLATE)

    assert look(helper).status_code == 200
    assert page.status_code == 403
    assert "This needs the right of a dyer" in words(page)
    assert Run.objects.of(yard).count() == 7


def test_the_page_asks_few_questions_and_no_more_of_a_hundred_recipes(
    client: Client, yard: Studio
) -> None:
    few = questions(client)
    first = Recipe.objects.of(yard).get(code="slate")
    for number in range(100):
        first.pk, first.code, first.shade = None, f"s-{number}", f"Slate {number}"
        first.save(force_insert=True)

    assert questions(client) == few <= QUERIES
    shades = read(look(client, **SLATE)).query("label.shade")
    assert len(shades) == 24
    assert said(shades[0]).startswith("Slate silk")
    assert len(read(look(client, find="slate 99")).query("label.shade")) == 1


def questions(client: Client) -> int:
    with CaptureQueriesContext(connection) as asked:
        assert look(client, **SLATE).status_code == 200
    assert all(query["sql"].startswith(("SELECT", "WITH")) for query in asked)  # keeps nothing
    return len(asked)
