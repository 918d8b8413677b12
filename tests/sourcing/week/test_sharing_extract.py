"""Two runs of one extract: its hours, hands and straining by hand, and what may not be poured in.

Dusk (K) 400 g and Dawn (L) 300 g as in `sharing.py`, with an extract of skins at 20 L a kg before
the dye: 14 L, 8 to 80 °C in 33 min (14 x 4.186 x 72 / 126) and held 60, Tue 09:00 to 10:33.
Strained into a pot for each, 30 min and 10 for each pot: 11:23. Two parts at 70 °C and one at 8 °C
are 49 °C: Dusk dyes 12 L in 12 + 60 min, 11:25 to 12:37; the pot is cleaned for 60 min; Dawn dyes
9 L in 9 + 60 min, 13:40 to 14:49.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from inventory.science.figures import Figures
from sourcing.week.checking import check
from sourcing.week.facts import Dose, Heat, Recipe, Step, WeekFacts
from sourcing.week.guidance import PLAIN, Guidance, Together
from sourcing.week.plan import Placed, Week
from tests.sourcing.week.checking.breaking import with_answer
from tests.sourcing.week.little import feb, own
from tests.sourcing.week.sharing import answers, other, other_step, studio, week_of

SHARED = Guidance(together=(Together("K", "L", "extract"),))
EXTRACT = Step(
    "extract", "extract", ("pot",), l_per_kg=Decimal(20), heats=(Heat(80, 60),), hands_min=40,
    hands_per="dye load", strain=True, strained_c=70, one_lot=True,
)  # fmt: skip


def with_extract(recipe: Recipe) -> Recipe:
    steps = (*recipe.steps[:2], EXTRACT, *recipe.steps[2:])
    doses = tuple(replace(dose, step="extract") if dose.kind == "dyestuff" else dose
                  for dose in recipe.doses)  # fmt: skip
    return replace(recipe, steps=steps, doses=doses, may_share=("scour", "mordant", "extract"))


def extracting() -> WeekFacts:
    facts = studio()
    rules = (own("studio", "strain_min", "30"), own("studio", "strain_per_load_min", "10"))
    return replace(
        facts,
        recipes=tuple(map(with_extract, facts.recipes)),
        hours=tuple(replace(row, hands_min=240) for row in facts.hours),
        figures=Figures((*rules, *facts.figures.rows)),
    )


FACTS = extracting()
WEEK = week_of(FACTS, SHARED)


def rows(step: str, week: Week = WEEK) -> dict[str, Placed]:
    return {answer.run: row for answer in week.answers for row in answer.steps if row.step == step}


def test_one_extract_for_both_has_the_hours_worked_by_hand() -> None:
    extract, dye = rows("extract"), rows("dye")

    for code in "KL":
        assert (extract[code].start, extract[code].end) == (feb(2, 9), feb(2, 10, 33))
        assert extract[code].held_until == feb(2, 11, 23)
        assert dye[code].start_c == 49
    assert (dye["K"].start, dye["K"].end) == (feb(2, 11, 25), feb(2, 12, 37))
    assert (dye["L"].start, dye["L"].end) == (feb(2, 13, 40), feb(2, 14, 49))
    assert check(FACTS, WEEK) == []


def test_amounts_add_up_in_the_pot_and_each_takes_its_own() -> None:
    extract = rows("extract")
    skins = {
        answer.run: sum(take.amount for take in answer.takes if take.what == "onion skins")
        for answer in WEEK.answers
    }

    assert [extract[code].litres for code in "KL"] == [8, 6]
    assert skins == {"K": 200_000, "L": 150_000}
    assert [extract[code].hands_min for code in "KL"] == [80, 0], "40 for each pot that is filled"


def skins_by(**fields: object) -> WeekFacts:
    doses = tuple(
        replace(dose, **fields) if dose.what == "onion skins" else dose  # type: ignore[arg-type]
        for dose in FACTS.recipes[1].doses
    )
    return other(FACTS, "dawn", doses=doses)


WHY_NOT = {
    "a recipe that does not allow it": other(FACTS, "dawn", may_share=("scour", "mordant")),
    "another strength of skins": skins_by(per_fibre=Fraction(60, 100)),
    "another state of them": skins_by(state=""),
    "one lot only": other(FACTS, "dawn", match="lot"),
    "strained colder": other_step(FACTS, "dawn", "extract", strained_c=60),
    "a snippet first": other_step(
        other_step(FACTS, "dusk", "extract", snippet_min=20), "dawn", "extract", snippet_min=20
    ),
    "a liquor in it": other(
        FACTS,
        "dawn",
        doses=(
            *FACTS.recipes[1].doses,
            Dose("iron", "liquor", "extract", ml_per_100g=Decimal(1)),
        ),
    ),
}


@pytest.mark.parametrize("why", WHY_NOT)
def test_what_may_not_be_poured_together_is_not(why: str) -> None:
    facts = WHY_NOT[why]
    facts = replace(facts, runs=tuple(replace(run, due=None) for run in facts.runs))

    assert answers(facts, SHARED) == answers(facts, PLAIN)


def test_an_extract_that_cannot_be_dyed_out_on_its_day_is_not_shared() -> None:
    """The second dye has to wait for the pot until the next morning."""
    hours = tuple(replace(row, closes=row.closes.replace(hour=13)) for row in FACTS.hours)
    facts = replace(FACTS, hours=hours)

    found = answers(facts, SHARED)

    assert not any(row.shared_with for row in found["L"].steps if row.step == "extract")


@pytest.mark.parametrize(("kind", "facts"), [
    ("shared lot", other(FACTS, "dawn", match="lot")),
    ("shared recipe", other(FACTS, "dawn", may_share=("scour", "mordant"))),
    ("shared step", skins_by(per_fibre=Fraction(60, 100))),
])  # fmt: skip
def test_the_checker_finds_what_may_not_be_in_one_extract(kind: str, facts: WeekFacts) -> None:
    assert kind in {fault.kind for fault in check(facts, WEEK)}


def test_the_checker_finds_straining_and_hands_for_one_alone() -> None:
    def changed(row: Placed) -> Placed:
        if row.step != "extract":
            return row
        return replace(row, held_until=feb(2, 11, 13), hands_min=row.hands_min // 2)

    week = WEEK
    for code in "KL":
        steps = next(answer.steps for answer in WEEK.answers if answer.run == code)
        week = with_answer(code, week, steps=tuple(map(changed, steps)))

    assert {"held", "hands of a step"} <= {fault.kind for fault in check(FACTS, week)}
