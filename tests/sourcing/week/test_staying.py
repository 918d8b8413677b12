"""Steps that stay at their hour: kept under any order, or the answer says which fact is in the way.

`DYE_LARDER_LONG=1` goes through many more studios.
"""

from __future__ import annotations

import os
from dataclasses import replace
from random import Random

import pytest

from sourcing.week.best import Effort, best
from sourcing.week.checking import check
from sourcing.week.facts import WeekFacts
from sourcing.week.guidance import Floor, Guidance
from sourcing.week.moments import minute_of
from sourcing.week.plan import Answer, Week
from sourcing.week.project import project, worked_out
from sourcing.week.staying import broken
from tests.sourcing.week.pellitory import FACTS, nov
from tests.sourcing.week.random_studios import studio

LONG = os.environ.get("DYE_LARDER_LONG") == "1"
STUDIOS = range(400 if LONG else 30)
DAYS = 7
SHORT = Effort(placings=60, solver=0.05)


def stays(run: str, step: str, *moment: int) -> Floor:
    return Floor(run, step, minute_of(nov(*moment)), stays=True)


def answer_of(week: Week, run: str) -> Answer:
    return next(answer for answer in week.answers if answer.run == run)


def olive(row: Floor) -> Answer:
    facts = replace(FACTS, stays=(row,))
    week = project(facts, days=DAYS)

    assert check(facts, week) == []
    return answer_of(week, "C")


def begins(answer: Answer, step: str) -> int:
    return min(minute_of(row.start) for row in answer.steps if row.step == step)


def some_steps(facts: WeekFacts, number: int) -> tuple[Floor, ...]:
    """Up to two steps of placed runs, at the hours that they have in the plain week."""
    dice = Random(number)
    steps = {
        (row.run, row.step): begins(answer, row.step)
        for answer in project(facts, days=DAYS).answers
        if answer.answer != "no"
        for row in answer.steps
        if row.run == answer.run and not row.step.startswith("make ") and row.kind != "snippet"
        and row.kind != "carry"
    }  # fmt: skip
    recipes = {row.code: row for row in facts.recipes}
    named = {(run.code, step.name) for run in facts.runs if run.recipe in recipes
             for step in recipes[run.recipe].steps}  # fmt: skip
    codes = sorted(named & steps.keys())
    chosen = dice.sample(codes, min(len(codes), dice.randint(1, 2)))
    return tuple(Floor(*code, steps[code], stays=True) for code in sorted(chosen))


@pytest.mark.parametrize("step", ["soak", "extract", "dye", "copper", "rinse"])
def test_every_step_of_a_run_can_stay_at_the_hour_that_it_has(step: str) -> None:
    plain = answer_of(project(FACTS, days=DAYS), "C")
    row = Floor("C", step, begins(plain, step), stays=True)

    answer = olive(row)

    assert begins(answer, step) == row.not_before
    assert answer.notes == plain.notes
    assert [reason.what for reason in answer.reasons if reason.kind == "stays"] == [step]


def test_a_step_may_stay_at_a_later_hour_than_it_would_have() -> None:
    row = stays("C", "extract", 26, 14)

    answer = olive(row)

    assert begins(answer, "extract") == row.not_before
    assert "extract stays at Thu 26 Nov 14:00" in [reason.text for reason in answer.reasons]


@pytest.mark.parametrize(
    ("row", "why"),
    [
        (stays("C", "soak", 24, 12), "it is not begun before 14:00 of a day"),
        (stays("C", "soak", 24, 18),
         "nobody is in from Tue 24 Nov 18:00 to Thu 26 Nov 14:00"),
        (stays("C", "soak", 26, 14, 7), "steps begin every 5 minutes"),
        (stays("C", "extract", 26, 8), "nobody is in before Thu 26 Nov 09:00"),
        (stays("C", "extract", 28, 10, 10),
         "hands for extract on Sat 28 Nov 10:10: 40 min wanted, 0 left; next Mon 30 Nov 09:00"),
        (stays("C", "dye", 26, 10, 30), "after extract it can begin Thu 26 Nov 11:29"),
    ],
)  # fmt: skip
def test_what_cannot_stay_says_which_fact_is_in_the_way(row: Floor, why: str) -> None:
    answer = olive(row)

    (note,) = [note for note in answer.notes if note.startswith(f"{row.step} was to stay at ")]
    assert note.endswith(f": {why}")
    assert begins(answer, row.step) > row.not_before


def test_a_run_with_a_step_that_stays_comes_before_one_that_is_due_sooner() -> None:
    """Oak Grey takes the line that Blush and Olive would have."""
    row = stays("E", "tannin", 26, 13)
    facts = replace(FACTS, stays=(row,))

    week = project(facts, days=DAYS)

    assert begins(answer_of(week, "E"), "tannin") == row.not_before
    assert week.order[0] == "E"
    assert check(facts, week) == []


def test_no_other_week_moves_a_step_that_stays() -> None:
    kept, moved = 0, {}
    for number in STUDIOS:
        facts = studio(number)
        rows = some_steps(facts, number)

        found = best(facts, days=DAYS, effort=SHORT, stays=rows)

        held = replace(facts, stays=rows)
        assert check(held, found.week) == [], number
        answers = {answer.run: answer for answer in found.week.answers}
        kept += len(rows)
        if late := broken(rows, answers):
            moved[number] = late
    assert kept > len(STUDIOS)
    assert moved == {}


def test_what_is_found_makes_the_same_week_again_with_its_steps() -> None:
    facts = studio(1)
    rows = some_steps(facts, 1)
    found = best(facts, days=DAYS, effort=SHORT, stays=rows)

    _, answers, _ = worked_out(facts, DAYS, turns=False, guidance=found.guidance)

    assert found.guidance.stays == rows
    assert [(row.run, row.steps) for row in answers] == [
        (row.run, row.steps) for row in found.week.answers
    ]


def test_a_step_that_stays_in_a_taken_week_stays_in_the_next_one() -> None:
    row = stays("C", "extract", 26, 14)
    facts = replace(FACTS, guidance=Guidance(order=("C",), floors=(row,)))

    found = best(facts, days=DAYS, effort=SHORT)

    assert begins(answer_of(found.week, "C"), "extract") == row.not_before
    assert found.guidance.stays == (row,)


@pytest.mark.parametrize(
    ("row", "why"),
    [
        (stays("Q", "soak", 24, 14), "soak of run Q .* nobody wants that run any more"),
        (stays("C", "scour", 24, 14), "scour of run C .* the run has no such step"),
        (stays("C", "soak", 22, 14), "soak of run C .* that hour is over"),
    ],
)
def test_what_is_not_there_cannot_stay(row: Floor, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        best(FACTS, days=DAYS, stays=[row])


def test_the_checker_sees_a_step_that_moved_in_silence() -> None:
    week = project(FACTS, days=DAYS)
    row = stays("C", "extract", 26, 9)
    facts = replace(FACTS, stays=(row,))

    assert [fault.text for fault in check(facts, week) if fault.kind == "stays"] == [
        "extract moved, and nothing says why"
    ]
    later = replace(FACTS, stays=(stays("C", "extract", 26, 11),))
    assert [fault.text for fault in check(later, week) if fault.kind == "stays"] == [
        "extract begins before the hour at which it stays"
    ]
