"""Planted faults in a plan in which a run follows in another's bath: each is found."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest

from sourcing.week.checking import check
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Take, Week
from tests.sourcing.week.checking.breaking import with_answer
from tests.sourcing.week.little import ZONE
from tests.sourcing.week.second_baths import (
    FULL,
    TWO,
    altered,
    figure,
    haze,
    third,
    week_of,
    with_bath,
)

WEEK = week_of(TWO)
SHELF = with_bath()
OF_SHELF = week_of(SHELF)
STEPS = FULL.recipes[0].steps
IN_IRON = (*STEPS[:2], replace(STEPS[2], metal="iron"), *STEPS[3:])
EMBER = haze(second_of="ember")


def texts(facts: WeekFacts = TWO, week: Week = WEEK) -> list[str]:
    return [fault.text for fault in check(facts, week) if fault.kind == "second bath"]


def with_take(week: Week = WEEK, **changes: object) -> Week:
    answer = next(row for row in week.answers if row.run == "L")

    def changed(row: Take) -> Take:
        return replace(row, **changes) if row.what == "dyebath" else row  # type: ignore[arg-type]

    return with_answer("L", week, takes=tuple(map(changed, answer.takes)))


def test_the_plans_themselves_have_none() -> None:
    assert texts() == texts(SHELF, OF_SHELF) == texts(third(), week_of(third())) == []


def test_no_bath_is_taken() -> None:
    takes = tuple(row for row in WEEK.answers[1].takes if row.what != "dyebath")

    assert texts(week=with_answer("L", WEEK, takes=takes)) == ["0 baths are taken, not one"]


def test_cloth_goes_in_before_that_of_the_first_run_is_out() -> None:
    steps = tuple(
        replace(row, held_until=row.held_until + timedelta(days=2)) if row.step == "dye" else row
        for row in WEEK.answers[0].steps
    )

    assert texts(week=with_answer("K", WEEK, steps=steps)) == ["K-bath: is free Thu 04 10:29"]


def test_less_or_more_of_it_than_gives_the_shade() -> None:
    week = with_take(amount=6_000_000, left_after=6_000_000)

    assert texts(week=week) == ["K-bath: 6000000 µL are taken, 7200000 give the shade"]
    assert texts(haze(strength=Fraction(1, 2))) == [
        "K-bath: 7200000 µL are taken, 9000000 give the shade"
    ]


def test_two_runs_take_more_than_the_bath_holds() -> None:
    more = with_take(amount=13_000_000, left_after=-1_000_000)

    assert "claimed twice" in {fault.kind for fault in check(TWO, more)}


@pytest.mark.parametrize(("said", "facts"), [
    ("K-bath: is too pale for the shade", haze(depth=4)),
    ("K-bath: 24 L a kilo do not go into 20", haze(l_per_kg=Decimal(20))),
    ("onion skins colours 1 baths, this is number 2",
     figure("onion skins", "exhaust_baths", "1")),
    ("K-bath: holds iron, the shade is bright",
     altered(haze(bright=True), "dusk", steps=IN_IRON)),
    ("K-bath: holds iron, and goes into a pot that has none", altered(TWO, "dusk", steps=IN_IRON)),
    ("K-bath: is no bath of Ember", replace(EMBER, recipes=(
        *EMBER.recipes, replace(FULL.recipes[0], code="ember", shade="Ember")))),
])  # fmt: skip
def test_a_bath_that_may_not_be_followed_in(said: str, facts: WeekFacts) -> None:
    assert any(text.endswith(said) for text in texts(facts))


@pytest.mark.parametrize(("said", "fields"), [
    ("DB-1: ends Mon 01", {"made_at": datetime(2027, 1, 25, 12, tzinfo=ZONE)}),
    ("DB-1: ends Sun 31", {"temperature_c": 60.0}),
    ("DB-1: is set aside", {"set_aside": "furry"}),
    ("DB-1: holds iron, the shade is bright", {"metal": "iron"}),
    ("DB-1: is too pale for the shade", {"depth": 1}),
    ("DB-1: was dyed in 2 times, this is to be bath number 2", {"times_used": 2}),
    ("DB-1: is no bath of Dusk", {"shade": "Ember"}),
    ("DB-1: is at loft", {"site": "loft"}),
])  # fmt: skip
def test_a_kept_bath_that_may_not_be_followed_in(said: str, fields: dict[str, object]) -> None:
    facts = with_bath(haze(SHELF, bright=True), **fields)
    if "site" in fields:
        pots = tuple(replace(pot, site="yard") for pot in facts.shelf.vessels)
        facts = replace(facts, sites=("loft", "yard"), shelf=replace(facts.shelf, vessels=pots))

    assert said in texts(facts, OF_SHELF)
