"""What leaf and stones hold back when they are strained off is topped up, and counted as water."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from inventory.science.figures import Figure, Figures
from sourcing.week.checking import check
from sourcing.week.costs import costs_of
from sourcing.week.facts import Dose, Heat, Step, WeekFacts
from sourcing.week.plan import Answer
from sourcing.week.project import project
from sourcing.week.straining import held_figure
from tests.sourcing.week.expert_weeks import expert_answers, expert_faults
from tests.sourcing.week.little import LITTLE, MONDAY, recipe, shelf
from tests.sourcing.week.pellitory import FACTS
from tests.sourcing.week.test_costs import own

# Dusk with its skins strained off first: 250 g dried, 4 L a kilo by the shipped figure: 1 L.
EXTRACT = Step("extract", "extract", ("iron pot",), heats=(Heat(80, 60),), hands_min=20,
               hands_per="dye load", strain=True)  # fmt: skip


def strained(l_per_kg: str = "30", *, soaked: bool = False) -> WeekFacts:
    """Dusk with an extract of so many litres a kilo; its bath has 30, for 500 g 15 L."""
    steps = LITTLE.recipes[0].steps
    first = replace(EXTRACT, l_per_kg=Decimal(l_per_kg))
    soak = (Step("soak", "soak", ("bucket",), stand_min=60, hands_min=5),) if soaked else ()
    doses = tuple(
        replace(dose, step="soak" if soaked else "extract") if dose.what == "onion skins" else dose
        for dose in LITTLE.recipes[0].doses
    )
    dye = replace(steps[3], cool_min=0)
    facts = recipe(steps=(*steps[:3], *soak, first, dye, *steps[4:]), doses=doses)
    return replace(facts, hours=tuple(replace(row, hands_min=240) for row in facts.hours))


def answer(facts: WeekFacts) -> Answer:
    week = project(facts, days=7)
    assert check(facts, week) == []
    return week.answers[0]


@pytest.mark.parametrize(
    ("l_per_kg", "more_ml"),
    [
        ("20", 1000),  # 10 L go into 15 L: 5 L of water are wanted anyhow, and one more
        ("30", 1000),
        ("31", 500),  # half a litre is left over, so half a litre is enough
        ("32", 0),
    ],
)
def test_what_the_skins_hold_back_is_topped_up_as_far_as_it_is_wanted(
    l_per_kg: str, more_ml: int
) -> None:
    facts = strained(l_per_kg)
    big = shelf(facts, vessels={"working_ml": 16_000, "brim_ml": 20_000})

    assert answer(big).top_up_ml == more_ml


def test_the_answer_says_how_much_and_names_the_figure() -> None:
    found = answer(strained())

    assert found.notes == ("strained off, onion skins 1 L of the extract stays behind: top up 1 L",)
    (row,) = [row for row in found.reasons if row.kind == "held back"]
    assert row.text == "onion skins holds back 1 L"
    assert row.figure == "any dyestuff, held_back_dried_l_per_kg = 4 (assumed)"


def test_matter_that_soaked_before_counts_where_it_is_strained() -> None:
    assert answer(strained(soaked=True)).top_up_ml == 1000


def test_skins_that_stay_in_the_pot_hold_nothing_back() -> None:
    assert answer(LITTLE).top_up_ml == 0
    assert answer(LITTLE).notes == ()


def test_the_pot_of_the_extract_need_not_hold_any_less_or_more() -> None:
    # 15 L fit the pot of 15 L to the drop, whatever is held back.
    facts = strained()
    none = replace(facts, figures=Figures((_held("0"), *facts.figures.rows)))

    assert [row.litres for row in answer(facts).steps] == [row.litres for row in answer(none).steps]
    assert answer(none).top_up_ml == 0


def test_topping_up_counts_as_water() -> None:
    rates = (own("studio", "hands_rate_per_h", "1"), own("studio", "power_price_per_kwh", "1"))

    def water(facts: WeekFacts) -> Fraction:
        facts = replace(facts, figures=Figures((*rates, *facts.figures.rows)))
        return costs_of(facts, project(facts, days=7).answers[0]).water_l

    none = replace(strained(), figures=Figures((_held("0"), *LITTLE.figures.rows)))
    assert water(strained()) - water(none) == 1


def _held(value: str, item: str = "any dyestuff", name: str = "held_back_l_per_kg") -> Figure:
    return Figure(item, name, Decimal(value), basis="measured here", own=True)


def test_the_particular_comes_before_the_general_and_the_own_before_the_shipped() -> None:
    def value(state: str, *rows: Figure, dyestuff: str = "privet") -> str:
        found = held_figure(Figures(rows), dyestuff, state, on=MONDAY)
        return "" if found is None else str(found.value)

    assert value("dried") == "4"
    assert value("fresh") == value("frozen") == "0.4"
    assert value("dried", dyestuff="avocado stones") == "0.1"
    assert value("dried", dyestuff="walnut hulls") == "2"
    assert value("dried", _held("3")) == "3"
    mine = _held("5", "privet", "held_back_dried_l_per_kg")
    assert value("dried", _held("3"), mine) == "5"
    assert value("fresh", _held("3"), mine) == "3"


def test_pellitorys_water_stays_as_it_was_counted_by_hand() -> None:
    week = project(FACTS, days=7)

    assert {row.run: row.top_up_ml for row in week.answers if row.top_up_ml} == {}


def test_what_is_only_dosed_into_a_bath_that_is_made_is_not_strained_here() -> None:
    facts = strained()
    doses = (*facts.recipes[0].doses, Dose("nettle bath", "bath", "extract", l_per_kg=Decimal(1)))
    assert answer(facts).top_up_ml == 1000
    assert project(recipe(facts, doses=doses), days=7).answers[0].answer == "no"


def test_the_second_opinion_works_it_out_by_itself() -> None:
    facts = strained()
    week = project(facts, days=7)
    wrong = replace(week, answers=(replace(week.answers[0], top_up_ml=900),))

    assert {fault.kind for fault in check(facts, wrong)} == {"top up"}


def test_no_plan_that_is_topped_up_breaks_a_rule() -> None:
    assert expert_faults() == {}
    assert sum(answer.top_up_ml > 0 for answer in expert_answers()) > 10
