"""The page of the shelves, read as a browser reads it."""

from __future__ import annotations

import re
from datetime import date, timedelta
from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from inventory import jars, ledger, lots
from inventory.entries import Dyed, Fibre, Made, NewLot, Take
from inventory.models import Studio, StudioRule
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, load
from tests.inventory.larder import BENCH, G, stones
from tests.sourcing.week.pellitory import MONDAY_0730

pytestmark = pytest.mark.django_db
QUESTIONS = 7  # the studio, then six for all that lies there
PARTS = ("jars", "baths", "lots", "totals", "fibre", "supplies", "pots", "moved")


@pytest.fixture
def yard() -> Studio:
    load()
    return Studio.objects.get(name="Pellitory Yard")


def shelves(client: Client, **asked: str) -> HttpResponse:
    page: HttpResponse = client.get("/shelves/", {"at": MONDAY, **asked})
    return page


def said(client: Client, **asked: str) -> str:
    return words(shelves(client, **asked))


def questions(client: Client) -> int:
    assert connection.features.supports_json_field  # asked once a connection, not for each page
    with CaptureQueriesContext(connection) as asked:
        assert shelves(client).status_code == 200
    return len(asked)


# -- what it says ------------------------------------------------------------------------------


@pytest.mark.usefixtures("yard")
def test_the_page_and_each_part_of_it_are_sound(client: Client) -> None:
    assert sound(shelves(client)) == []
    for part in PARTS:
        assert sound(shelves(client, part=part)) == [], part


def test_an_empty_studio_has_a_sound_page(client: Client) -> None:
    Studio.objects.create(name="Bare Loft", zone="Europe/London")

    assert sound(shelves(client)) == []
    assert "No jars at this moment." in said(client)


@pytest.mark.usefixtures("yard")
def test_jars_say_what_was_worked_by_hand(client: Client) -> None:
    text = said(client)

    # 13.4: day 6, dip Tue 24, by the clock Tue 1 Dec; strip 4 of 21 days; retest; ready 16:00.
    for sentence in (
        "Iron 7 J1 steeping since Tue 17 Nov 09:00 dip Tue 24 Nov, by the clock alone Tue 1 Dec "
        "day 6 of 7 to its dip",
        "Iron 6 J2 matured since Mon 2 Nov 09:00 may be used; dip again after Sun 31 Jan",
        "strip 4 of 5, 21 days old",
        "Iron 3 J3 retest since Wed 9 Sep dip a new strip before it is used",
        "Copper 4 J4 steeping since Sun 22 Nov 16:00 usable today 16:00 hour 15 of 24",
        "orange J5 set aside",
    ):
        assert sentence in text


@pytest.mark.usefixtures("yard")
def test_strength_has_its_range_and_what_it_rests_on(client: Client) -> None:
    text = said(client)

    # 50 g/L acid / 3 / 60.052 / 2 mol of iron, as FeSO4.7H2O of 278.006 g/mol: 38.6 g in a litre.
    assert "The most its acid lets it hold 38.6 g in a litre" in text
    assert "4.8 to 29.3 g; reckoned from days and warmth alone" in text
    assert "27 to 37.8 g; from the strip of Mon 2 Nov, reckoned on from there" in text


@pytest.mark.usefixtures("yard")
def test_lots_say_what_is_left_of_their_life_and_why_they_do_not_count(client: Client) -> None:
    text = said(client)

    assert "AV-1116 avocado stones 1,180 g last good day today" in text
    assert "AV-1109 avocado stones 640 g past by 11 days" in text
    assert "AV-0911 avocado stones 1,900 g good to 11 Sep 2027" in text
    assert "CB-1121 red cabbage 1,200 g good to Thu 26 Nov, 3 days" in text
    assert "counts nothing: set aside since Sat 14 Nov 09:00, damp: dry it and weigh it again" in (
        text.replace(" :", ":")
    )
    assert "avocado stones 4,530 g 6,966 g 640 g: AV-1109 past by 11 days" in text
    assert text.index("AV-1109 avocado") < text.index("AV-1116 avocado") < text.index("AV-0911 avo")


@pytest.mark.usefixtures("yard")
def test_the_freezer_says_what_lies_in_it_tonight(client: Client) -> None:
    text = said(client)

    assert "6,966 g of 6,000 g tonight" in text
    assert "over by 966 g tonight" in text
    assert "1,180 g to freeze today (AV-1116)" in text


@pytest.mark.usefixtures("yard")
def test_fibre_stands_by_what_has_been_done_to_it(client: Client) -> None:
    text = said(client)

    order = [
        text.index(word) for word in ("unscoured 5,400 g", "scoured 1,300 g", "mordanted with alum")
    ]
    assert order == sorted(order)
    assert "W-88 wool yarn 2,400 g dry since 1 Jan 2026; 2,280 g once scoured" in text
    assert "W-85 wool yarn 500 g damp: past by 3 days" in text
    assert "in the post, comes Thu 26 Nov 12:00" in text


@pytest.mark.usefixtures("yard")
def test_pots_say_what_they_went_through_and_what_that_bars(client: Client) -> None:
    text = said(client)

    assert "P3 stainless pot iron pot brim 20 L, filled to 16 L no brights in it Mon 9 Nov" in text
    assert "P4 enamel pot chipped brim 12 L, filled to 9.6 L no brights in it" in text
    assert (
        "P1 stainless pot clean brim 60 L, filled to 48 L Mon 16 Nov: blank swatch passed" in text
    )
    assert "3 kW, not for P1" in text


@pytest.mark.usefixtures("yard")
def test_cautions_stand_where_the_work_is(client: Client) -> None:
    text = said(client)

    assert "GAS iron in vinegar gives off hydrogen: lid loose, away from flame" in text
    assert "HOLD copper harms fish and plants" in text
    assert "Take care: POISON, NESTS" in text
    assert "POISON privet: all of privet is poisonous" in text.replace(" :", ":")


@pytest.mark.usefixtures("yard")
def test_every_drawing_has_a_text_equal(client: Client) -> None:
    drawings = [
        node.attrs for node in read(shelves(client)).query("svg") if "aria-hidden" not in node.attrs
    ]

    assert len(drawings) > 25
    assert all(each.get("role") == "img" and each.get("aria-label") for each in drawings)
    labels = {each["aria-label"] for each in drawings}
    assert "Iron 6 (J2): 900 mL of 900 mL, matured" in labels
    assert "P4, enamel pot: 12 L to the brim, filled to 9.6 L; chipped" in labels


@pytest.mark.usefixtures("yard")
def test_no_word_of_the_office_is_on_the_page(client: Client) -> None:
    office = (
        "asset|warehouse|pipeline|dashboard|widget|tile|tenant|task|sync|push|upload|user|admin|"
        "badge|resource|allocate|expire[sd]?|quarantine|batch|stock|status|pit|vendor|purchase"
    )

    assert re.findall(rf"\b({office})s?\b", said(client), flags=re.IGNORECASE) == []


# -- the studio's own figures ------------------------------------------------------------------


def test_a_figure_of_the_studios_own_changes_what_the_page_says(
    client: Client, yard: Studio
) -> None:
    before = said(client)
    StudioRule.objects.of(yard).create(
        item="avocado stones",
        name="keeps_fresh_fridge_days",
        value=Decimal(9),
        low=Decimal(8),
        high=Decimal(10),
        since=date(2026, 11, 20),
        source="four bags watched",
    )

    after = said(client)

    assert "AV-1116 avocado stones 1,180 g last good day today" in before
    assert "AV-1116 avocado stones 1,180 g good to Wed 25 Nov, 2 days" in after
    assert "9 days 8 days to 10 days the studio's own, measured here 20 Nov 2026" in after
    assert "four bags watched" in after
    assert "over by 966 g tonight" not in after  # nothing has to be frozen today


def test_a_jars_own_day_decides_its_state(client: Client, yard: Studio) -> None:
    StudioRule.objects.of(yard).create(
        item="iron liquor", name="usable_from_days", value=Decimal(6), since=date(2026, 11, 20)
    )

    assert "Iron 7 J1 ready to dip since today dip today" in said(client)


def test_without_its_own_figure_the_shipped_one_is_shown_with_range_and_source(
    client: Client, yard: Studio
) -> None:
    StudioRule.objects.of(yard).filter(item="red cabbage").delete()

    text = said(client)

    assert "5 days 5 days to 28 days assumed, not measured" in text
    assert "CB-1121 red cabbage 1,200 g good to Thu 26 Nov" in text


@pytest.mark.usefixtures("yard")
def test_every_figure_leads_to_its_place_on_the_page_of_figures(client: Client) -> None:
    links = {
        node.attrs["href"] or ""
        for node in read(shelves(client)).query("a")
        if (node.attrs.get("href") or "").startswith(reverse("figures"))
        and "#" in node.attrs["href"]
    }

    asked = "?at=2026-11-23T07%3A30"
    assert f"{reverse('figures')}{asked}#avocado-stones-keeps_fresh_fridge_days" in links
    assert f"{reverse('figures')}{asked}#iron-liquor-usable_from_days" in links
    assert f"{reverse('figures')}{asked}#wool-scour_loss_fraction" in links


# -- much of it --------------------------------------------------------------------------------


def test_the_page_asks_seven_times_and_no_more_at_twenty_times_as_much(
    client: Client, yard: Studio
) -> None:
    few = questions(client)
    for number in range(180):
        stones(yard, f"S-{number:03}", at=MONDAY_0730 - timedelta(hours=number))
    for number in range(80):
        jars.begin(
            yard, entry=uuid4(), at=MONDAY_0730, code=f"JAR-{number}", name=f"Iron {number}",
            metal="iron", volume=1_000_000, vinegar_parts=1, water_parts=2,
            acid_percent=Decimal(5), begun_at=MONDAY_0730, temperature_c=8,
        )  # fmt: skip

    assert few == questions(client) == QUESTIONS


def test_lots_beyond_those_shown_are_summed_and_can_all_be_seen(
    client: Client, yard: Studio
) -> None:
    for number in range(70):
        stones(yard, f"S-{number:03}", grams=10, at=MONDAY_0730)

    whole, first, second = (
        said(client), said(client, part="lots", page="1"), said(client, part="lots", page="2"),
    )  # fmt: skip

    # Ten lots of the week and seventy: 24 are shown, 56 of them summed.
    assert "56 lots more of " in whole
    assert "1 to 60 of 80 Those after" in first
    assert "61 to 80 of 80 Those before" in second
    listed = {code for text in (first, second) for code in re.findall(r"S-\d{3}", text)}
    assert len(listed) == 70


def test_a_jar_of_many_draws_tells_the_last_and_sums_the_rest(client: Client, yard: Studio) -> None:
    for number in range(20):
        ledger.draw(
            yard,
            entry=uuid4(),
            at=MONDAY_0730 - timedelta(hours=20 - number),
            takes=[Take("J2", 10_000)],
        )

    text = said(client)

    # Twenty draws, a dip, a straining and the beginning; eight are shown.
    assert "and 15 things before, 12 draws of 120 mL in all" in text
    assert "Iron 6 (J2): 700 mL of 900 mL, matured" in shelves(client).content.decode()


def test_what_moved_goes_back_page_by_page(client: Client, yard: Studio) -> None:
    for _ in range(60):
        ledger.draw(yard, entry=uuid4(), at=MONDAY_0730, takes=[Take("AV-1030", 1000)])

    first, second = said(client, part="moved"), said(client, part="moved", page="2")

    assert "1 to 50 Those after" in first
    assert "51 to 91 Those before" in second
    assert "1 g of AV-1030 (avocado stones) drawn" in first


# -- what somebody wrote -----------------------------------------------------------------------


def test_what_somebody_wrote_is_shown_as_letters_and_never_run(
    client: Client, yard: Studio
) -> None:
    evil = '<script>alert("1")</script>'
    lot = NewLot(code='B"><img src=x', what=evil, state="fresh", place=BENCH, source=evil)
    ledger.receive(yard, entry=uuid4(), at=MONDAY_0730, lot=lot, amount=5 * G, note=evil)
    lots.set_aside(yard, entry=uuid4(), at=MONDAY_0730, lot='B"><img src=x', reason=evil)

    page = shelves(client)

    assert sound(page) == []
    assert "<script>" not in page.content.decode()
    assert evil in words(page)


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize(
    ("asked", "status", "sentence"),
    [
        ({"part": "sofas"}, 400, "The shelves have no part “sofas”. Ask for jars, baths, lots"),
        ({"part": "lots", "page": "0"}, 400, "“0” is no page here."),
        ({"part": "lots", "page": "9" * 5000}, 400, "is no page here."),
        ({"part": "lots", "page": "٣"}, 400, "“٣” is no page here."),
        ({"page": "2"}, 400, "“2” is no page here. Ask for a part and a page from 1 on."),
        ({"colour": "red"}, 400, "The page of the shelves is asked for with at, days, studio"),
        ({"studio": "Nowhere"}, 404, "No studio is called “Nowhere”."),
    ],
)
def test_what_cannot_be_shown_is_said_in_a_sentence(
    client: Client, asked: dict[str, Any], status: int, sentence: str
) -> None:
    page = shelves(client, **asked)

    assert page.status_code == status
    assert sentence in words(page)


@pytest.mark.usefixtures("yard")
def test_a_page_beyond_the_last_is_empty_and_leads_back(client: Client) -> None:
    assert "10 in all Those before" in said(client, part="lots", page="7")


# -- fibre that was dyed -----------------------------------------------------------------------


def test_dyed_fibre_stands_by_what_it_is_kept_as(client: Client, yard: Studio) -> None:
    streaky = Dyed(depth=3, quality="second quality", came_out="streaky")
    for code, dyed in (("W-101", None), ("W-102", streaky)):
        ledger.dye(
            yard,
            entry=uuid4(),
            at=MONDAY_0730,
            takes=[Take("W-90", 200_000)],
            makes=[
                Made("W-90", code, 200_000, Fibre(True, "alum", Decimal(12), shade="Blush"), dyed)
            ],
        )

    text = said(client)

    assert "dyed 200 g W-101 wool yarn 200 g dry" in text
    assert "dyed, second quality 200 g W-102 wool yarn 200 g dry" in text
    assert "dyed Blush, depth 3 of 5; came out streaky; mordanted with alum 12 %" in text
    assert "200 g of W-102 (wool), kept as second quality: streaky; took 200 g of W-90" in text


def test_cloth_whose_size_is_known_is_shown_in_metres_too(client: Client) -> None:
    load("kelpwick-loft")

    # 4 lb of 4.4 oz on a square yard, 60 in wide: 64 oz / 4.4 = 14.545 yd² = 523.6 in by 36,
    # over 60 in / 36 in: 8.727 yd of 0.9144 m = 7.98 m, 8 m to the tenth.
    text = words(client.get("/shelves/", {"at": MONDAY, "studio": "Kelpwick Loft"}))
    assert re.search(
        r"CT-1 cotton cloth 1,814 g dry since [^;]*; 8 m of 149 g/m², 152\.4 cm wide", text
    )


def test_a_second_studios_shelves_say_where_each_thing_stands(client: Client) -> None:
    load("kelpwick-loft")

    text = words(client.get("/shelves/", {"at": MONDAY, "studio": "Kelpwick Loft"}))
    assert "DB-1 dyebath 6 L past by 20 days" in text
    assert "counts nothing: past its last good day: tip it out" in text
    assert "G1 ring 6 kW, any pot, barn" in text
    assert "brim 40 L, filled to 32 L, loft" in text
