"""The door of the week: its bounds, the order of runs, and what a run not placed leaves alone."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sourcing.week.facts import WeekFacts
from sourcing.week.guidance import in_order
from sourcing.week.project import DAYS_AT_MOST, project
from tests.sourcing.week.little import LITTLE, RUN, feb, run, shelf


def two(first: str, second: str, facts: WeekFacts = LITTLE) -> dict[str, str]:
    """Answers of two like runs, one due a day before the other."""
    runs = (replace(RUN, code=second, due=feb(12, 12)), replace(RUN, code=first, due=feb(11, 12)))
    week = project(replace(facts, runs=runs), days=7)
    return {answer.run: answer.answer for answer in week.answers}


@pytest.mark.parametrize("days", [0, DAYS_AT_MOST + 1])
def test_a_period_out_of_its_range_is_refused(days: int) -> None:
    with pytest.raises(ValueError, match=f"^{days} days asked for; a period has 1 to 28 days.$"):
        project(LITTLE, days=days)


def test_both_ends_of_the_range_are_answered() -> None:
    assert project(LITTLE, days=1).until == feb(2)
    assert project(LITTLE, days=DAYS_AT_MOST).answers[0].answer == "yes"


def test_too_many_runs_are_refused() -> None:
    runs = tuple(replace(RUN, code=str(n)) for n in range(2_001))

    with pytest.raises(ValueError, match=r"^2001 runs wanted; at most 2000 are worked out\.$"):
        project(replace(LITTLE, runs=runs), days=7)


def test_runs_go_by_due_date_then_code_and_undated_ones_last() -> None:
    rows = [replace(RUN, code="A", due=None), replace(RUN, code="C"), replace(RUN, code="B"),
            replace(RUN, code="D", due=feb(4))]  # fmt: skip

    assert [row.code for row in sorted(rows, key=in_order)] == ["D", "B", "C", "A"]


def test_the_run_due_first_claims_whatever_its_place_in_the_notebook() -> None:
    assert two("X", "Y") == {"X": "yes", "Y": "no"}
    assert two("Y", "X") == {"Y": "yes", "X": "no"}


def test_a_run_not_placed_claims_nothing() -> None:
    # Z is due first but asks for silk; the other run has everything as before.
    silk = replace(RUN, code="Z", fibre="silk", fibre_lot="", due=feb(4, 12))
    week = project(replace(LITTLE, runs=(silk, RUN)), days=7)

    assert [(answer.run, answer.answer) for answer in week.answers] == [("Z", "no"), ("K", "yes")]


def test_a_first_step_after_the_period_is_not_yet_and_says_when() -> None:
    late = run(shelf(fibre={"arrives_at": feb(3, 8)}), due=None)
    (answer,) = project(late, days=2).answers
    (longer,) = project(late, days=3).answers

    assert (answer.answer, answer.first_step_at, answer.dry_at) == (
        "not yet", feb(3, 9), feb(6, 15, 30),
    )  # fmt: skip
    assert [wait.text for wait in answer.waits_for] == ["W-1 arrives Wed 3 Feb 08:00"]
    assert longer.answer == "yes"


def test_a_run_without_a_recipe_says_which_is_missing() -> None:
    (answer,) = project(run(recipe="dawn"), days=7).answers

    assert (answer.answer, [row.text for row in answer.reasons]) == (
        "no", ["no recipe dawn is written down"],
    )  # fmt: skip


def test_the_same_facts_give_the_same_week() -> None:
    assert project(LITTLE, days=7) == project(LITTLE, days=7)
