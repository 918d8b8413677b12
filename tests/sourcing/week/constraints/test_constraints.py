"""Each of tests 1 to 34 of "can I dye this, this week?" turns the little studio's yes by itself."""

from __future__ import annotations

import pytest

from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer, Reason
from sourcing.week.project import project
from tests.sourcing.week.constraints import dyestuff, fibre, mordants, people, promise, vessels
from tests.sourcing.week.constraints.case import Case, differences
from tests.sourcing.week.little import LITTLE, feb

CASES = (*dyestuff.CASES, *mordants.CASES, *fibre.CASES, *vessels.CASES, *people.CASES,
         *promise.CASES)  # fmt: skip
each_case = pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.test} {case.name}")


def answer_of(facts: WeekFacts) -> Answer:
    (answer,) = project(facts, days=7).answers
    return answer


def test_every_test_from_1_to_34_has_its_case() -> None:
    assert sorted({case.test for case in CASES}) == list(range(1, 35))


def test_the_little_studio_says_yes_and_when_it_is_dry() -> None:
    answer = answer_of(LITTLE)

    assert (answer.answer, answer.first_step_at, answer.dry_at) == (
        "yes",
        feb(1, 9),
        feb(4, 15, 30),
    )


@each_case
def test_case_differs_by_one_fact_only(case: Case) -> None:
    assert differences(case.good, case.bad) == 1


@each_case
def test_good_side_of_the_border_is_yes(case: Case) -> None:
    assert answer_of(case.good).answer == "yes"


@each_case
def test_other_side_says_what_stops_it_and_by_which_figure(case: Case) -> None:
    answer = answer_of(case.bad)

    assert answer.answer == case.answer
    rows = [row for row in (*answer.waits_for, *answer.short, *answer.reasons)
            if row.kind == case.kind]  # fmt: skip
    assert [row.text for row in rows if row.text == case.text], [row.text for row in rows]
    named = next(row for row in rows if row.text == case.text)
    if isinstance(named, Reason):
        assert (named.figure, named.own) == (case.figure, "studio's own" in case.figure)
