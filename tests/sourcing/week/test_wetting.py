"""Cloth is wetted out for the fibre's own time, which the plan shows with the figure behind it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from inventory.science.figures import Figure, Figures
from sourcing.week.checking import check
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer
from sourcing.week.project import project
from tests.sourcing.week.expert_weeks import expert_faults, steps_that
from tests.sourcing.week.little import LITTLE, ZONE, shelf, step

BY_FIBRE = step("wet out", stand_min=0)


def answer(facts: WeekFacts) -> Answer:
    return project(facts, days=7).answers[0]


def hours(facts: WeekFacts) -> dict[str, str]:
    return {
        row.step: f"{row.start.astimezone(ZONE):%a %H:%M} to {row.end.astimezone(ZONE):%a %H:%M}"
        for row in answer(facts).steps
    }


def test_wool_is_wetted_out_for_its_four_hours_before_the_scour() -> None:
    found = hours(BY_FIBRE)

    assert found["wet out"] == "Mon 09:00 to Mon 13:00"
    assert found["scour"] == "Mon 13:00 to Mon 14:23"


def test_the_answer_names_the_figure_that_the_time_rests_on() -> None:
    def why(facts: WeekFacts) -> list[tuple[str, str, bool]]:
        rows = [row for row in answer(facts).reasons if row.kind == "wetting out"]
        return [(row.text, row.figure, row.own) for row in rows]

    assert why(LITTLE) == []
    assert why(BY_FIBRE) == [
        ("wool wets out for 4 h", "wool, wet_out_h = 4 (common practice)", False)
    ]
    mine = Figure("wool", "wet_out_h", Decimal("1.5"), basis="measured here", own=True)
    own = replace(BY_FIBRE, figures=Figures((mine, *BY_FIBRE.figures.rows)))
    assert why(own) == [("wool wets out for 1.5 h", "wool, wet_out_h = 1.5 (studio's own)", True)]
    assert hours(own)["wet out"] == "Mon 09:00 to Mon 10:30"


def test_damp_wool_goes_straight_into_its_bath() -> None:
    damp = shelf(BY_FIBRE, fibre={"damp": True, "since": date(2027, 1, 31)})

    assert next(iter(hours(damp))) == "scour"
    assert hours(damp)["scour"] == "Mon 09:00 to Mon 10:23"


def test_one_dry_lot_among_damp_ones_is_wetted_out() -> None:
    damp = replace(BY_FIBRE.shelf.fibre[0], left_mg=300_000, damp=True, since=date(2027, 1, 31))
    dry = replace(damp, code="W-2", damp=False)
    facts = replace(BY_FIBRE, shelf=replace(BY_FIBRE.shelf, fibre=(damp, dry)),
                    runs=(replace(BY_FIBRE.runs[0], fibre_lot=""),))  # fmt: skip

    found = answer(facts)
    assert {take.source for take in found.takes} >= {"W-1", "W-2"}
    assert "wet out" in hours(facts)
    assert check(facts, project(facts, days=7)) == []


def test_the_second_opinion_wants_the_wetting_out_and_its_time() -> None:
    week = project(LITTLE, days=7)  # wetted out for one hour, as its recipe says

    assert {fault.kind for fault in check(BY_FIBRE, week)} >= {"standing"}
    damp = shelf(LITTLE, fibre={"damp": True, "since": date(2027, 1, 31)})
    assert "needless step" in {fault.kind for fault in check(damp, week)}


def test_no_plan_with_wetting_out_breaks_a_rule() -> None:
    assert expert_faults() == {}
    assert steps_that(lambda row: row.kind == "wet out") > 100
