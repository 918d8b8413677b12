"""Cautions stand with the thing that they belong to, by plant part, metal, weight and powder."""

from __future__ import annotations

from decimal import Decimal

import pytest

from inventory.science.cautions import (
    KINDS,
    Caution,
    cautions_for_jar,
    cautions_for_lot,
    cautions_for_run,
    cautions_for_step,
    shipped_cautions,
    shipped_parts,
)
from inventory.science.library import Thing, library

EVERY = [row for _, row in shipped_cautions()] + [row for _, _, row in shipped_parts()]


def codes(rows: tuple[Caution, ...]) -> list[str]:
    return [row.code for row in rows]


def test_an_iron_jar_warns_of_gas_with_its_own_litres_and_of_children() -> None:
    found = cautions_for_jar("iron", gas_l=Decimal("9.99"))

    assert codes(found) == ["iron-child", "iron-gas"]
    assert found[1].sentence.endswith("lid loose, away from flame and ring; up to 10.0 L of gas")


def test_an_iron_jar_that_gives_no_more_gas_is_still_not_screwed_tight() -> None:
    assert "L of gas" not in cautions_for_jar("iron", gas_l=0)[1].sentence
    assert "lid loose" in cautions_for_jar("iron", gas_l=0)[1].sentence


def test_a_copper_jar_is_held_for_collection_and_made_of_no_coins() -> None:
    found = cautions_for_jar("copper", gas_l=0)

    assert codes(found) == ["copper-skin", "copper-fish", "coins"]
    assert "collection" in found[1].sentence


def test_a_jar_of_nobody_knows_what_is_not_given_another_jar_s_cautions() -> None:
    assert cautions_for_jar("") == ()


@pytest.mark.parametrize(
    "name", ["privet", "Privet, dried", "privet leaves (hedge clippings)", "privet berries"]
)
def test_all_of_privet_is_poisonous_whatever_its_lot_is_called(name: str) -> None:
    assert codes(cautions_for_lot(name))[0] == "privet"
    assert cautions_for_lot(name)[0].mark == "POISON"
    assert cautions_for_lot(name)[0].about == name


@pytest.mark.parametrize(
    ("name", "flags"),
    [
        ("rhubarb leaves", ["rhubarb-leaf"]),
        ("rhubarb root", ["rhubarb-root"]),
        ("rhubarb", ["rhubarb-leaf", "rhubarb-root"]),
        ("elder berries", ["elder-berry"]),
        ("elderberries", ["elderberries"]),
        ("dock leaves", ["dock-leaf"]),
        ("elder leaves", ["elder-leaf"]),
        ("yew twigs", ["yew"]),
        ("yews", ["yew"]),
        ("cherry prunings", ["cherry-leaf"]),
        ("cherry stones", ["cherry-kernel"]),
        ("black beans (soak water)", ["black-bean"]),
    ],
)
def test_the_flag_belongs_to_the_part_and_an_unnamed_part_gets_every_flag(
    name: str, flags: list[str]
) -> None:
    assert codes(cautions_for_lot(name)) == flags


def test_of_two_plants_one_in_the_other_s_name_the_longer_counts() -> None:
    assert codes(cautions_for_lot("poison ivy")) == ["poison-ivy"]
    assert codes(cautions_for_lot("ivy leaves")) == ["ivy"]
    assert "cherry-leaf" not in codes(cautions_for_lot("cherry laurel leaves"))


@pytest.mark.parametrize("name", ["red cabbage", "soya milk", "weld", "", "yewberg", "steak"])
def test_what_is_not_poisonous_is_not_flagged(name: str) -> None:
    assert cautions_for_lot(name) == ()


def test_the_studio_s_own_words_take_the_place_of_the_shipped_flag() -> None:
    found = cautions_for_lot("privet", own="keep from the dog")

    assert [(row.mark, row.sentence) for row in found[:1]] == [("POISON", "keep from the dog")]
    assert found[0].basis == "the studio's own"
    assert "privet" not in codes(found)


def test_a_lot_carries_what_is_said_of_how_it_came_and_keeps() -> None:
    found = cautions_for_lot("red cabbage", fugitive=True, foraged=True, given=True, cold=True)

    assert codes(found) == ["food-cold", "fading", "foraged", "carrying"]


def test_two_people_lift_above_the_limit_and_not_at_it() -> None:
    assert cautions_for_step(litres=15, two_person_l=15, vessel="P1") == ()
    assert cautions_for_step(litres=Decimal("15.1"), two_person_l=15, vessel="P1")[0].about == (
        "P1 15.1 L"
    )
    assert cautions_for_step(litres=400) == ()


def test_powders_are_named_and_liquids_are_none() -> None:
    assert cautions_for_step(supplies=["vinegar", "lemon"]) == ()
    assert cautions_for_step(supplies=["tannin", "alum"])[0].about == "alum, tannin"
    assert codes(cautions_for_step(supplies=["ammonia"])) == ["ammonia"]


def test_a_run_says_each_caution_once_and_the_gravest_first() -> None:
    found = cautions_for_run(
        dyestuffs=["privet", "privet"], metals=["copper", "copper"], supplies=["alum", "alum"]
    )

    assert len(found) == len(set(found))
    assert [KINDS.index(row.kind) for row in found] == sorted(KINDS.index(r.kind) for r in found)
    assert codes(found) == [
        "privet", "copper-skin-bath", "copper-hold", "powders", "food", "birds", "drains"
    ]  # fmt: skip


def test_a_fading_dye_and_a_sale_are_said_to_the_end() -> None:
    found = cautions_for_run(
        dyestuffs=["red cabbage", "onion skins"], fugitive=["red cabbage"], for_sale=True
    )

    assert [row.about for row in found if row.code == "fading"] == ["red cabbage"]
    assert [row.mark for row in found if row.about == "onion skins"] == ["ANIMALS"]
    assert "labels" in codes(found)
    assert "labels" not in codes(cautions_for_run(dyestuffs=["red cabbage"]))


def test_every_caution_has_a_code_of_its_own_and_says_where_it_comes_from() -> None:
    assert len({row.code for row in EVERY}) == len(EVERY)
    assert all(row.mark.isupper() and row.sentence and row.basis for row in EVERY)
    assert all(row.source for row in EVERY if row.basis == "published")


def test_every_caution_about_the_law_sends_to_the_local_rules() -> None:
    duties = [row for row in EVERY if row.kind == "duty"]

    assert {row.code for row in duties} == {
        "foraged", "carrying", "birds", "drains", "labels", "coins"
    }  # fmt: skip
    assert all("check your local rules" in row.sentence for row in duties)


@pytest.mark.parametrize("thing", library().of_kind("dyestuff"), ids=lambda thing: thing.name)
def test_a_flag_stands_on_every_dyestuff_that_the_catalogue_calls_poisonous(thing: Thing) -> None:
    (said,) = thing.of("poisonous")
    marks = {row.mark for row in cautions_for_lot(thing.name)}

    assert ("POISON" in marks) == (said.words == "yes")
    if said.words == "to animals":
        assert marks & {"ANIMALS", "STAINS"}


def test_every_plant_of_the_catalogue_that_is_never_gathered_has_its_flag() -> None:
    never = [row for row in library().of_kind("hazard") if row.of("gather")]

    assert len(never) > 25
    for thing in never:
        assert any(row.kind in ("poison", "care") for row in cautions_for_lot(thing.name)), thing
