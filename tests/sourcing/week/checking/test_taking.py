"""Amounts: nothing promised twice, every dose the recipe's, everything good and ready by then."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from inventory.science.facts import ColdPlaceFacts, Dip, Stay
from sourcing.week.plan import Job
from tests.sourcing.week.checking.breaking import (
    FACTS,
    answer_of,
    kinds,
    on_shelf,
    texts,
    with_answer,
    with_dose,
    with_figure,
    with_recipe,
    with_run,
    with_take,
)
from tests.sourcing.week.pellitory import nov
from tests.sourcing.week.pellitory_plan import take


def test_no_gram_is_promised_twice() -> None:
    facts = on_shelf("lots", "PR-1003", left_mg=479_000)
    week = with_take("C", "PR-1003", left_after=-1_000)

    assert texts("claimed twice", facts, week) == [
        "480000 mg of PR-1003 are taken, 479000 are there"
    ]
    assert kinds(facts, week) == {"claimed twice"}


def test_last_gram_may_be_taken() -> None:
    facts = on_shelf("lots", "PR-1003", left_mg=480_000)

    assert kinds(facts, with_take("C", "PR-1003", left_after=0)) == set()


def test_two_runs_share_a_jar_in_order_of_due_date() -> None:
    """Iron 6 holds 900 mL: 200 for Slate leave 700, 450 for Oak Grey leave 250."""
    week = with_take("D", "J2", with_take("E", "J2", left_after=450_000), left_after=250_000)

    assert kinds(week=week) == {"left after"}
    assert kinds(with_run("E", due=nov(30, 18)), week) == {"answer"}


def test_what_is_left_after_is_what_was_there_less_what_is_taken() -> None:
    assert texts("left after", week=with_take("C", "PR-1003", left_after=90_000)) == [
        "PR-1003: 90000 mg are said to be left, 80000 are"
    ]


def test_take_from_a_lot_that_nobody_has_is_found() -> None:
    facts = replace(FACTS, shelf=replace(FACTS.shelf, lots=()))

    assert "unknown" in kinds(facts)


def test_dose_is_the_recipes() -> None:
    week = with_take("C", "PR-1003", amount=470_000, left_after=90_000)

    assert texts("dose", week=week) == ["mg of privet: 470000 are taken, 480000 by the recipe"]
    assert kinds(week=week) == {"dose"}


def test_amount_outside_the_recipe_is_found() -> None:
    takes = (*answer_of("C").takes, take("C", "NE-0620", "nettle", 40_000, 0, "24 14:00", "soak"))

    assert "dose" in kinds(week=with_answer("C", takes=takes))


def test_take_happens_when_its_step_begins() -> None:
    assert kinds(week=with_take("C", "PR-1003", at=nov(24, 14, 5))) == {"take moment"}


def test_lot_that_comes_later_is_not_used_before() -> None:
    assert kinds(on_shelf("lots", "ON-0801", arrives_at=nov(23, 17))) == set()
    assert texts("arrival", on_shelf("lots", "ON-0801", arrives_at=nov(24, 17))) == [
        "ON-0801 comes Tue 24 17:00"
    ]


@pytest.mark.parametrize("change", [{"set_aside": "damp"}, {"labelled": False}])
def test_lot_set_aside_is_not_used(change: dict[str, Any]) -> None:
    assert kinds(on_shelf("lots", "ON-0801", **change)) == {"set aside"}


def test_lot_past_its_last_good_day_is_put_by_before() -> None:
    assert texts("last good day", week=with_answer("A", jobs=())) == [
        "AV-1116 is good till Mon 23 and used on Tue 24"
    ]


def test_lot_is_put_by_no_later_than_its_last_good_day() -> None:
    tuesday = Job("freeze AV-1116", date(2026, 11, 24), "", "A", 0, "put by", "AV-1116")

    assert kinds(week=with_answer("A", jobs=(tuesday,))) == {"put by late"}


def test_lot_still_good_on_the_day_needs_no_job() -> None:
    fresh = (Stay(nov(17, 17), "fresh", "fridge", "fridge"),)

    assert kinds(on_shelf("lots", "AV-1116", stays=fresh), with_answer("A", jobs=())) == set()


def test_foraged_lot_needs_permission_for_a_client() -> None:
    assert kinds(on_shelf("lots", "PR-1003", permission="")) == {"permission"}
    assert kinds(with_run("C", on_shelf("lots", "PR-1003", permission=""), client=False)) == set()


def test_lot_is_in_the_state_that_the_recipe_asks_for() -> None:
    assert kinds(with_dose("hedge-olive", "privet", state="fresh")) == {"state"}


def test_lot_is_used_whole_before_the_next_is_opened() -> None:
    takes = answer_of("A").takes
    swapped = (*takes[:2], takes[3], takes[2])

    assert kinds(week=with_answer("A", takes=swapped)) == {"use first"}


def test_shade_that_must_match_draws_from_one_lot() -> None:
    facts = with_recipe("blush", lambda recipe: replace(recipe, match="lot"))

    assert texts("one lot", facts) == ["avocado stones is from 2 lots"]


def test_jar_is_ready_when_it_is_drawn_from() -> None:
    faint = on_shelf("jars", "J2", dips=(Dip(nov(2, 9), 2),))

    assert "jar" in kinds(faint)
    assert texts("jar", on_shelf("jars", "J4", begun_at=nov(26, 9, 30))) == [
        "Copper 4 is not ready"
    ]
    assert kinds(on_shelf("jars", "J4", begun_at=nov(26, 9))) == set()


def test_dose_of_iron_stays_under_the_ceiling() -> None:
    """51.8 mL per 100 g at 5 % one to two hold 2 %; rounded down 51: 204 mL for 400 g of silk."""
    over = with_take("D", "J2", amount=205_000, left_after=695_000)

    assert "ceiling" in kinds(week=over)
    assert "ceiling" not in kinds(week=with_take("D", "J2", amount=204_000, left_after=696_000))


def test_strip_3_takes_more_of_a_jar() -> None:
    assert kinds(on_shelf("jars", "J2", dips=(Dip(nov(2, 9), 3),))) == {"dose"}


def test_bath_past_its_days_is_not_used() -> None:
    """J6 of Thursday 19 November keeps five days: Tuesday 24 is its last, the group comes on 28."""
    old = take("F", "J6", "nettle bath", 7_200_000, 800_000, "28 10:00", "group day")
    wool, _, cabbage = answer_of("F").takes
    week = with_answer("F", takes=(wool, old, cabbage), jobs=answer_of("F").jobs[:1])

    assert texts("bath", week=week) == ["J6 ends Tue 24"]


def test_bath_that_nobody_makes_is_not_there() -> None:
    week = with_answer("F", jobs=answer_of("F").jobs[:1])

    assert texts("bath", week=week) == ["nobody makes nettle bath"]


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"set_aside": "torn"}, "is set aside"),
        ({"arrives_at": nov(23, 9, 5)}, "arrives Mon 23 09:05"),
        ({"fibre": "wool"}, "is wool, not silk"),
    ],
)
def test_fibre_is_here_and_sound(change: dict[str, Any], why: str) -> None:
    assert f"S-12 {why}" in texts("fibre", on_shelf("fibre", "S-12", **change))
    assert kinds(on_shelf("fibre", "S-12", **change)) == {"fibre"}


def test_fibre_that_lies_damp_too_long_is_not_used() -> None:
    damp = {"damp": True, "since": date(2026, 11, 20)}
    gone = {"damp": True, "since": date(2026, 11, 19)}

    assert kinds(on_shelf("fibre", "S-12", **damp)) == set()
    assert texts("fibre", on_shelf("fibre", "S-12", **gone)) == ["S-12 has lain damp past Sun 22"]


def test_damp_fibre_is_sound_once_a_chore_has_cleared_it() -> None:
    assert kinds(replace(FACTS, chores=FACTS.chores[1:])) >= {"fibre"}


def test_scour_loss_is_counted() -> None:
    """2,000 g scoured of 5 % loss are 2,105 g raw."""
    week = with_take("A", "W-88", amount=2_000_000, left_after=400_000)

    assert texts("fibre", week=week) == ["1900 g of wool are taken for 2000 g"]


def test_fibre_has_the_mordant_that_the_recipe_counts_on() -> None:
    """Hedge Olive has no mordant step: its wool comes with 12 % alum."""
    assert kinds(on_shelf("fibre", "W-90", mordant_percent=Decimal(12))) == set()
    assert texts("fibre", on_shelf("fibre", "W-90", mordant_percent=Decimal("11.9"))) == [
        "W-90 has too little alum and the recipe gives none"
    ]


def test_run_is_dyed_on_the_fibre_it_is_meant_for() -> None:
    assert kinds(with_run("D", fibre_lot="S-13")) == {"fibre"}


def test_freezer_holds_what_is_put_by() -> None:
    """3,350 g are frozen on Monday; AV-1116 brings 1,180 g more until it is taken on Tuesday."""

    def of(holds_mg: int) -> Any:
        places = (ColdPlaceFacts("freezer", "freezer", holds_mg),)
        return replace(FACTS, shelf=replace(FACTS.shelf, cold_places=places))

    assert kinds(of(4_530_000)) == set()
    assert texts("freezer", of(4_529_000)) == [
        "4530 g in the freezer on the evening of Mon 23, it takes 4529 g"
    ]


def test_putting_by_takes_its_minutes() -> None:
    assert "hands of a job" in kinds(with_figure("red cabbage", "put_by_min", "11"))


def test_things_serve_their_own_site() -> None:
    facts = on_shelf("vessels", "B2", site="north")
    facts = on_shelf("fibre", "S-12", facts, site="south")

    assert texts("site", facts) == ["S-12 is at south, the run at north"]


def test_supply_is_counted_over_all_runs() -> None:
    facts = on_shelf("supplies", "alum", left_mg=287_000)

    assert "claimed twice" in kinds(facts)


def test_soda_ash_is_counted_in_crystals_where_there_is_none() -> None:
    """270 g of crystals stand for 100 g of ash; 48 g of ash on 400 g are 129.6 g of crystals."""
    facts = with_dose("slate", "alum", what="soda ash")
    crystals = take("D", "soda crystals", "soda crystals", 129_600, 1_370_400, "23 09:00",
                    "cold alum")  # fmt: skip
    silk, _, *others = answer_of("D").takes

    assert kinds(facts, with_answer("D", takes=(silk, crystals, *others))) == set()
