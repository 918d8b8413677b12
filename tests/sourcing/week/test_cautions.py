"""Cautions of a week: of runs by what they take, of jars by their own sum of gas."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from inventory.science.figures import Figure, Figures
from sourcing.week.cautions import Stands, cautions_of
from sourcing.week.plan import Answer
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS

WEEK = project(FACTS, days=7)
STANDS = cautions_of(FACTS, WEEK.answers)


def marks(run: str, rows: tuple[Stands, ...] = STANDS) -> list[str]:
    return [row.caution.mark for row in rows if row.run == run]


def test_privet_s_poison_follows_it_into_the_run_that_takes_it() -> None:
    assert marks("C")[0] == "POISON"
    assert [run for run in "ABCDEFG" if "POISON" in marks(run)] == ["C"]


def test_a_copper_bath_is_held_and_an_iron_bath_is_aired() -> None:
    assert [run for run in "ABCDEFG" if "HOLD" in marks(run)] == ["C"]
    assert [run for run in "ABCDEFG" if "AIR" in marks(run)] == ["D", "E"]


def test_a_run_that_takes_nothing_has_nothing_said_of_it() -> None:
    assert [answer.run for answer in WEEK.answers if answer.answer == "no"] == ["G", "B"]
    assert marks("G") == marks("B") == []


def test_the_group_is_told_of_children_and_of_the_colour_that_fades() -> None:
    assert {"CHILDREN", "FADES", "STINGS"} <= set(marks("F"))
    assert "LABEL" not in marks("F")


def test_pots_above_the_studio_s_limit_want_two_people() -> None:
    """Blush 40 L, Olive 18 L, Slate 12 L; the limit is 15 L (JOB.md 10)."""
    heavy = {row.run: row.caution.about for row in STANDS if row.caution.kind == "lifting"}

    assert heavy["A"] == "40 L"
    assert heavy["C"] == "18 L"
    assert "D" not in heavy


def test_the_studio_s_own_limit_decides_what_is_heavy() -> None:
    own = Figure("studio", "two_person_l", Decimal(40), own=True)
    others = (row for row in FACTS.figures.rows if row.name != "two_person_l")
    facts = replace(FACTS, figures=Figures((own, *others)))

    assert "TWO PEOPLE" not in marks("A", cautions_of(facts, WEEK.answers))


def test_each_iron_jar_says_its_own_litres_of_gas() -> None:
    """3.0 L of one to two with 5 % vinegar can give 10.0 L of gas (JOB.md 12, example 34)."""
    gas = {row.jar: row.caution.sentence for row in STANDS if row.caution.kind == "gas"}

    assert set(gas) == {"J1", "J2", "J3"}
    assert gas["J1"].endswith("up to 10.0 L of gas")


def test_a_jar_whose_metal_nobody_knows_is_given_no_other_jar_s_cautions() -> None:
    assert [row for row in STANDS if row.jar == "J5"] == []
    assert {row.caution.code for row in STANDS if row.jar == "J4"} == {
        "copper-skin", "copper-fish", "coins"
    }  # fmt: skip


def test_the_sums_hold_each_caution_once_with_its_runs_and_jars() -> None:
    rows = WEEK.sums["cautions"]

    assert isinstance(rows, list)
    (food,) = [row for row in rows if row["code"] == "food"]
    assert (food["runs"], food["jars"]) == (["F", "A", "C", "D", "E"], [])
    (shelf,) = [row for row in rows if row["code"] == "iron-child"]
    assert (shelf["runs"], shelf["jars"]) == ([], ["J1", "J2", "J3"])
    assert sum(len(row["runs"]) + len(row["jars"]) for row in rows) == len(STANDS)


def test_nothing_is_said_of_a_run_that_only_waits_for_an_answer() -> None:
    empty = Answer("Z", "Nothing yet", "no", None, None)

    assert [row for row in cautions_of(FACTS, (empty,)) if row.run] == []


def test_what_was_in_the_first_bath_goes_along_into_the_second() -> None:
    """Pale Olive is dyed in what Hedge Olive leaves: privet's poison and its copper are in it."""
    olive = next(row for row in FACTS.recipes if row.shade == "Hedge Olive")
    dye = next(step for step in olive.steps if step.kind == "dye")
    pale = replace(olive, code="pale", shade="Pale Olive", depth=1, bright=False, steps=(dye,),
                   doses=(), second_of=olive.code)  # fmt: skip
    run = next(row for row in FACTS.runs if row.code == "C")
    facts = replace(FACTS, recipes=(*FACTS.recipes, pale), runs=(
        *FACTS.runs, replace(run, code="P", recipe="pale", shade="Pale Olive")))  # fmt: skip

    placed = Answer("P", "Pale Olive", "yes", None, None)

    found = marks("P", cautions_of(facts, (placed,)))
    assert found[0] == "POISON"
    assert "HOLD" in found
