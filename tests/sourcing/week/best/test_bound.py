"""No week that can be made is better than the bound, in any goal, under any guidance."""

from __future__ import annotations

import os
from dataclasses import replace
from random import Random

import pytest

from sourcing.week.best import Effort, Goals, best
from sourcing.week.best.bound import all_forms, easy_bound, soonest_dry
from sourcing.week.best.goals import Measure
from sourcing.week.best.replaying import Replay
from sourcing.week.facts import Promised, WeekFacts
from sourcing.week.moments import NEVER
from tests.sourcing.week.best.guided import goals_of, over_the_bound, some_guidances
from tests.sourcing.week.pellitory import FACTS
from tests.sourcing.week.random_studios import studio, with_group
from tests.sourcing.week.test_random_begun import with_begun

LONG = os.environ.get("DYE_LARDER_LONG") == "1"
STUDIOS = range(2_000 if LONG else 12)
GUIDANCES = 40 if LONG else 10
DAYS = 7


def bound_of(facts: WeekFacts, days: int) -> Goals:
    """The bound as the solver leaves it, with next to nothing placed."""
    bound = best(facts, days=days, effort=Effort(placings=len(facts.runs) + 1, solver=1)).bound
    assert bound is not None
    return bound


def better_than_can_be(facts: WeekFacts, number: int, days: int) -> list[str]:
    bound, replay = bound_of(facts, days), Replay(facts, days)
    measure = Measure(replay.desk)
    return [
        f"{name}: {guidance}"
        for guidance in some_guidances(measure, GUIDANCES, seed=number)
        for name in over_the_bound(goals_of(guidance, replay, measure), bound)
    ]


def test_no_guidance_makes_a_better_week_than_the_bound() -> None:
    found = {number: row for number in STUDIOS
             if (row := better_than_can_be(studio(number), number, DAYS))}  # fmt: skip

    assert found == {}


def test_no_guidance_beats_the_bound_of_longer_and_shorter_periods() -> None:
    found = {}
    for number in STUDIOS[::4]:
        days = Random(number).choice((1, 3, 14, 28))
        if row := better_than_can_be(studio(number), number, days):
            found[number] = row

    assert found == {}


def test_no_guidance_beats_the_bound_where_a_group_is_about() -> None:
    found = {}
    for number in STUDIOS[::4]:
        if row := better_than_can_be(with_group(studio(number), number), number, DAYS):
            found[number] = row

    assert found == {}


def test_no_guidance_beats_the_bound_where_runs_are_begun() -> None:
    found = {}
    for number in STUDIOS[::4]:
        facts, _ = with_begun(number)
        if row := better_than_can_be(facts, number, DAYS):
            found[number] = row

    assert found == {}


def test_no_guidance_beats_the_bound_where_amounts_are_promised() -> None:
    """What is promised to a run may come free for others when it takes something else."""
    found = {}
    for number in STUDIOS[::2]:
        facts, dice = studio(number), Random(number)
        lots = [lot for lot in facts.shelf.lots if lot.left_mg > 0]
        promised = tuple(
            Promised(dice.choice(facts.runs).code, lot.code, lot.left_mg // dice.choice((1, 2)))
            for lot in dice.sample(lots, min(4, len(lots)))
        )
        if row := better_than_can_be(replace(facts, promised=promised), number, DAYS):
            found[number] = row

    assert found == {}


def test_the_bound_of_the_demo_week_is_met_in_fibre_on_time() -> None:
    found = best(FACTS, days=DAYS, effort=Effort(placings=200))

    assert found.bound is not None
    assert found.goals.on_time == found.bound.on_time


@pytest.mark.parametrize("code", ["A", "C", "D", "E"])
def test_a_run_is_dry_no_sooner_than_with_the_studio_to_itself(code: str) -> None:
    replay = Replay(FACTS, DAYS)
    measure = Measure(replay.desk)
    forms = all_forms(measure)
    soonest = soonest_dry(forms[code], measure)

    assert soonest is not None
    for guidance in some_guidances(measure, 30, seed=1):
        answer = replay.place(guidance)[code]
        assert measure.minutes_to_dry(answer) >= soonest - replay.desk.now


def test_what_cannot_be_put_by_is_used_by_its_last_good_day_or_not_at_all() -> None:
    lots = tuple(replace(lot, left_mg=0) if lot.dyestuff == "avocado stones" else lot
                 for lot in FACTS.shelf.lots)  # fmt: skip
    fresh = next(lot for lot in FACTS.shelf.lots if lot.code == "AV-1123")
    shelf = replace(FACTS.shelf, lots=(*lots, replace(fresh, code="AV-9", left_mg=9_000_000)))
    for places, free in ((FACTS.shelf.cold_places, True), ((), False)):
        facts = replace(FACTS, shelf=replace(shelf, cold_places=places))
        measure = Measure(Replay(facts, DAYS).desk)

        (form,) = all_forms(measure)["A"]
        until = min(part.until for part in form.parts)

        assert (until == NEVER) == free


def test_what_no_gate_or_shelf_lets_pass_is_in_no_bound() -> None:
    """Old Rose has neither stones nor reading: its fibre counts for nothing."""
    replay = Replay(FACTS, DAYS)
    measure = Measure(replay.desk)
    forms = all_forms(measure)

    assert forms["B"] == ()
    bound = easy_bound(measure, forms, replay.begun)
    assert bound.on_time < sum(run.weight_mg * measure.importance[run.code] for run in FACTS.runs)
