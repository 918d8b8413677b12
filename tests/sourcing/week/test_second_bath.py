"""A run in the second bath of another: from when, how much of it, and what bars it."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from fractions import Fraction

import pytest

from sourcing.week.checking import check
from sourcing.week.facts import Dose, WeekFacts
from sourcing.week.guidance import PLAIN, Guidance
from sourcing.week.project import as_week, project, worked_out
from sourcing.week.second_bath import follows, in_turn
from tests.sourcing.week.little import ZONE, feb
from tests.sourcing.week.random_second_baths import second_bath_studio, some_orders
from tests.sourcing.week.second_baths import (
    ALONE,
    FULL,
    HAZE,
    TWO,
    K,
    L,
    altered,
    answers,
    figure,
    haze,
    of_bath,
    third,
    week_of,
    with_bath,
)
from tests.sourcing.week.sharing import DAYS

SOME = 60


def texts(facts: WeekFacts, run: str = "L") -> list[str]:
    answer = answers(facts)[run]
    rows = (*answer.short, *answer.reasons, *answer.waits_for)
    return [row.text for row in rows]


def test_haze_waits_for_the_cloth_of_dusk_to_be_out() -> None:
    found = answers(TWO)["L"]

    assert found.answer == "yes"
    assert of_bath(found) == [("K-bath", 7200, 4800)]
    assert "wants the bath of K, free Tue 2 Feb 10:29" in [row.text for row in found.reasons]
    assert found.notes == ("7.2 L of the bath of Dusk, topped up with 1.8 L of water",)
    assert check(TWO, week_of(TWO)) == []


def test_without_a_scour_it_is_dyed_as_soon_as_the_pot_is_clean() -> None:
    wool = replace(FULL.shelf.fibre[0], code="W-2", scoured=True, mordant="alum",
                   mordant_percent=Decimal(12))  # fmt: skip
    facts = replace(TWO, shelf=replace(TWO.shelf, fibre=(*TWO.shelf.fibre, wool)),
                    runs=(K, replace(L, fibre_lot="W-2")))  # fmt: skip
    dye = answers(facts)["L"].steps[0]

    # Out at 10:29, the pot is clean an hour later; starts fall on five minutes.
    assert (dye.step, dye.vessel, dye.start) == ("dye", "P1", feb(2, 11, 30))


def test_the_first_run_is_placed_first_whichever_is_due_sooner() -> None:
    facts = replace(TWO, runs=(replace(K, due=feb(12, 12)), replace(L, due=feb(11, 12))))
    week = week_of(facts)

    assert week.order == ("K", "L")
    assert of_bath(next(row for row in week.answers if row.run == "L"))
    assert check(facts, week) == []


def test_the_order_of_due_dates_stands_where_it_is_right_already() -> None:
    assert week_of(TWO).order == ()


def test_a_line_of_baths_is_placed_from_its_beginning() -> None:
    facts = third()
    mixed = tuple(reversed(facts.runs))

    found = in_turn(Guidance(order=("M", "L", "K")), mixed, facts.recipes)

    assert [run.code for run in found] == ["K", "L", "M"]


def test_recipes_that_follow_each_other_in_a_circle_come_to_nothing_and_no_loop() -> None:
    facts = altered(TWO, "dusk", second_of="haze")

    assert [run.code for run in in_turn(PLAIN, facts.runs, facts.recipes)] == ["K", "L"]
    assert answers(facts)["K"].answer == "no"


def test_nobody_dyes_the_first_shade() -> None:
    assert texts(ALONE)[:2] == [
        "bath of Dusk short by 7.2 L: 7.2 L wanted, 0 mL left",
        "nobody dyes Dusk, and no bath of it is kept",
    ]


def test_who_dyes_the_first_shade_is_not_placed() -> None:
    facts = replace(TWO, shelf=replace(TWO.shelf, lots=()))

    assert "no bath of Dusk is left here by K" in texts(facts)


def test_a_bath_on_the_shelf_is_used_from_now_on() -> None:
    facts = with_bath()
    found = answers(facts)["L"]

    assert found.answer == "yes"
    assert of_bath(found) == [("DB-1", 7200, 800)]
    assert check(facts, week_of(facts)) == []


def test_a_bath_that_is_kept_comes_before_one_that_is_to_be_left() -> None:
    assert of_bath(answers(with_bath(TWO))["L"]) == [("DB-1", 7200, 800)]


@pytest.mark.parametrize(("left", "answer"), [(7_200_000, "yes"), (7_199_999, "no")])
def test_a_microlitre_short_is_short(left: int, answer: str) -> None:
    assert answers(with_bath(left_ul=left))["L"].answer == answer


def test_two_share_out_one_bath() -> None:
    # 300 g want 7.2 L of 12: 200 g more want 4.8 and have just that, 201 g do not.
    more = replace(L, code="M", weight_mg=200_000, due=None)

    assert of_bath(answers(replace(TWO, runs=(K, L, more)))["M"]) == [("K-bath", 4800, 0)]
    too_much = replace(more, weight_mg=201_000)
    assert answers(replace(TWO, runs=(K, L, too_much)))["M"].answer == "no"


def test_as_much_cloth_takes_what_the_bath_gives_where_no_strength_is_wished() -> None:
    # 30 L a kilo, as it was dyed at: 9 L, and no water.
    found = answers(haze(strength=None))["L"]

    assert of_bath(found) == [("K-bath", 9000, 3000)]
    assert found.notes == ("9 L of the bath of Dusk",)


def test_more_colour_than_its_own_liquor_takes_in_is_refused() -> None:
    # 30 x 0.55 / 0.5 = 33 L a kilo do not go into 30.
    assert "DB-1 is too weak for so much colour: 33 L of it for each kg, 30 L go in" in texts(
        haze(with_bath(), strength=Fraction(55, 100))
    )
    assert answers(haze(with_bath(), strength=Fraction(1, 2)))["L"].answer == "no"  # 9 L of 8
    wide = haze(with_bath(left_ul=9_900_000), strength=Fraction(55, 100), l_per_kg=Decimal(33))
    assert answers(wide)["L"].answer == "yes"


def test_the_studio_s_own_strength_of_a_second_bath_counts() -> None:
    # 30 x 0.4 / 0.6 = 20 L a kilo.
    found = answers(figure("studio", "second_bath_strength_fraction", "0.6"))["L"]

    assert of_bath(found) == [("K-bath", 6000, 6000)]


def test_light_is_not_turned_dark() -> None:
    assert answers(haze(depth=3))["L"].answer == "yes"
    assert "K-bath gave Dusk: second bath is paler" in texts(haze(depth=4))


def test_a_bright_does_not_follow_iron() -> None:
    bright = haze(bright=True)
    iron = replace(FULL.recipes[0].steps[2], metal="iron")
    steps = tuple(iron if row.name == "dye" else row for row in FULL.recipes[0].steps)

    assert answers(bright)["L"].answer == "yes"
    assert "DB-1 holds iron: brights come before it" in texts(haze(with_bath(metal="iron"),
                                                                  bright=True))  # fmt: skip
    pots = (replace(FULL.shelf.vessels[0], code="P2", iron_pot=True), *FULL.shelf.vessels)
    dark = altered(replace(bright, shelf=replace(bright.shelf, vessels=pots)), "dusk",
                   steps=tuple(replace(row, vessels=("iron pot",)) if row.name == "dye" else row
                               for row in steps))  # fmt: skip
    assert "K-bath holds iron: brights come before it" in texts(dark)


def test_iron_in_a_bath_wants_an_iron_pot() -> None:
    facts = with_bath(metal="iron")
    assert "DB-1 holds iron, and dye goes into other than iron pots" in texts(facts)

    either = replace(HAZE.steps[2], vessels=("pot", "iron pot"))
    steps = tuple(either if row.name == "dye" else row for row in HAZE.steps)
    assert answers(haze(facts, steps=steps))["L"].answer == "no"

    dye = replace(HAZE.steps[2], vessels=("iron pot",))
    pots = (replace(FULL.shelf.vessels[0], code="P2", iron_pot=True), *FULL.shelf.vessels)
    steps = tuple(dye if row.name == "dye" else row for row in HAZE.steps)
    facts = haze(replace(facts, shelf=replace(facts.shelf, vessels=pots)), steps=steps)

    assert answers(facts)["L"].answer == "yes"
    assert check(facts, week_of(facts)) == []


def test_liquor_of_iron_in_the_pot_of_the_dye_is_in_its_bath() -> None:
    after = replace(FULL.recipes[0].steps[2], name="sadden", kind="after-bath", vessels=("same",),
                    heats=(), stand_min=30)  # fmt: skip
    steps = FULL.recipes[0].steps
    dusk = altered(haze(bright=True), "dusk", steps=(*steps[:3], after, steps[3]),
                   doses=(*FULL.recipes[0].doses, Dose("iron", "liquor", "sadden",
                                                       ml_per_100g=Decimal(5))))  # fmt: skip

    assert "K-bath holds iron: brights come before it" in texts(dusk)


@pytest.mark.parametrize(("day", "answer"), [(26, "yes"), (25, "no")])
def test_a_bath_is_good_for_seven_days(day: int, answer: str) -> None:
    # Haze is scoured and mordanted on Mon 1 Feb and dyed on Tue 2 Feb.
    facts = with_bath(made_at=datetime(2027, 1, day, 12, tzinfo=ZONE))

    assert answers(facts)["L"].answer == answer
    assert ("DB-1 ends Mon 1 Feb, before Tue 2 Feb" in texts(facts)) == (answer == "no")


def test_a_bath_left_in_a_warm_shed_ends_before_it_can_be_used() -> None:
    """At 30 °C seven days become two at the most: what is dyed after that has no bath."""
    warm = figure("studio", "shed_c", "30", figure("dyebath", "spoils_q10", "3"))
    cold = replace(warm, runs=(K, replace(L, fibre_lot="W-9")))
    late = replace(FULL.shelf.fibre[0], code="W-9", arrives_at=feb(8, 9))
    cold = replace(cold, shelf=replace(cold.shelf, fibre=(*FULL.shelf.fibre, late)))

    assert any("K-bath ends" in text for text in texts(cold))
    assert answers(replace(cold, figures=TWO.figures))["L"].answer != "no"


def test_a_third_bath_is_dyed_where_the_dyestuff_gives_three() -> None:
    facts = third()
    found = answers(facts)

    # Mist: as much of its 9 L as Haze was dyed in a kilo, 30 L: 3 L of 100 g.
    assert of_bath(found["M"]) == [("L-bath", 3000, 6000)]
    assert check(facts, week_of(facts)) == []


def test_a_bath_too_many_is_refused() -> None:
    facts = replace(third(), figures=TWO.figures)

    assert "onion skins colours 2 baths, this would be number 3" in texts(facts, "M")


def test_a_bath_used_twice_already_is_no_second_bath() -> None:
    assert answers(with_bath(times_used=2))["L"].answer == "no"
    assert answers(with_bath(times_used=0))["L"].answer == "yes"


def test_a_bath_of_another_shade_or_set_aside_is_none() -> None:
    assert answers(with_bath(shade="Ember"))["L"].answer == "no"
    assert answers(with_bath(set_aside="furry"))["L"].answer == "no"


def at_the_yard(facts: WeekFacts) -> WeekFacts:
    """Pots, ring and line stand at one of two sites."""
    shelf = facts.shelf
    return replace(facts, sites=("yard", "loft"), shelf=replace(
        shelf,
        vessels=tuple(replace(row, site="yard") for row in shelf.vessels),
        rings=tuple(replace(row, site="yard") for row in shelf.rings),
        lines=tuple(replace(row, site="yard") for row in shelf.lines),
    ))  # fmt: skip


def test_a_bath_that_is_kept_at_another_site_is_fetched() -> None:
    facts = at_the_yard(with_bath(site="loft"))
    found = answers(facts)["L"]

    assert [(row.source, row.carried_from) for row in found.takes if row.what == "dyebath"] == [
        ("DB-1", "loft")
    ]
    assert check(facts, week_of(facts)) == []
    heavy = figure("studio", "carry_l_at_most", "7", facts)
    assert answers(heavy)["L"].answer == "no"


def test_a_recipe_that_is_gone_is_said() -> None:
    assert texts(haze(second_of="ember"))[0] == (
        "no recipe ember with a step that dyes is written down"
    )


def test_what_would_unlock_it_is_so_much_of_that_bath() -> None:
    week = project(ALONE, days=DAYS, unlocks=True)

    assert [row.text for row in week.answers[0].unlocks] == [
        "7.2 L more of the bath of Dusk by Tue 2 Feb 09:00"
    ]


def test_how_much_it_asks_is_a_sum_of_its_line() -> None:
    asked = follows(HAZE, TWO.recipes, TWO.figures, on=feb(1).date())

    assert asked is not None
    assert (asked.number, asked.left, asked.strength) == (2, Fraction(1, 2), Fraction(2, 5))
    assert asked.of_bath(Fraction(30)) == 24
    assert follows(FULL.recipes[0], TWO.recipes, TWO.figures, on=feb(1).date()) is None


# -- made up by chance ---------------------------------------------------------------------------


def test_no_plan_with_a_second_bath_breaks_a_rule() -> None:
    faults, seen = {}, Counter[str]()
    for number in range(SOME):
        facts = second_bath_studio(number)
        weeks = [week_of(facts)]
        for guidance in some_orders(facts, 2, seed=number):
            desk, found, _ = worked_out(facts, DAYS, turns=False, guidance=guidance)
            weeks.append(as_week(desk, found))
        for week in weeks:
            seen.update(_where(week_row) for answer in week.answers for week_row in of_bath(answer))
            if rows := check(facts, week):
                faults[number] = [str(row) for row in rows]

    assert faults == {}
    assert seen["of a run"] > 40
    assert seen["kept"] > 10


def _where(row: tuple[str, int, int]) -> str:
    return "of a run" if row[0].endswith("-bath") else "kept"
