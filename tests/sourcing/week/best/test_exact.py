"""Small studios gone through in full: every order, with each run waiting for each opening or not.

Every week is made anew by the plain placer, so nothing of the search is trusted. The search may
find more than is gone through here, as it lets single steps wait; it never finds less.
`DYE_LARDER_LONG=1` goes through many more studios.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import replace
from itertools import islice, permutations, product

import pytest

from sourcing.week.best import PROVED, Effort, Goals, best
from sourcing.week.best.goals import Measure
from sourcing.week.facts import WeekFacts
from sourcing.week.guidance import Floor, Guidance
from sourcing.week.project import worked_out
from tests.sourcing.week.random_studios import studio

LONG = os.environ.get("DYE_LARDER_LONG") == "1"
DAYS = 7
TWO_RUNS, THREE_RUNS, FIVE_RUNS = (200, 60, 40) if LONG else (4, 1, 1)
LONGER = Effort(placings=6_000 if LONG else 800, solver=2)


def small(runs: int, count: int) -> Iterator[tuple[int, WeekFacts]]:
    """So many studios with so many runs: the first of each."""
    numbers = (n for n in range(5_000) if len(studio(n).runs) >= runs)
    for number in islice(numbers, count):
        facts = studio(number)
        yield number, replace(facts, runs=facts.runs[:runs])


def goals_of(facts: WeekFacts, guidance: Guidance) -> Goals:
    desk, answers, _ = worked_out(facts, DAYS, turns=False, guidance=guidance)
    measure = Measure(desk)
    return measure.goals({answer.run: answer for answer in answers})


def every_guidance(facts: WeekFacts, openings: int) -> Iterator[Guidance]:
    """Every order, each run from one of the first openings on, or at once."""
    desk, _, _ = worked_out(facts, DAYS, turns=False)
    opens = [row.opens for row in desk.calendar.openings if row.opens > desk.now][:openings]
    recipes = {recipe.code: recipe for recipe in facts.recipes}
    first = {run.code: recipes[run.recipe].steps[0].name for run in facts.runs}
    waits = [None, *opens]
    for order in permutations(sorted(first)):
        for chosen in product(waits, repeat=len(order)):
            yield Guidance(order, tuple(
                Floor(code, first[code], minute)
                for code, minute in zip(order, chosen, strict=True) if minute is not None
            ))  # fmt: skip


def least(facts: WeekFacts, openings: int) -> Goals:
    found = (goals_of(facts, guidance) for guidance in every_guidance(facts, openings))
    return min(found, key=lambda goals: goals.rank)


@pytest.mark.parametrize(
    ("runs", "count", "openings"), [(2, TWO_RUNS, 5), (3, THREE_RUNS, 3), (5, FIVE_RUNS, 0)]
)
def test_nothing_gone_through_in_full_is_better(runs: int, count: int, openings: int) -> None:
    worse = {}
    for number, facts in small(runs, count):
        found, known = best(facts, days=DAYS, effort=LONGER), least(facts, openings)
        if known.better_than(found.goals):
            worse[number] = (known, found.goals)

    assert worse == {}


def test_a_week_that_chance_does_not_find_is_found_among_all_beginnings() -> None:
    (facts,) = [facts for number, facts in small(3, 60) if number == 70]

    found = best(facts, days=DAYS, effort=Effort(placings=2_000, solver=2))

    assert found.goals.rank == least(facts, 3).rank


def test_what_is_proved_is_the_best_of_all() -> None:
    proved = 0
    for number, facts in small(2, TWO_RUNS):
        found = best(facts, days=DAYS, effort=LONGER)
        if found.status == PROVED:
            proved += 1
            assert found.goals.rank == least(facts, 5).rank, number

    assert proved > 0
