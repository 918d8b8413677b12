"""A day's hands, used and there, and what hangs on the line from when."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sourcing.week.facts import Chore, Hanging
from sourcing.week.project import project
from tests.sourcing.week.little import LITTLE, feb, hours, run

NOBODY_ASKS = replace(LITTLE, runs=())


def test_hands_count_on_the_day_a_step_begins() -> None:
    # Mon 5 + 30 + 30; Tue 45 + 30 + 15.
    rows = [(day.hands_on_min, day.hands_available_min) for day in project(LITTLE, days=3).days]

    assert rows == [(65, 90), (90, 90), (0, 90)]


def test_a_day_on_which_nobody_is_in_has_no_hands() -> None:
    (first, second) = project(hours(2, run(due=None), hands_min=0), days=2).days

    assert (first.hands_available_min, second.hands_available_min) == (90, 0)
    assert second.hands_on_min == 0


def test_chores_use_hands_without_any_run() -> None:
    facts = replace(NOBODY_ASKS, chores=(Chore(date(2027, 2, 2), "sweep", 25),))

    assert [day.hands_on_min for day in project(facts, days=3).days] == [0, 25, 0]


def test_the_line_is_told_at_midnight_and_at_each_change() -> None:
    days = project(LITTLE, days=5).days

    assert [[(load.since, load.mg) for load in day.line] for day in days] == [
        [(feb(1), 0)],
        [(feb(2), 0), (feb(2, 15, 30), 500_000)],
        [(feb(3), 500_000)],
        [(feb(4), 500_000), (feb(4, 15, 30), 0)],
        [(feb(5), 0)],
    ]


def test_cloth_that_hangs_already_is_on_the_line() -> None:
    facts = replace(NOBODY_ASKS, hanging=(Hanging("line", feb(1, 6), feb(1, 12), 200_000),))
    (day,) = project(facts, days=1).days

    assert [(load.since, load.mg) for load in day.line] == [
        (feb(1), 0), (feb(1, 6), 200_000), (feb(1, 12), 0),
    ]  # fmt: skip
