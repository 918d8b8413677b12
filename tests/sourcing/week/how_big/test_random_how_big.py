"""Studios made up by chance: the weight that is named is a yes, and one step more is none."""

from __future__ import annotations

import os

from sourcing.week.how_big import HowBig, how_big_of
from sourcing.week.project import project
from sourcing.week.what_if import week_if
from sourcing.week.what_if.runs import AnotherWeight
from tests.sourcing.week.random_studios import studio

STUDIOS = 400 if os.environ.get("DYE_LARDER_LONG") == "1" else 25
DAYS = 7


def test_the_largest_weight_is_a_yes_and_a_step_more_is_none() -> None:
    found: list[HowBig] = []
    for number in range(STUDIOS):
        facts = studio(number)
        code = facts.runs[number % len(facts.runs)].code
        big = how_big_of(facts, code, days=DAYS)
        found.append(big)
        for mg, wanted in ((big.mg, True), (big.mg + big.step_mg, False)):
            if mg:
                week = week_if(facts, [AnotherWeight(code, mg)], days=DAYS)
                (answer,) = [row.answer for row in week.answers if row.run == code]
                assert (answer == "yes") == wanted, (number, code, mg)

    assert sum(big.mg > 0 for big in found) > STUDIOS / 4
    assert all(big.binds for big in found)
    assert {"fibre", "dyestuff"} <= {row.kind for big in found for row in big.binds}


def test_a_run_that_is_a_yes_fits_at_least_as_it_is_wanted() -> None:
    """Or a heavier one does, as whatever is heavier than the largest does not."""
    for number in range(12):
        facts = studio(number)
        week = project(facts, days=DAYS)
        yes = [row.run for row in week.answers if row.answer == "yes"]
        for run in (run for run in facts.runs if run.code in yes[:1]):
            big = how_big_of(facts, run.code, days=DAYS)

            assert big.mg + big.step_mg > run.weight_mg - run.weight_mg % big.step_mg
