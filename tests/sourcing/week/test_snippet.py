"""A snippet stands in the strained extract before the cloth goes in, with its time and hands.

Dusk strained off first, by hand: extract Tue 09:00, 36 min up and 60 held: 10:36. Straining into
one pot 30 + 10 min: 11:16. Without a snippet the dye begins on the next five minutes, 11:20.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from sourcing.week.checking import check
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer
from sourcing.week.project import project
from tests.sourcing.week.expert_weeks import expert_faults, steps_that
from tests.sourcing.week.little import ZONE, feb, hours, step
from tests.sourcing.week.test_straining import strained

TRIED = step("extract", strained(), snippet_min=20, snippet_hands_min=10)


def answer(facts: WeekFacts) -> Answer:
    week = project(facts, days=7)
    assert check(facts, week) == []
    return week.answers[0]


def told(facts: WeekFacts, *names: str) -> list[str]:
    return [
        f"{row.step} {row.start.astimezone(ZONE):%a %H:%M} to {row.end.astimezone(ZONE):%H:%M}, "
        f"{row.hands_min} min"
        for row in answer(facts).steps
        if row.step in names
    ]


def test_a_snippet_stands_between_straining_and_the_cloth() -> None:
    assert told(strained(), "extract", "snippet", "dye") == [
        "extract Tue 09:00 to 10:36, 20 min",
        "dye Tue 11:20 to 12:56, 45 min",
    ]
    assert told(TRIED, "extract", "snippet", "dye") == [
        "extract Tue 09:00 to 10:36, 20 min",
        "snippet Tue 11:16 to 11:36, 10 min",
        "dye Tue 11:40 to 13:16, 45 min",
    ]


def test_the_hands_of_a_snippet_are_hands_of_its_day() -> None:
    # Tue: extract 20, snippet 10, dye 45, iron 30, rinse 15.
    week = project(TRIED, days=7)
    assert [day.hands_on_min for day in week.days][1] == 120

    assert answer(hours(2, TRIED, hands_min=120)).steps[-1].start.day == 2
    assert answer(hours(2, TRIED, hands_min=119)).steps[-1].start.day == 3


@pytest.mark.parametrize(("closes", "day"), [(11 * 60 + 36, 2), (11 * 60 + 35, 3)])
def test_somebody_is_there_until_the_snippet_is_looked_at(closes: int, day: int) -> None:
    # Only the extract is asked: its dye may begin on another day in a pot that is held.
    facts = hours(2, TRIED, closes=feb(2) + timedelta(minutes=closes))
    extract = next(row for row in project(facts, days=7).answers[0].steps if row.step == "extract")

    assert extract.start.day in (day, 3)  # the dye, kept to the extract's day, may move it on
    assert check(facts, project(facts, days=7)) == []


def test_a_snippet_is_only_dyed_in_what_is_strained_and_goes_on() -> None:
    for change in ({"strain": False}, {"night": True}):
        facts = step("extract", TRIED, **change)
        assert told(facts, "snippet") == []


def test_the_second_opinion_wants_the_snippet_at_its_hour() -> None:
    week = project(TRIED, days=7)
    (found,) = week.answers

    def broken(**changes: object) -> set[str]:
        steps = tuple(
            replace(row, **changes) if row.kind == "snippet" else row  # type: ignore[arg-type]
            for row in found.steps
        )
        bad = replace(week, answers=(replace(found, steps=steps),))
        return {fault.kind for fault in check(TRIED, bad)}

    without = tuple(row for row in found.steps if row.kind != "snippet")
    bad = replace(week, answers=(replace(found, steps=without),))
    assert "snippet" in {fault.kind for fault in check(TRIED, bad)}
    assert broken(start=feb(2, 11, 20)) == {"snippet"}
    assert broken(end=feb(2, 11, 30)) == {"snippet"}
    assert "snippet" in broken(hands_min=9)


def test_no_plan_with_snippets_breaks_a_rule() -> None:
    assert expert_faults() == {}
    assert steps_that(lambda row: row.kind == "snippet") > 30
