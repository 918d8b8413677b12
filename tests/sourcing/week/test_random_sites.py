"""Studios made up by chance at several sites: what is fetched was there, in time, with the hands.

The checker shares nothing with the placer. `DYE_LARDER_LONG=1` goes through 3,000 studios.
"""

from __future__ import annotations

import os
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from inventory.science.figures import Figure
from sourcing.week.best import Effort, best
from sourcing.week.checking import check
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Week
from sourcing.week.project import project
from tests.sourcing.week.random_sites import spread
from tests.sourcing.week.random_studios import with_group
from tests.sourcing.week.under_way import begun

STUDIOS = 3_000 if os.environ.get("DYE_LARDER_LONG") == "1" else 80
# A dip beside the steps of another site; fixed work that alone is more than a site's hands.
ONCE_WRONG = (90, 752)
DAYS = 7


@lru_cache(maxsize=256)
def week_of(number: int) -> Week:
    return project(spread(number), days=DAYS)


def without_carrying(facts: WeekFacts) -> WeekFacts:
    rule = Figure("studio", "carry_in_plan", Decimal(0), own=True)
    return replace(facts, figures=replace(facts.figures, rows=(*facts.figures.rows, rule)))


def test_no_plan_of_several_sites_breaks_a_rule() -> None:
    faults = {
        number: [str(fault) for fault in found]
        for number in (*range(STUDIOS), *ONCE_WRONG)
        if (found := check(spread(number), week_of(number)))
    }

    assert faults == {}


def test_studios_have_everything_fetched() -> None:
    """A generator in which nothing is ever fetched would prove nothing."""
    kinds: dict[str, int] = {}
    for number in range(80):
        shelf = spread(number).shelf
        codes = {
            row.code: kind
            for kind in ("lots", "supplies", "jars", "fibre")
            for row in getattr(shelf, kind)
        }
        for answer in week_of(number).answers:
            for take in answer.takes:
                if take.carried_from:
                    kind = codes.get(take.source, "baths")
                    kinds[kind] = kinds.get(kind, 0) + 1

    assert {"lots", "supplies", "jars", "fibre"} <= kinds.keys()
    assert sum(kinds.values()) > 100


def test_what_may_be_fetched_turns_more_into_a_yes() -> None:
    with_it = without = 0
    for number in range(40):
        with_it += sum(row.answer == "yes" for row in week_of(number).answers)
        facts = without_carrying(spread(number))
        week = project(facts, days=DAYS)
        without += sum(row.answer == "yes" for row in week.answers)
        assert check(facts, week) == []
        assert not any(step.kind == "carry" for row in week.answers for step in row.steps)

    assert with_it > without * 1.2


def test_begun_runs_keep_what_they_have_fetched() -> None:
    fetched = 0
    for number in range(40):
        facts = spread(number)
        placed = [row.run for row in project(facts, days=28).answers if row.steps]
        facts = begun(facts, *placed[::2])
        week = project(facts, days=DAYS)
        assert check(facts, week) == [], number
        steps = {row.run: row.steps for row in week.answers}
        for run in facts.runs:
            if run.kept is not None:
                assert steps[run.code] == run.kept.steps, (number, run.code)
                fetched += any(step.kind == "carry" for step in run.kept.steps)

    assert fetched > 5


def test_the_best_week_is_no_worse_and_none_is_better_than_its_bound() -> None:
    ways = 0
    for number in range(100, 108):
        facts = spread(number)
        found = best(facts, days=DAYS, effort=Effort(placings=40, solver=0.2))
        assert check(facts, found.week) == [], number
        assert not found.plain.better_than(found.goals), number
        assert found.bound is None or not found.goals.better_than(found.bound), number
        ways += sum(step.kind == "carry" for row in found.week.answers for step in row.steps)

    assert ways > 5


def test_a_group_day_takes_only_what_lies_where_it_is() -> None:
    for number in (*range(2000, 2010), 2028):
        facts = with_group(spread(number), number)
        week = project(facts, days=DAYS)
        assert check(facts, week) == [], number
        groups = {run.code for run in facts.runs if run.group_block}
        assert not any(
            take.carried_from for row in week.answers for take in row.takes if row.run in groups
        )
