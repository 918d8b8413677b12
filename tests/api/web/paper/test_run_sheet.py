"""The sheet of a run: what a helper reads by the ring without a screen."""

from __future__ import annotations

from dataclasses import replace
from http import HTTPStatus
from typing import Any
from uuid import uuid4

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext

from api.question import Question
from api.web.drawing.qr import draw_qr
from api.web.page import shown
from api.web.run_sheet.view import boxes_of, sheet_shown
from inventory.models import Studio
from sourcing.notebook.load import load_files
from sourcing.taken import take_week
from sourcing.week.facts import WeekFacts
from sourcing.week.project import project
from tests.api.web.pages import read, sound, words
from tests.api.web.paper.codes import codes_of
from tests.api.web.yard import MONDAY
from tests.sourcing.test_sharing import shared_yard
from tests.sourcing.week.pellitory import nov
from tests.sourcing.week.random_studios import studio, with_group
from tests.sourcing.week.test_begun import at_their_hours

STRANGE = ' "<i>&\u2028%20#'


def sheet(client: Client, run: str, **asked: str) -> HttpResponse:
    return client.get(f"/runs/{run}/sheet/", {"at": MONDAY, **asked})


@pytest.mark.usefixtures("yard")
def test_blush_has_every_weight_litre_time_and_dose(client: Client) -> None:
    """Design papers 12, no. 17."""
    page = sheet(client, "A")
    said = words(page)

    assert sound(page) == []
    for text in (
        "A Blush 2,000 g of wool, dry, weigh out 2,105 g of W-88 unscoured",
        "For a client, due Mon 30 Nov 09:00",
        "First: Freeze AV-1116 today",
        "Mon 23 Nov 09:00 scour P1 on R1 36 L 1,200 g 8 → 55 °C by 09:48, hold 60 min, off 10:48",
        "P2 on R2 24 L 800 g 8 → 55 °C by 09:37, hold 60 min, off 10:37",
        "11:20 hot alum stays in to Tue 24 Nov 09:00 P1 on R1 36 L 1,200 g + 144 g alum",
        "P2 on R2 24 L 800 g + 96 g alum",
        "Tue 24 Nov 09:00 extract AV-1116 1,180 g + AV-0911 1,820 g",
        "P1 on R1 40 L 3,000 g avocado stones 8 → 80 °C by 10:22, hold 60 min, off 11:22",
        "then strain, add 20 L of cold water to make 60 L",
        "12:15 dye stays in to Thu 26 Nov 09:00",
        "Thu 26 Nov 09:00 rinse by hand 2,000 g done 10:00",
        "Hang 2,000 g on line from Thu 26 Nov 10:00 to Sat 28 Nov 10:00",
        "Water: town water, pH 7.4, 8 °C",
        "MASK gloves and a dust mask while powders are weighed (alum)",
        "TWO PEOPLE two people lift what is this heavy (40 L)",
    ):
        assert text in said


@pytest.mark.usefixtures("yard")
def test_slate_says_its_millilitres_and_both_heatings(client: Client) -> None:
    said = words(sheet(client, "D"))

    assert "B2 12 L 400 g + 48 g alum till Tue 24 Nov 09:00" in said
    assert "8 → 80 °C, hold 60 min; 70 → 80 °C, hold 45 min, off 11:18" in said
    assert "P3 12 L 400 g + 200 mL iron liquor (J2) till 15:48" in said
    assert "AIR steam of iron and vinegar" in said
    assert "copper" not in said


@pytest.mark.usefixtures("yard")
def test_a_soak_says_how_long_at_least_and_when_it_is_wanted(client: Client) -> None:
    said = words(sheet(client, "C"))

    assert "B2 18 L 480 g privet (PR-1003) 12 h at least, stays in to Thu 26 Nov 10:00" in said
    assert "POISON" in said


@pytest.mark.usefixtures("yard")
def test_a_not_yet_has_its_sheet_with_what_it_waits_for(client: Client) -> None:
    said = words(sheet(client, "E"))

    assert "Not yet, earliest Mon 30 Nov 13:00 T-07 arrives Thu 26 Nov 12:00" in said
    assert said.count("P3 12 L 300 g + 150 mL iron liquor (J2)") == 3
    assert "B1 36 L 900 g + 90 g tannin 12 h at least, stays in to Tue 1 Dec 13:00" in said


@pytest.mark.usefixtures("yard")
def test_the_sheet_of_a_no_says_why_and_fills_in_nothing(client: Client) -> None:
    page = sheet(client, "B")
    said = words(page)

    assert "No Avocado stones short by 2,034 g = 49 stones: 6,000 g wanted, 3,966 g left" in said
    assert "Light card is on day 21 of 28, reading 3, 4 wanted: look again Mon 30 Nov" in said
    assert not read(page).query(".run-step, .run-boxes")
    assert sound(page) == []


@pytest.mark.usefixtures("yard")
def test_boxes_ask_only_for_what_nobody_knows_before(client: Client) -> None:
    boxes = [row.to_text() for row in read(sheet(client, "A")).query(".run-boxes li")]

    assert boxes == ["time in", "pH", "°C", "who"] * 7 + ["time in", "who"]


@pytest.mark.parametrize(
    ("kind", "heated", "asked"),
    [
        ("dye", True, ("time in", "pH", "°C", "who")),
        ("mordant", False, ("time in", "pH", "who")),
        ("rinse", False, ("time in", "who")),
    ],
)
def test_a_step_without_flame_has_no_box_for_warmth(
    kind: str, heated: bool, asked: tuple[str, ...]
) -> None:
    assert boxes_of(kind, heated=heated) == asked


@pytest.mark.usefixtures("yard")
def test_the_code_leads_to_the_run_and_names_no_moment(client: Client) -> None:
    assert codes_of(sheet(client, "A")) == ["http://testserver/found/?run=A"]


@pytest.mark.usefixtures("yard")
def test_a_studio_that_was_asked_for_stands_in_the_code(client: Client) -> None:
    page = sheet(client, "A", studio="Pellitory Yard")

    assert codes_of(page) == ["http://testserver/found/?run=A&studio=Pellitory+Yard"]


@pytest.mark.usefixtures("yard")
def test_an_address_said_by_the_environment_stands_in_the_code(
    client: Client, settings: Any
) -> None:
    settings.ADDRESS = "https://larder.pellitory.example"

    page = sheet(client, "A")

    assert codes_of(page) == ["https://larder.pellitory.example/found/?run=A"]
    assert "Before you print" not in words(page)


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize(("host", "warned"), [("127.0.0.1:8000", True), ("testserver", False)])
def test_a_code_that_no_phone_can_follow_is_said_before_printing(
    client: Client, host: str, warned: bool
) -> None:
    page = client.get("/runs/A/sheet/", {"at": MONDAY}, headers={"host": host})

    assert ("Before you print: the square codes lead to this machine only" in words(page)) is warned


@pytest.mark.usefixtures("yard")
def test_a_run_that_is_not_asked_for_is_told_from_those_that_are(client: Client) -> None:
    page = sheet(client, "Z9")

    assert page.status_code == HTTPStatus.NOT_FOUND
    assert "There is no run “Z9”. Asked for are A, B, C, D, E, F and G." in words(page)


@pytest.mark.usefixtures("yard")
def test_every_ticket_leads_to_its_sheet(client: Client) -> None:
    links = [
        a.attrs["href"] for a in read(client.get("/", {"at": MONDAY})).query(".ticket-paper a")
    ]

    assert f"/runs/A/sheet/?at={MONDAY.replace(':', '%3A')}" in links
    assert [client.get(link).status_code for link in links] == [200] * 7


@pytest.mark.usefixtures("yard")
def test_a_sheet_asks_the_tables_no_more_often_than_the_week(client: Client) -> None:
    with CaptureQueriesContext(connection) as asked:
        sheet(client, "A")

    assert len(asked) <= 8


def test_what_is_done_says_its_hour_in_place_of_the_boxes() -> None:
    facts = at_their_hours(nov(24, 18))

    page = next(page for page in made_up(facts) if "Blush" in page.content.decode())

    said = words(page)
    assert "✓ done Mon 23 Nov 10:48" in said
    assert "1,200 g + 144 g alum" in said
    assert len(read(page).query(".run-boxes")) == 1  # the rinse is still to do


def made_up(facts: WeekFacts) -> list[HttpResponse]:
    question = Question(Studio(name=facts.studio, zone=facts.zone.key), facts.at, 7, ())
    runs = {run.code: run for run in facts.runs}
    return [
        shown(
            "run_sheet/page.html",
            question,
            here="week",
            sheet=sheet_shown(facts, row, runs[row.run], code=draw_qr("x")),
            back="/",
            near=False,
        )
        for row in project(facts, days=7).answers
    ]


@pytest.mark.parametrize("number", range(3))
def test_any_run_has_a_sound_sheet(number: int) -> None:
    facts = with_group(studio(number), number)
    strange = tuple(replace(run, code=f"{run.code}{STRANGE}") for run in facts.runs)

    for page in [*made_up(facts), *made_up(replace(facts, runs=strange))]:
        assert [fault for fault in sound(page) if not fault.startswith("policy")] == []
        assert "<i>" not in page.content.decode()


@pytest.mark.django_db
def test_each_shared_pot_says_by_its_code_who_else_is_in_it(client: Client) -> None:
    # 2,250 g in 67.5 L: 40.5 L of it in P1 and 27 L in P2.
    load_files(shared_yard())
    take_week(Studio.objects.get(), entry=uuid4(), at=nov(23, 7), until=nov(30),
              together=[("A", "H", "hot alum")])  # fmt: skip

    said = words(sheet(client, "H"))

    both = (
        "P1: in one pot with Blush (A), 40.5 L in all; P2: in one pot with Blush (A), 27 L in all"
    )
    assert said.count(both) == 2  # scour and hot alum
