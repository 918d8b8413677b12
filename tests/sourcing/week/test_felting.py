"""Wool that goes from a hot bath into a cold one is warned of; nothing else changes."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from inventory.science.figures import Figure, Figures
from sourcing.week.facts import Heat, WeekFacts
from sourcing.week.plan import Answer
from sourcing.week.project import project
from tests.sourcing.week.little import LITTLE, recipe, run, shelf, step
from tests.sourcing.week.pellitory import FACTS


def answer(facts: WeekFacts) -> Answer:
    return project(facts, days=7).answers[0]


def warned(facts: WeekFacts, into: str = "hot alum") -> list[str]:
    """Warnings of one step; Dusk's last bath is hot enough for its rinse to be warned of too."""
    return [row.text for row in answer(facts).warnings if f"into {into}" in row.text]


def with_figure(item: str, name: str, value: str, facts: WeekFacts = LITTLE) -> WeekFacts:
    mine = Figure(item, name, Decimal(value), basis="measured here", own=True)
    return replace(facts, figures=Figures((mine, *facts.figures.rows)))


def test_wool_from_the_scour_into_cold_alum_is_warned_of_with_both_warmths() -> None:
    # Scour held at 55 °C to 11:23, alum begun 11:55 in water at 8 °C; out of its bath for 32 min at
    # 1/h: 8 + 47 e^(-32/60) = 35.6 °C, and 35.6 - 15 = 20.6 is the coldest that it bears.
    assert warned(LITTLE) == [
        "wool leaves scour at 55 °C and goes, still 36 °C, into hot alum at 8 °C: let it cool in "
        "its bath first or begin at 21 °C or warmer; wool felts"
    ]


def test_a_warning_names_the_figure_and_whose_it_is() -> None:
    row = answer(LITTLE).warnings[0]
    assert row.kind == "felting"
    assert row.figure == "wool, drop_without_felting_k = 15 (assumed)"
    assert not row.own

    row = answer(with_figure("wool", "drop_without_felting_k", "27.5")).warnings[0]
    assert row.own


@pytest.mark.parametrize(("bears", "warnings"), [("27.5", 1), ("27.6", 0)])
def test_the_studios_own_figure_decides_on_both_sides_of_its_border(
    bears: str, warnings: int
) -> None:
    # It falls from 35.57 to 8 °C: 27.57 K.
    assert len(warned(with_figure("wool", "drop_without_felting_k", bears))) == warnings


@pytest.mark.parametrize(("start", "warnings"), [(20, 1), (21, 0)])
def test_water_warmed_to_what_the_warning_says_ends_it(start: int, warnings: int) -> None:
    facts = step("hot alum", heats=(Heat(82, 60, start),))

    assert len(warned(facts)) == warnings


def test_wool_that_cools_in_its_bath_is_not_warned_of() -> None:
    # In the bath 55 °C falls to 23 °C in 343 min (Newton, 0.2/h), by 10 h to 14.4 °C. A pot is only
    # emptied for the next step, so nothing more is lost on the way.
    assert warned(step("scour", cool_min=600)) == []
    assert warned(step("scour", night=True)) == []
    assert warned(step("scour", cool_min=60)) != []


def test_silk_and_plant_fibre_are_never_warned_of() -> None:
    silk = shelf(run(recipe(fibres=("silk",)), fibre="silk"), fibre={"fibre": "silk"})

    assert answer(silk).steps
    assert warned(silk) == []


def test_a_rinse_counts_and_so_does_the_bath_that_stood_in_the_pot_before_it() -> None:
    # Dye held at 80 °C, then iron in the same bath, cooling all the while: 8 + 72 e^(-0.2 h).
    # 3 h and 90 min after the flame: 37.3 °C; without the 3 h: 61.3 °C.
    after = "°C: let it cool in its bath first or begin at"
    assert warned(LITTLE, "rinse") == [
        f"wool leaves iron at 37 °C and goes into rinse at 8 {after} 23 °C or warmer; wool felts"
    ]
    assert warned(step("dye", cool_min=0), "rinse") == [
        f"wool leaves iron at 61 °C and goes into rinse at 8 {after} 47 °C or warmer; wool felts"
    ]


def test_a_warning_changes_neither_answer_nor_hours() -> None:
    with_, without = answer(LITTLE), answer(with_figure("wool", "drop_without_felting_k", "90"))

    assert with_.warnings
    assert not without.warnings
    assert replace(with_, warnings=()) == without


def test_pellitorys_blush_is_the_only_one_that_is_warned_of() -> None:
    rows = [(a.run, row.text) for a in project(FACTS, days=7).answers for row in a.warnings]

    assert [run for run, _ in rows] == ["A"]
    assert "leaves scour at 55 °C" in rows[0][1]
