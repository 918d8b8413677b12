"""A rinse in a tub is a place like any other: litres, rounds, hands, and nobody else meanwhile.

Dusk in the Small Loft by hand: iron stands to Tue 15:06, then 500 g are rinsed, 30 min of hands a
kg: 15 min. The bucket takes 15 L.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest

from inventory.science.figures import Figures
from sourcing.week.checking import check
from sourcing.week.costs import costs_of
from sourcing.week.facts import Block, Step, WeekFacts
from sourcing.week.plan import Answer
from sourcing.week.project import project
from tests.sourcing.week.expert_weeks import expert_faults, steps_that
from tests.sourcing.week.little import LITTLE, ZONE, feb, recipe, shelf, step
from tests.sourcing.week.test_costs import own

IN_A_BUCKET = step("rinse", vessels=("bucket",), l_per_kg=Decimal(30))


def answer(facts: WeekFacts) -> Answer:
    week = project(facts, days=7)
    assert check(facts, week) == []
    return week.answers[0]


def rinses(facts: WeekFacts, name: str = "rinse") -> list[str]:
    return [
        f"{row.vessel} {row.litres:f} L, {row.start.astimezone(ZONE):%a %H:%M} to "
        f"{row.end.astimezone(ZONE):%H:%M}, {row.hands_min} min"
        for row in answer(facts).steps
        if row.step == name
    ]


def with_scour_rinse(rinse: Step) -> WeekFacts:
    first, scour, *rest = LITTLE.recipes[0].steps
    return recipe(steps=(first, scour, rinse, *rest))


def test_a_rinse_stands_in_its_bucket_with_its_litres_as_long_as_its_hands_take() -> None:
    assert rinses(IN_A_BUCKET) == ["B1 15 L, Tue 15:06 to 15:21, 15 min"]


def test_a_rinse_that_stands_longer_than_its_hands_lasts_as_long_as_it_stands() -> None:
    assert rinses(step("rinse", IN_A_BUCKET, stand_min=40)) == [
        "B1 15 L, Tue 15:06 to 15:46, 15 min"
    ]


@pytest.mark.parametrize(
    ("ratio", "found"),
    [
        ("30", ["B1 15 L, Tue 15:06 to 15:21, 15 min"]),
        # 15.1 L in 15: two rounds of 7.55 L, 7 and 8 min of hands, the bucket emptied between.
        ("30.2", ["B1 7.55 L, Tue 15:06 to 15:13, 7 min", "B1 7.55 L, Tue 15:45 to 15:53, 8 min"]),
    ],
)
def test_too_small_a_bucket_is_filled_again(ratio: str, found: list[str]) -> None:
    assert rinses(step("rinse", IN_A_BUCKET, l_per_kg=Decimal(ratio))) == found


def test_without_a_vessel_of_its_kind_the_run_fits_nowhere() -> None:
    found = project(step("rinse", IN_A_BUCKET, vessels=("tub",)), days=7).answers[0]

    assert found.answer == "no"
    assert "no vessel is allowed for rinse" in [row.text for row in found.barred]


def test_a_bucket_that_is_taken_makes_the_rinse_wait_and_with_it_the_bath_before() -> None:
    taken = Block("b", "bleach", feb(2, 12), feb(2, 15, 30), vessels=("B1",))
    facts = replace(IN_A_BUCKET, blocks=(taken,))

    # The bucket is clean an hour after the block, 16:30. The rinse follows its iron at once, so the
    # dye begins on the first five minutes from which 96 + 180 + 90 min lead past that: 10:25.
    assert rinses(facts) == ["B1 15 L, Tue 16:31 to 16:46, 15 min"]


def test_two_runs_never_rinse_in_one_bucket_at_a_time() -> None:
    other = replace(LITTLE.runs[0], code="L", fibre_lot="W-2", weight_mg=100_000)
    wool = replace(LITTLE.shelf.fibre[0], code="W-2")
    facts = replace(IN_A_BUCKET, runs=(*LITTLE.runs, other))
    facts = replace(facts, shelf=replace(facts.shelf, fibre=(*facts.shelf.fibre, wool)))

    week = project(facts, days=7)
    rows = sorted((row.start, row.held_until) for a in week.answers for row in a.steps
                  if row.vessel == "B1")  # fmt: skip
    assert check(facts, week) == []
    assert len(rows) >= 2
    assert all(before[1] <= after[0] for before, after in pairwise(rows))


def test_the_rinse_of_a_scour_falls_away_with_it() -> None:
    facts = with_scour_rinse(Step("scour rinse", "rinse", ("bucket",), hands_min=10))

    assert rinses(facts, "scour rinse") == ["B1 15 L, Mon 11:25 to 11:35, 10 min"]
    assert rinses(shelf(facts, fibre={"scoured": True}), "scour rinse") == []


def test_a_rinse_in_the_pot_of_the_scour_has_fresh_water_there_and_a_shock_with_it() -> None:
    facts = with_scour_rinse(Step("scour rinse", "rinse", ("same",), hands_min=10))

    assert rinses(facts, "scour rinse") == ["P1 15 L, Mon 11:55 to 12:05, 10 min"]
    warnings = [row.text for row in answer(facts).warnings]
    # 32 min in the pot before it is emptied: 8 + 47 e^(-0.2 x 32 / 60) = 50.2 °C.
    assert warnings[0].startswith("wool leaves scour at 50 °C and goes into scour rinse at 8 °C")


def test_a_rinse_in_warmed_water_is_no_shock() -> None:
    # Out of the iron at 37.3 °C; 15 K are borne.
    assert len(answer(step("rinse", IN_A_BUCKET, begun_c=22)).warnings) == 2
    assert len(answer(step("rinse", IN_A_BUCKET, begun_c=23)).warnings) == 1


def test_water_counts_the_litres_in_the_tub_and_no_rinse_twice() -> None:
    figures = (own("studio", "rinses_at_end", "2"), own("studio", "rinses_after_scour", "1"))
    rates = (own("studio", "hands_rate_per_h", "1"), own("studio", "power_price_per_kwh", "1"))
    many = Figures((*figures, *rates, *LITTLE.figures.rows))

    def water(facts: WeekFacts) -> int:
        facts = replace(facts, figures=many)
        return int(costs_of(facts, project(facts, days=7).answers[0]).water_l)

    # Five baths of 15 L (wetting, scour, alum, dye, iron), a rinse after the scour, two at the end.
    assert water(LITTLE) == 5 * 15 + 15 + 2 * 15
    assert water(IN_A_BUCKET) == 5 * 15 + 15 + 15
    in_tubs = with_scour_rinse(Step("scour rinse", "rinse", ("bucket",), Decimal(20), hands_min=9))
    assert water(in_tubs) == 5 * 15 + 10 + 2 * 15


def test_the_second_opinion_knows_the_tub() -> None:
    week = project(IN_A_BUCKET, days=7)
    (found,) = week.answers

    def broken(**changes: object) -> set[str]:
        steps = tuple(
            replace(row, **changes) if row.step == "rinse" else row  # type: ignore[arg-type]
            for row in found.steps
        )
        bad = replace(week, answers=(replace(found, steps=steps),))
        return {fault.kind for fault in check(IN_A_BUCKET, bad)}

    assert "pot" in broken(vessel="")
    assert {"litres", "ratio"} <= broken(litres=Decimal(16))
    assert "too short" in broken(end=feb(2, 15, 20))
    assert "hands of a step" in broken(hands_min=14)


def test_no_plan_with_rinses_in_tubs_breaks_a_rule() -> None:
    assert expert_faults() == {}
    assert steps_that(lambda row: row.kind == "rinse" and bool(row.vessel)) > 200
    assert steps_that(lambda row: row.kind == "rinse" and bool(row.vessel) and row.round > 1) > 20
