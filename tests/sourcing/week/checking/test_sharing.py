"""Planted faults in a plan whose runs share pots: each is found."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from sourcing.week.checking import check
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Placed, Week
from tests.sourcing.week.checking.breaking import with_answer
from tests.sourcing.week.sharing import other, other_run, other_step, studio, week_of

FACTS = studio()
WEEK = week_of(FACTS)


def kinds(facts: WeekFacts = FACTS, week: Week = WEEK) -> set[str]:
    return {fault.kind for fault in check(facts, week)}


def with_rows(run: str, step: str, **changes: object) -> Week:
    answer = next(row for row in WEEK.answers if row.run == run)

    def changed(row: Placed) -> Placed:
        return replace(row, **changes) if row.step == step else row  # type: ignore[arg-type]

    return with_answer(run, WEEK, steps=tuple(map(changed, answer.steps)))


def shelf(**fields: object) -> WeekFacts:
    return replace(FACTS, shelf=replace(FACTS.shelf, **fields))  # type: ignore[arg-type]


def test_the_plan_itself_has_none() -> None:
    assert kinds() == set()


def test_a_pot_that_is_too_small_for_both() -> None:
    pots = (replace(FACTS.shelf.vessels[0], working_ml=20_000),)

    assert "litres" in kinds(shelf(vessels=pots))


@pytest.mark.parametrize(("kind", "facts"), [
    ("shared recipe", other(FACTS, "dawn", may_share=("scour",))),
    ("shared mordant", other(FACTS, "dawn", mordant_percent=Decimal(8))),
    ("shared step", other_step(FACTS, "dawn", "scour", l_per_kg=Decimal(31))),
    ("shared fibre", other_run(FACTS, "L", fibre="linen")),
    ("shared iron", other(shelf(fibre=(replace(FACTS.shelf.fibre[0], iron_percent=Decimal(1)),)),
                          "dusk", bright=True)),
    ("shared dye", shelf(fibre=(replace(FACTS.shelf.fibre[0], shade="Straw"),))),
    ("shared water", other(FACTS, "dawn", water="rain water")),
])  # fmt: skip
def test_what_may_not_be_in_one_pot(kind: str, facts: WeekFacts) -> None:
    assert kind in kinds(facts)


def test_a_shared_step_that_is_moved_alone() -> None:
    row = next(row for answer in WEEK.answers for row in answer.steps if row.shared_with)
    later = timedelta(minutes=5)
    week = with_rows("L", "scour", start=row.start + later, end=row.end + later)

    assert {"shared", "pot twice"} <= kinds(week=week)


def test_a_step_that_is_said_to_be_shared_by_one_only() -> None:
    assert "shared" in kinds(week=with_rows("L", "scour", shared_with=()))


def test_hands_that_are_counted_for_both() -> None:
    assert "hands of a step" in kinds(week=with_rows("L", "scour", hands_min=30))


def test_heat_for_one_alone() -> None:
    assert "heat" in kinds(week=with_rows("L", "scour", heat_min=14))
