"""A group day on paper: shares, knots, hours, hazards of what is really used, honest slips."""

from __future__ import annotations

from dataclasses import replace
from http import HTTPStatus
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from hypothesis import given
from hypothesis import strategies as st

from api.question import Question
from api.web.drawing.knots import draw_knots
from api.web.drawing.qr import draw_qr
from api.web.group.view import fading_said, group_shown
from api.web.page import shown
from inventory.models import Studio
from sourcing.week.group_sheet import marks
from sourcing.week.project import project
from tests.api.web.pages import read, sound, words
from tests.api.web.paper.codes import codes_of
from tests.api.web.yard import MONDAY
from tests.sourcing.week.pellitory import FACTS
from tests.sourcing.week.random_studios import studio, with_group


def sheet(client: Client, run: str = "F", paper: str = "group") -> Any:
    return client.get(f"/runs/{run}/{paper}/", {"at": MONDAY})


@pytest.mark.usefixtures("yard")
def test_twelve_people_have_their_shares(client: Client) -> None:
    """Design papers 12, no. 32: 12 × 20 g = 240 g; nettle 7.2 L from 360 g dried."""
    page = sheet(client)
    said = words(page)

    assert sound(page) == []
    for text in (
        "Sat 28 Nov 2026, 10:00 to 14:00 12 people × 20 g of wool; taken for it: R1 and R2",
        "wool 20 g 240 g W-85",
        "nettle, for the nettle bath 30 g 360 g NE-0620",
        "red cabbage 40 g 480 g CB-1121",
        "nettle bath 600 mL 7.2 L made before",
        "Freeze 480 g of CB-1121 Thu 26 Nov",
        "Make 7.2 L of nettle bath Fri 27 Nov: 17:15 to 17:58 in P1 7.2 L on R1",
        "See to: W-85 (wool) damp for 6 days, limit 3: check it for mould today",
    ):
        assert text in said
    assert codes_of(page) == ["http://testserver/found/?run=F"]


@pytest.mark.usefixtures("yard")
def test_hazards_are_of_what_is_really_used(client: Client) -> None:
    [hazards] = read(sheet(client)).query("article.hazards")
    said = hazards.to_text()

    for mark in ("STINGS", "CHILDREN", "NOT FOOD", "FADES"):
        assert mark in said
    for mark in ("POISON", "GLOVES", "MASK", "GAS", "OWNER'S YES"):
        assert mark not in said


@pytest.mark.usefixtures("yard")
def test_dangers_and_fading_are_told_though_nothing_is_laid_out(client: Client) -> None:
    """On Friday the week says no, as W-85 was not looked at; the twelve may come all the same."""
    late = {"at": "2026-11-27T20:00"}
    page = client.get("/runs/F/group/", late)
    [hazards] = read(page).query("article.hazards")

    assert "W-85 has been damp for 10 days: check for mould" in words(page)
    for mark in ("STINGS", "CHILDREN", "NOT FOOD", "FADES"):
        assert mark in hazards.to_text()
    slips = words(client.get("/runs/F/slips/", late))
    assert slips.count("Red cabbage is fugitive: its colour will fade in days to weeks") == 12


def test_privet_is_flagged_where_a_group_is_given_it() -> None:
    """Design papers 12, no. 32: privet flagged if present."""
    recipes = tuple(
        replace(
            recipe,
            doses=tuple(
                replace(dose, what="privet") if dose.what == "red cabbage" else dose
                for dose in recipe.doses
            ),
        )
        for recipe in FACTS.recipes
    )
    facts = replace(FACTS, recipes=recipes, runs=tuple(r for r in FACTS.runs if r.group_block))
    week = project(facts, days=7)

    found = group_shown(facts, week, week.answers[0], code=draw_qr("x"))

    assert "privet" in found.used
    assert found.cautions[0].mark == "POISON"


@pytest.mark.usefixtures("yard")
def test_every_skein_has_a_mark_of_its_own(client: Client) -> None:
    page = read(sheet(client))

    drawn = [row.attrs["aria-label"] for row in page.query(".group-marks .knots")]

    assert len(drawn) == len(set(drawn)) == 12
    assert drawn[:3] == ["0 and 2 knots", "1 and 1 knots", "2 and 0 knots"]


@given(st.integers(1, 312))
def test_one_knot_that_came_loose_leaves_nobody_s_mark(people: int) -> None:
    found = marks(people)

    assert len(set(found)) == people
    for mark in found:
        for end, knots in enumerate(mark):
            if knots:
                loose = (*mark[:end], knots - 1, *mark[end + 1 :])
                assert loose not in found


@pytest.mark.parametrize(("people", "ends"), [(12, 2), (13, 3), (62, 3), (63, 4)])
def test_more_people_ask_for_one_more_end(people: int, ends: int) -> None:
    assert {len(mark) for mark in marks(people)} == {ends}


def test_knots_are_drawn_as_many_as_there_are() -> None:
    drawn = draw_knots((3, 0, 1))

    assert [len(end.knots) for end in drawn.ends] == [3, 0, 1]
    assert drawn.ends[0].long < drawn.ends[1].long < drawn.ends[2].long
    assert drawn.words == "3 and 0 and 1 knots"


@pytest.mark.usefixtures("yard")
def test_each_takes_a_slip_home_that_tells_the_truth(client: Client) -> None:
    """Design papers 12, no. 24."""
    page = sheet(client, paper="slips")
    slips = read(page).query(".home-slip")

    assert sound(page) == []
    assert len(slips) == 12
    said = " ".join(slips[0].to_text().split())
    assert "20 g of wool" in said
    assert "dyed Sat 28 Nov 2026 at Pellitory Yard" in said
    assert "nettle (lot NE-0620) and red cabbage (lot CB-1121)" in said
    assert "Red cabbage is fugitive: its colour will fade in days to weeks" in said
    assert "Nettle: how long this skein keeps its colour was not tested." in said


def test_nothing_is_promised_of_what_nobody_knows() -> None:
    said = fading_said("moss", fugitive=False)

    assert said == "Moss: how long this skein keeps its colour was not tested."


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize("paper", ["group", "slips"])
def test_a_run_of_no_group_has_no_such_sheet(client: Client, paper: str) -> None:
    page = sheet(client, "A", paper)

    assert page.status_code == HTTPStatus.NOT_FOUND
    assert "Run A is no group day; its own sheet says all there is." in words(page)
    assert sheet(client, "Z9", paper).status_code == HTTPStatus.NOT_FOUND


@pytest.mark.usefixtures("yard")
def test_the_sheet_of_a_group_day_leads_to_its_papers(client: Client) -> None:
    links = [a.attrs["href"] for a in read(sheet(client, "F", "sheet")).query(".paper-ways a")]

    assert any(link.startswith("/runs/F/group/") for link in links)
    links = [a.attrs["href"] for a in read(sheet(client)).query(".paper-ways a")]
    assert any(link.startswith("/runs/F/slips/") for link in links)


@pytest.mark.usefixtures("yard")
def test_a_group_day_asks_the_tables_no_more_often_than_the_week(client: Client) -> None:
    with CaptureQueriesContext(connection) as asked:
        sheet(client)

    assert len(asked) <= 8


def test_any_group_day_has_sound_papers_also_one_that_comes_to_nothing() -> None:
    for number in range(4):
        facts = with_group(studio(number), number)
        week = project(facts, days=7)
        question = Question(Studio(name=facts.studio, zone=facts.zone.key), facts.at, 7, ())
        for row in (row for row in week.answers if row.run == "Z-group"):
            found = group_shown(facts, week, row, code=draw_qr("x"))
            for template in ("group/page.html", "group/slips.html"):
                page = shown(template, question, here="week", sheet=found, back="/", near=False)
                assert [f for f in sound(page) if not f.startswith("policy")] == []
