"""The best week: never worse than the plain one, right by the rules, the same for the same facts.

`DYE_LARDER_LONG=1` goes through 5,000 studios.
"""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import pytest

from sourcing.week.best import NO_SOLVER, STOPPED, Best, Effort, Progress, best, look, master
from sourcing.week.checking import check
from sourcing.week.project import project, worked_out
from tests.sourcing.week.pellitory import FACTS
from tests.sourcing.week.random_studios import studio, with_group
from tests.sourcing.week.test_random_begun import with_begun
from tests.sourcing.week.test_random_studios import gist, shuffled

ROOT = Path(__file__).resolve().parents[4]
LONG = os.environ.get("DYE_LARDER_LONG") == "1"
STUDIOS = range(5_000 if LONG else 60)
DAYS = 7
SHORT = Effort(placings=40, solver=0.05)


@lru_cache(maxsize=256)
def best_of(number: int) -> Best:
    return best(studio(number), days=DAYS, effort=SHORT)


def test_no_best_week_breaks_a_rule() -> None:
    faults = {
        number: [str(fault) for fault in found]
        for number in STUDIOS
        if (found := check(studio(number), best_of(number).week))
    }

    assert faults == {}


def test_no_best_week_with_a_group_day_breaks_a_rule() -> None:
    faults = {}
    for number in STUDIOS[::4]:
        facts = with_group(studio(number), number)
        if found := check(facts, best(facts, days=DAYS, effort=SHORT).week):
            faults[number] = [str(fault) for fault in found]

    assert faults == {}


def test_best_week_is_never_worse_and_often_better_than_the_plain_one() -> None:
    found = [best_of(number) for number in STUDIOS]

    assert not [row for row in found if row.plain.better_than(row.goals)]
    assert sum(row.goals.on_time > row.plain.on_time for row in found) >= len(found) // 10


def test_no_bound_is_below_what_was_found() -> None:
    for number in STUDIOS:
        found = best_of(number)

        assert found.bound is not None
        assert found.bound.rank <= found.goals.rank, number


@pytest.mark.parametrize("number", range(6))
def test_same_facts_give_the_same_best_week(number: int) -> None:
    again = best(studio(number), days=DAYS, effort=SHORT)
    mixed = best(shuffled(studio(number), number), days=DAYS, effort=SHORT)

    assert again == best_of(number)
    assert gist(mixed.week) == gist(best_of(number).week)
    assert mixed.guidance == best_of(number).guidance


def test_another_process_finds_the_same_best_week() -> None:
    """Sets of names come in another order in each process; none of that may reach the solver."""
    number = next(n for n in range(50) if len(studio(n).sites) > 1 and len(studio(n).runs) > 5)
    code = (
        "from sourcing.week.best import Effort, best\n"
        "from tests.sourcing.week.random_studios import studio\n"
        f"found = best(studio({number}), days=7, effort=Effort(placings=60, solver=0.1))\n"
        "print(found.goals, found.bound, found.guidance)"
    )

    said = {
        subprocess.run(
            [sys.executable, "-c", code], cwd=ROOT, env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True, text=True, check=True,
        ).stdout
        for seed in ("1", "2")
    }  # fmt: skip

    assert len(said) == 1


@pytest.mark.parametrize("number", range(6))
def test_guidance_makes_the_same_week_again(number: int) -> None:
    found = best_of(number)

    _, answers, _ = worked_out(studio(number), DAYS, turns=False, guidance=found.guidance)

    assert gist(replace(found.week, answers=answers)) == gist(found.week)


def test_without_the_solver_the_plain_week_is_the_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(look, "find_spec", lambda name: None)

    found = best(FACTS, days=DAYS)

    assert found.status == NO_SOLVER
    assert found.week == project(FACTS, days=DAYS)
    assert (found.bound, found.gap, found.goals) == (None, None, found.plain)


def test_the_solver_is_not_loaded_before_it_is_wanted() -> None:
    code = "import sys, sourcing.week.best; print('ortools' in sys.modules)"

    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True
    )

    assert done.stdout.strip() == "False"


def test_stopping_by_hand_keeps_the_best_so_far() -> None:
    heard: list[Progress] = []

    found = best(
        studio(1), days=DAYS, told=heard.append, stop=lambda: heard[-1].goals != heard[0].goals
    )

    assert found.status == STOPPED
    assert found.goals == heard[-1].goals
    assert found.goals.better_than(found.plain)


def test_progress_is_told_from_the_plain_week_to_the_best_one() -> None:
    heard: list[Progress] = []

    found = best(studio(1), days=DAYS, effort=SHORT, told=heard.append)

    assert heard[0].goals == found.plain
    assert heard[-1].goals == found.goals
    assert [row.goals.rank for row in heard] == sorted((r.goals.rank for r in heard), reverse=True)
    assert all(0 <= row.part <= 1 for row in heard)


def test_time_is_over_by_the_clock_that_is_handed_in() -> None:
    ticks = iter(range(1_000))

    found = best(studio(1), days=DAYS, clock=lambda: float(next(ticks)), effort=Effort(seconds=5))

    assert found.sought_s is not None
    assert 5 <= found.sought_s < 20
    assert found.placings < 150


def test_begun_runs_never_move() -> None:
    for number in range(20):
        facts, codes = with_begun(number)
        plain = {answer.run: answer for answer in project(facts, days=DAYS).answers}

        found = best(facts, days=DAYS, effort=SHORT)

        assert check(facts, found.week) == [], number
        for answer in found.week.answers:
            if answer.run in codes:
                assert (answer.steps, answer.hangs) == (
                    plain[answer.run].steps, plain[answer.run].hangs,
                ), number  # fmt: skip


def test_a_studio_too_big_for_the_solver_is_still_looked_through(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(master, "STEPS_AT_MOST", 3)

    found = best(studio(1), days=DAYS, effort=Effort(placings=300))

    assert found.goals.better_than(found.plain)
    assert found.bound is not None
    assert found.bound.on_time >= found.goals.on_time


def test_a_pinned_run_stays_where_it_is() -> None:
    plain = project(FACTS, days=DAYS)
    blush = next(answer for answer in plain.answers if answer.run == "C")

    found = best(FACTS, days=DAYS, effort=SHORT, pins={"C": blush})
    answer = next(answer for answer in found.week.answers if answer.run == "C")

    assert (answer.steps, answer.hangs, answer.begun_at) == (blush.steps, blush.hangs, None)
    assert answer.answer == blush.answer == "yes"
    assert {(take.source, take.amount) for take in answer.takes} == {
        (take.source, take.amount) for take in blush.takes
    }


def test_a_pin_without_a_place_is_refused() -> None:
    rose = next(row for row in project(FACTS, days=DAYS).answers if row.run == "B")

    with pytest.raises(ValueError, match="Run B is to stay where it is, but the plan has no place"):
        best(FACTS, days=DAYS, pins={"B": rose})
    with pytest.raises(ValueError, match="Run Q is to stay where it is, but nobody wants it"):
        best(FACTS, days=DAYS, pins={"Q": rose})


def test_near_the_last_plan_nothing_moves_without_need() -> None:
    for number in (1, 3, 4):
        last = best_of(number)

        again = best(studio(number), days=DAYS, effort=SHORT, near=last.week)

        assert again.goals.changed == 0, number
        assert again.goals.on_time >= last.goals.on_time


def test_a_period_of_no_days_is_refused() -> None:
    with pytest.raises(ValueError, match="0 days asked for; a period has 1 to 28 days"):
        best(FACTS, days=0)
