"""What bars a promise whatever is on the shelf: order of steps, water, card, reading, fading."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from sourcing.week.facts import FastnessWish, Recipe, ShadeCard, Step, Water, WeekFacts
from sourcing.week.gates import barred_by, card_out_on
from tests.sourcing.week.little import DUSK, LITTLE, MONDAY, RUN, feb

TANNIN = Step("tannin", "tannin", ("bucket",), stand_min=60)


def texts(recipe: Recipe = DUSK, facts: WeekFacts = LITTLE, **of_run: object) -> list[str]:
    run = replace(RUN, **of_run)  # type: ignore[arg-type]
    return [row.text for row in barred_by(run, recipe, facts, today=MONDAY)]


def light(reading: str | None, begun: date | None, *, written: bool = False) -> FastnessWish:
    read = None if reading is None else Decimal(reading)
    return FastnessWish("light", Decimal(4), read, begun, 28, written)


def test_nothing_bars_the_little_run() -> None:
    assert texts() == []


def test_a_recipe_is_for_its_own_fibres() -> None:
    assert texts(fibre="silk") == ["Dusk is worked out for wool"]


def test_iron_comes_last() -> None:
    *first, dye, iron, rinse = DUSK.steps

    assert texts(replace(DUSK, steps=(*first, iron, dye, rinse))) == [
        "iron comes before dye: iron is last"
    ]


def test_tannin_stands_before_the_mordant_on_plant_fibre() -> None:
    soap, scour, *rest = DUSK.steps
    linen = replace(DUSK, fibres=("linen",))
    after = (soap, scour, rest[0], TANNIN, *rest[1:])

    assert texts(replace(linen, steps=(soap, scour, TANNIN, *rest)), fibre="linen") == []
    assert texts(replace(linen, steps=after), fibre="linen") == ["tannin stands after the mordant"]
    assert texts(replace(DUSK, steps=after)) == []  # wool bears it


@pytest.mark.parametrize(
    ("low", "high", "barred"),
    [("7.4", "8", False), ("7.5", "8", True), ("6", "7.4", False), ("6", "7.3", True)],
)
def test_water_is_within_the_recipes_ph_both_ends_counted(
    low: str, high: str, barred: bool
) -> None:
    recipe = replace(DUSK, ph_low=Decimal(low), ph_high=Decimal(high))

    said = [f"town water has pH 7.4, the recipe {low} to {high}"]
    assert texts(recipe) == (said if barred else [])


def test_water_of_another_name_is_another_water() -> None:
    assert texts(replace(DUSK, water="well")) == ["worked out with well; here: town water"]


def test_any_water_of_the_studio_that_fits_serves() -> None:
    well = Water("well", Decimal("6.0"), 8)
    recipe = replace(DUSK, ph_low=Decimal(5), ph_high=Decimal("6.5"))

    assert texts(recipe, replace(LITTLE, waters=(*LITTLE.waters, well))) == []


def test_a_group_day_needs_no_shade_card() -> None:
    assert texts(shade_card=None, group_block="group") == []
    assert texts(shade_card=ShadeCard(approved=False, exists=False)) == [
        "no shade card for Dusk on wool"
    ]


def test_a_reading_counts_from_the_day_on_which_its_days_are_out() -> None:
    # 4 January + 28 days is Mon 1 February.
    assert card_out_on(light("4", date(2027, 1, 4))) == MONDAY
    assert texts(wishes=(light("4", date(2027, 1, 4)),)) == []
    assert texts(wishes=(light("4", date(2027, 1, 5)),)) == [
        "light card is on day 27 of 28, reading 4, 4 wanted: look again Tue 2 Feb"
    ]


def test_a_card_still_out_passes_on_its_day() -> None:
    run = replace(RUN, wishes=(light("3", date(2027, 1, 5)),))
    (reason,) = barred_by(run, DUSK, LITTLE, today=MONDAY)

    assert (reason.kind, reason.what, reason.until) == ("reading", "light", feb(2))


def test_no_reading_is_not_a_good_one() -> None:
    assert texts(wishes=(light(None, date(2027, 1, 4)),)) == ["light: no reading, 4 wanted"]
    assert texts(wishes=(light("3.5", date(2027, 1, 4)),)) == ["light: reading 3.5, 4 wanted"]


def test_a_client_may_accept_less_in_writing() -> None:
    assert texts(wishes=(light("2", None, written=True),)) == []


def test_what_soon_fades_is_kept_from_clients_only() -> None:
    fading = replace(LITTLE, fugitive=frozenset({"onion skins"}))

    assert texts(facts=fading) == ["onion skins soon fades: not for a client's run"]
    assert texts(facts=fading, client=False) == []
