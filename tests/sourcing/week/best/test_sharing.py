"""The best week with pots shared: no bound is beaten, and small weeks are gone through in full.

`DYE_LARDER_LONG=1` goes through many more studios.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import replace
from itertools import permutations, product

from sourcing.week.best import Best, Effort, Goals, best
from sourcing.week.best.goals import Measure
from sourcing.week.best.replaying import Replay
from sourcing.week.checking import check
from sourcing.week.facts import WeekFacts
from sourcing.week.guidance import PLAIN, Guidance, Together
from sourcing.week.project import as_week, project, worked_out
from tests.sourcing.week.best.guided import goals_of, over_the_bound
from tests.sourcing.week.random_sharing import pairs_of, sharing_studio, some_sharing
from tests.sourcing.week.sharing import DAYS, other, shares, studio

LONG = os.environ.get("DYE_LARDER_LONG") == "1"
STUDIOS = range(600 if LONG else 10)
GUIDANCES = 20 if LONG else 6
SMALL = 60 if LONG else 4
EFFORT = Effort(placings=400, solver=0.5)
LONGER = Effort(placings=3_000, solver=1)


def test_no_guidance_that_shares_beats_the_bound() -> None:
    found = {}
    for number in STUDIOS:
        facts = sharing_studio(number)
        bound = best(facts, days=DAYS, effort=replace(EFFORT, placings=20)).bound
        replay = Replay(facts, DAYS)
        measure = Measure(replay.desk)
        assert bound is not None
        for guidance in some_sharing(facts, GUIDANCES, seed=number) if pairs_of(facts) else ():
            if over := over_the_bound(goals_of(guidance, replay, measure), bound):
                found[number] = (over, guidance)

    assert found == {}


def small_studios(runs: int, count: int) -> Iterator[tuple[int, WeekFacts]]:
    """So many studios with so many runs that may share."""
    given, number = 0, 0
    while given < count:
        facts = sharing_studio(number)
        mine = tuple(run for run in facts.runs if run.recipe.startswith("blush"))[:runs]
        if len(mine) == runs:
            given += 1
            yield number, replace(facts, runs=mine)
        number += 1


def every_guidance(facts: WeekFacts) -> Iterator[Guidance]:
    """Every order, each run alone or behind each other one up to each step that may be shared."""
    rows: dict[str, list[Together | None]] = {run.code: [None] for run in facts.runs}
    for row in pairs_of(facts):
        rows[row.follower].append(row)
    for chosen in product(*rows.values()):
        together = tuple(row for row in chosen if row is not None)
        if {row.leader for row in together} & {row.follower for row in together}:
            continue
        for order in permutations(rows):
            yield Guidance(order, together=together)


def least(facts: WeekFacts) -> tuple[Goals, int]:
    """The best goals of all, and in how many weeks a pot is shared."""
    found, sharing = [], 0
    for guidance in every_guidance(facts):
        desk, answers, _ = worked_out(facts, DAYS, turns=False, guidance=guidance)
        found.append(Measure(desk).goals({answer.run: answer for answer in answers}))
        sharing += any(row.shared_with for answer in answers for row in answer.steps)
    return min(found, key=lambda goals: goals.rank), sharing


def test_nothing_gone_through_in_full_is_better() -> None:
    worse, shared = {}, 0
    for runs in (2, 3):
        for number, facts in small_studios(runs, SMALL if runs == 2 else SMALL // 2):
            found = best(facts, days=DAYS, effort=LONGER)
            known, sharing = least(facts)
            shared += sharing
            if known.better_than(found.goals):
                worse[number] = (known, found.goals)

    assert worse == {}
    assert shared > 0


def found_by_hand() -> Best:
    return best(studio(), days=DAYS, effort=EFFORT)


def test_two_wools_for_one_pot_are_found_to_share_it() -> None:
    """Alone the second waits for the pot till the first has dyed, and dries days later."""
    found = found_by_hand()

    assert shares(found.week)
    assert found.goals.better_than(found.plain)
    assert check(studio(), found.week) == []


def test_the_guidance_that_is_found_makes_the_same_week_again() -> None:
    found = found_by_hand()

    desk, answers, _ = worked_out(studio(), DAYS, turns=False, guidance=found.guidance)

    assert as_week(desk, answers) == found.week


def test_the_same_facts_find_the_same_week() -> None:
    assert found_by_hand() == found_by_hand()


def test_where_nothing_may_be_shared_nothing_is() -> None:
    facts = other(studio(), "dawn", may_share=())
    found = best(facts, days=DAYS, effort=EFFORT)

    assert found.guidance.together == ()
    assert not shares(found.week)


def test_a_week_that_was_taken_with_a_shared_pot_is_the_week() -> None:
    found = found_by_hand()
    facts = replace(studio(), guidance=found.guidance)

    assert shares(project(facts, days=DAYS))
    assert project(facts, days=DAYS).answers == found.week.answers
    _, answers, _ = worked_out(facts, DAYS, turns=False, guidance=PLAIN)
    assert not any(row.shared_with for answer in answers for row in answer.steps)


def test_what_would_unlock_a_late_run_is_still_looked_for_beside_a_shared_pot() -> None:
    facts = replace(studio(), guidance=found_by_hand().guidance)
    late = replace(facts.runs[1], code="M", weight_mg=900_000, due=facts.runs[0].due)
    facts = replace(facts, runs=(*facts.runs, late))

    week = project(facts, days=DAYS, unlocks=True)

    assert next(row for row in week.answers if row.run == "M").sought
    assert check(facts, week) == []
