"""A week is worked out once for the same facts, and anew as soon as anything is otherwise."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest

from inventory.ledger import recount
from inventory.models import Studio
from sourcing import remembered
from sourcing.outlook import facts_at
from sourcing.remembered import week_of
from sourcing.week.facts import WeekFacts
from sourcing.week.project import project
from tests.loaded import load_fixture

MONDAY = datetime(2026, 11, 23, 7, 30, tzinfo=ZoneInfo("Europe/London"))


@pytest.fixture
def studio(db: None) -> Studio:
    load_fixture()
    return Studio.objects.get()


@pytest.fixture(autouse=True)
def worked_out(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[WeekFacts]]:
    """The facts of each week that was worked out, oldest first."""
    asked: list[WeekFacts] = []

    def noted(facts: WeekFacts, **said: Any) -> Any:
        asked.append(facts)
        return project(facts, **said)

    monkeypatch.setattr(remembered, "project", noted)
    remembered.forget()
    yield asked
    remembered.forget()


def gathered(studio: Studio, *, at: datetime = MONDAY, days: int = 7) -> WeekFacts:
    return facts_at(studio, at=at, days=days)


def test_facts_gathered_twice_are_worked_out_once(
    studio: Studio, worked_out: list[WeekFacts]
) -> None:
    first = week_of(gathered(studio), days=7, unlocks=True)
    second = week_of(gathered(studio), days=7, unlocks=True)

    assert len(worked_out) == 1
    assert second is first
    assert first == project(gathered(studio), days=7, unlocks=True)


@pytest.mark.parametrize(
    ("at", "days", "unlocks"),
    [
        (MONDAY + timedelta(minutes=1), 7, False),
        (MONDAY, 8, False),
        (MONDAY, 7, True),
    ],
)
def test_another_minute_period_or_question_is_worked_out(
    studio: Studio, worked_out: list[WeekFacts], at: datetime, days: int, unlocks: bool
) -> None:
    week_of(gathered(studio), days=7)

    week = week_of(gathered(studio, at=at, days=days), days=days, unlocks=unlocks)

    assert len(worked_out) == 2
    assert week == project(gathered(studio, at=at, days=days), days=days, unlocks=unlocks)


def test_a_milligram_less_on_the_shelf_is_worked_out_at_once(
    studio: Studio, worked_out: list[WeekFacts]
) -> None:
    before = week_of(gathered(studio), days=7)
    lot = gathered(studio).shelf.lots[0]

    recount(studio, entry=uuid4(), at=MONDAY, lot=lot.code, found=lot.left_mg - 1)
    after = week_of(gathered(studio), days=7)

    assert len(worked_out) == 2
    assert after == project(gathered(studio), days=7)
    assert after is not before


def test_only_so_many_weeks_are_kept(studio: Studio, worked_out: list[WeekFacts]) -> None:
    facts = [
        gathered(studio, at=MONDAY + timedelta(minutes=number))
        for number in range(remembered.KEPT + 1)
    ]
    for each in facts:
        week_of(each, days=7)

    week_of(facts[-1], days=7)
    assert len(worked_out) == remembered.KEPT + 1
    week_of(facts[0], days=7)
    assert len(worked_out) == remembered.KEPT + 2


def test_what_project_refuses_is_refused_again(studio: Studio) -> None:
    facts = gathered(studio)

    for _ in range(2):
        with pytest.raises(ValueError, match="29 days asked for"):
            week_of(facts, days=29)
