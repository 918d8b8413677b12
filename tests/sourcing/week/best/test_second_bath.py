"""The best week with runs that follow in a bath: no bound is beaten, and no plan is worse.

`DYE_LARDER_LONG=1` goes through many more studios.
"""

from __future__ import annotations

import os
from dataclasses import replace
from itertools import permutations

from inventory.science.facts import VesselFacts
from sourcing.week.best import Effort, best
from sourcing.week.best.goals import Measure
from sourcing.week.best.replaying import Replay
from sourcing.week.checking import check
from sourcing.week.guidance import PLAIN, Guidance
from sourcing.week.project import as_week, project, worked_out
from tests.sourcing.week.best.guided import goals_of, over_the_bound
from tests.sourcing.week.little import feb
from tests.sourcing.week.random_second_baths import second_bath_studio, some_orders
from tests.sourcing.week.second_baths import TWO, K, L
from tests.sourcing.week.sharing import DAYS

LONG = os.environ.get("DYE_LARDER_LONG") == "1"
STUDIOS = range(600 if LONG else 10)
GUIDANCES = 20 if LONG else 6
EFFORT = Effort(placings=400, solver=0.5)


def test_no_order_beats_the_bound() -> None:
    found = {}
    for number in STUDIOS:
        facts = second_bath_studio(number)
        bound = best(facts, days=DAYS, effort=replace(EFFORT, placings=20)).bound
        replay = Replay(facts, DAYS)
        measure = Measure(replay.desk)
        assert bound is not None
        for guidance in some_orders(facts, GUIDANCES, seed=number):
            if over := over_the_bound(goals_of(guidance, replay, measure), bound):
                found[number] = (over, guidance)

    assert found == {}


def test_the_best_week_is_never_worse_than_the_plain_one_and_breaks_no_rule() -> None:
    worse, faults = [], {}
    for number in STUDIOS:
        facts = second_bath_studio(number)
        found = best(facts, days=DAYS, effort=EFFORT)
        replay = Replay(facts, DAYS)
        measure = Measure(replay.desk)
        if goals_of(PLAIN, replay, measure).better_than(found.goals):
            worse.append(number)
        desk, answers, _ = worked_out(facts, DAYS, turns=False, guidance=found.guidance)
        if rows := check(facts, as_week(desk, answers)):
            faults[number] = [str(row) for row in rows]

    assert worse == []
    assert faults == {}


def test_placing_again_and_again_gives_what_placing_afresh_gives() -> None:
    """What an order leaves in its pots is gone when the desk goes back."""
    for number in STUDIOS:
        facts = second_bath_studio(number)
        replay = Replay(facts, DAYS)
        for guidance in some_orders(facts, GUIDANCES, seed=number):
            afresh = worked_out(facts, DAYS, turns=False, guidance=guidance)[1]
            again = replay.place(guidance)
            assert tuple(again[row.run] for row in afresh) == afresh, (number, guidance)


def test_of_three_runs_as_many_are_in_time_as_in_any_order() -> None:
    ember = replace(TWO.recipes[0], code="ember", shade="Ember")
    block = replace(K, code="E", shade="Ember", recipe="ember", due=feb(8, 12))
    pots = (*TWO.shelf.vessels, VesselFacts("P0", "pot", "stainless", 12_500, 10_000))
    facts = replace(TWO, recipes=(*TWO.recipes, ember), shelf=replace(TWO.shelf, vessels=pots),
                    runs=(K, replace(L, due=feb(5, 13)), block))  # fmt: skip
    plain = {row.run: row.answer for row in project(facts, days=DAYS, unlocks=False).answers}
    found = best(facts, days=DAYS, effort=EFFORT)
    answers = worked_out(facts, DAYS, turns=False, guidance=found.guidance)[1]

    yes = [row.run for row in answers if row.answer == "yes"]
    assert len(yes) >= sum(answer == "yes" for answer in plain.values())
    assert len(yes) == max(
        sum(row.answer == "yes" for row in worked_out(
            facts, DAYS, turns=False, guidance=Guidance(order=order))[1])
        for order in permutations(("K", "L", "E"))
    )  # fmt: skip
