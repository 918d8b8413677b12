"""Any studio's week makes a sound page: made up by chance, of any length, with any signs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from django.http import HttpResponse

from api.question import Question
from api.web.page import shown
from api.web.this_week.view import this_week
from inventory.models import Studio
from sourcing.week.facts import WeekFacts
from sourcing.week.project import project
from tests.api.web.pages import read, sound
from tests.sourcing.week.random_studios import studio, with_group

STUDIOS = 12
STRANGE = ' "<i>&\u2028%20#'


def page_of(facts: WeekFacts, *, days: int) -> HttpResponse:
    question = Question(Studio(name=facts.studio, zone=facts.zone.key), facts.at, days, ())
    week = project(facts, days=days, unlocks=days == 7)
    return shown("week/page.html", question, here="week", week=this_week(question, facts, week))


def faults(page: HttpResponse) -> list[str]:
    """All but the policy, which is written on the way out."""
    return [fault for fault in sound(page) if not fault.startswith("policy")]


@pytest.mark.parametrize("days", [1, 7, 15])
def test_a_made_up_week_is_a_sound_page(days: int) -> None:
    found = {number: faults(page_of(studio(number), days=days)) for number in range(STUDIOS)}

    assert {number: rows for number, rows in found.items() if rows} == {}


def test_a_made_up_week_with_a_group_day_is_a_sound_page() -> None:
    found = {number: faults(page_of(with_group(studio(number), number), days=7))
             for number in range(STUDIOS)}  # fmt: skip

    assert {number: rows for number, rows in found.items() if rows} == {}


@pytest.mark.parametrize("number", [3, 7])
def test_codes_of_any_signs_are_shown_as_written_and_can_be_gone_to(number: int) -> None:
    facts = studio(number)
    runs = tuple(replace(run, code=f"{run.code}{STRANGE}") for run in facts.runs)
    page = page_of(replace(facts, runs=runs), days=7)

    codes = [row.to_text() for row in read(page).query("article .code")]

    assert faults(page) == []
    assert len(codes) == len(runs) > 0
    assert all('"<i>&' in code for code in codes)
    assert "<i>" not in page.content.decode()
