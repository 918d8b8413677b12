"""What was claimed for a run stays that run's, whoever is placed before it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sourcing.week.facts import Promised
from sourcing.week.plan import Answer
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS, local

# The worked week: Slate (D) takes 200 mL and Oak Grey (E) 450 of the 900 mL in Iron 6.


def answers(*promised: Promised) -> dict[str, Answer]:
    week = project(replace(FACTS, promised=promised), days=7)
    return {answer.run: answer for answer in week.answers}


def taken(answer: Answer, code: str) -> list[tuple[int, int]]:
    return [(take.amount, take.left_after) for take in answer.takes if take.source == code]


def test_a_promise_to_a_later_run_is_not_taken_by_an_earlier_one() -> None:
    found = answers(Promised("E", "J2", 701_000))

    # 900 - 701 = 199 mL is one short of Slate's 200; Iron 7 is not ready before Tue 1 Dec.
    assert taken(found["D"], "J2") == []
    assert taken(found["D"], "J1") == [(200_000, 2_800_000)]
    assert found["D"].dry_at == local(date(2026, 12, 3), 16)


def test_a_promise_that_leaves_enough_changes_nothing() -> None:
    found = answers(Promised("E", "J2", 700_000))

    assert taken(found["D"], "J2") == [(200_000, 0)]
    assert found["D"].answer == "yes"


def test_a_run_draws_from_its_own_promise() -> None:
    found = answers(Promised("E", "J2", 450_000))

    assert taken(found["D"], "J2") == [(200_000, 250_000)]
    assert taken(found["E"], "J2") == [(450_000, 250_000)]


def test_a_run_that_is_not_placed_keeps_its_promise() -> None:
    found = answers(Promised("B", "alum", 840_000))

    # Old Rose is a no; of 900 g alum 60 are left for Blush, which wants 240.
    assert found["B"].answer == "no"
    assert [(row.what, row.amount) for row in found["A"].short] == [("alum", 180_000)]


def test_a_promise_to_somebody_who_is_not_a_run_here_is_out_of_reach() -> None:
    found = answers(Promised("Z", "PR-1003", 81_000))

    # 560 - 81 = 479 g, one short of the 480 that Hedge Olive wants.
    assert [(row.what, row.amount) for row in found["C"].short] == [("privet", 1_000)]
