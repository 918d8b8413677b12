"""The sheet by the ring holds what the plan says, shared out over the pot-loads."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sourcing.week.kept import Done
from sourcing.week.plan import Answer, Week
from sourcing.week.project import project
from sourcing.week.run_sheet import SheetStep, all_taken, shared_out, sheet_days
from tests.sourcing.week.pellitory import FACTS, MONDAY, nov
from tests.sourcing.week.random_studios import studio
from tests.sourcing.week.test_begun import at_their_hours
from tests.sourcing.week.under_way import begun

WEEK = project(FACTS, days=7)


def answer(run: str, week: Week = WEEK) -> Answer:
    return next(row for row in week.answers if row.run == run)


def steps(run: str) -> dict[str, SheetStep]:
    return {step.name: step for day in sheet_days(answer(run), FACTS) for step in day.steps}


def test_blush_has_its_days_and_steps() -> None:
    days = sheet_days(answer("A"), FACTS)

    assert [(day.day.day, [step.name for step in day.steps]) for day in days] == [
        (23, ["scour", "hot alum"]),
        (24, ["extract", "dye"]),
        (26, ["rinse"]),
    ]
    assert days[0].day == MONDAY


def test_alum_is_shared_out_by_the_dry_weight_of_each_pot_load() -> None:
    """240 g over 1,200 g and 800 g of wool."""
    alum = steps("A")["hot alum"]

    assert [(load.placed.vessel, load.gives[0].amount) for load in alum.loads] == [
        ("P1", 144_000),
        ("P2", 96_000),
    ]


def test_a_pot_load_says_when_it_is_hot() -> None:
    """36 L from 8 to 55 °C on 3.5 kW take 48 min, begun 09:00."""
    first, second = steps("A")["scour"].loads

    assert first.hot_at is not None
    assert second.hot_at is not None
    assert (f"{first.hot_at:%H:%M}", f"{second.hot_at:%H:%M}") == ("09:48", "09:37")


def test_a_bath_that_is_heated_twice_says_no_one_hour() -> None:
    dye = steps("D")["dye"]

    assert [load.hot_at for load in dye.loads] == [None]
    assert [(heat.goal_c, heat.hold_min) for heat in dye.heats] == [(80, 60), (80, 45)]


def test_several_lots_of_a_dyestuff_stand_together_in_the_pot_and_apart_in_the_list() -> None:
    extract = steps("A")["extract"]

    assert [(row.source, row.amount) for row in extract.gives] == [
        ("AV-1116", 1_180_000),
        ("AV-0911", 1_820_000),
    ]
    assert [(row.source, row.amount) for row in extract.loads[0].gives] == [("", 3_000_000)]


def test_an_extract_is_made_up_with_the_water_that_the_dyebath_lacks() -> None:
    """40 L strained, 60 L wanted: 20 L of cold water."""
    extract, dye = steps("A")["extract"], steps("A")["dye"]

    assert (extract.strained_to_l, extract.water_l) == (60, 20)
    assert (dye.strained_to_l, dye.water_l) == (0, 0)


def test_what_stays_in_the_leaf_is_topped_up_too() -> None:
    found = answer("A")
    [extract] = [
        step
        for day in sheet_days(replace(found, top_up_ml=2_500), FACTS)
        for step in day.steps
        if step.name == "extract"
    ]

    assert extract.water_l == Decimal("22.5")


def test_loads_one_after_another_share_what_the_step_takes() -> None:
    """Oak Grey: 450 mL of iron liquor over three loads of 300 g."""
    irons = [
        step for day in sheet_days(answer("E"), FACTS) for step in day.steps if step.name == "iron"
    ]

    assert [row.amount for step in irons for load in step.loads for row in load.gives] == [
        150_000,
        150_000,
        150_000,
    ]


def test_a_bath_that_is_made_says_what_it_is_made_of() -> None:
    made = steps("F")["make nettle bath"]

    assert [(row.source, row.amount) for row in made.loads[0].gives] == [("NE-0620", 360_000)]


def test_a_bath_that_was_made_is_poured_where_it_is_used() -> None:
    """The dyestuff stands once, at the making; the step that uses the bath says its litres."""
    facts, row = next(
        (facts, row)
        for facts in map(studio, range(1, 20))
        for row in project(facts, days=7).answers
        if any(step.step == "make nettle bath" for step in row.steps)
        and any(take.step == "nettle" for take in row.takes)
    )

    found = {step.name: step for day in sheet_days(row, facts) for step in day.steps}

    assert {given.what for given in found["make nettle bath"].gives} == {"nettle"}
    [bath] = [given for given in found["nettle"].gives if given.what == "nettle bath"]
    assert (bath.unit, bath.amount % 1000) == ("µL", 0)
    assert "nettle" not in {given.what for given in found["nettle"].gives}


def test_the_sheet_of_a_run_under_way_still_says_what_stands_in_its_pots() -> None:
    """On Tuesday evening the alum and the stones are used; the sheet by the ring has them."""
    facts = at_their_hours(nov(24, 18))
    row = answer("A", project(facts, days=6))

    found = {step.name: step for day in sheet_days(row, facts) for step in day.steps}

    assert [load.gives[0].amount for load in found["hot alum"].loads] == [144_000, 96_000]
    assert found["extract"].loads[0].gives[0].amount == 3_000_000
    assert found["dye"].loads[0].placed.done_at is not None
    assert found["rinse"].loads[0].placed.done_at is None


def test_what_a_step_took_otherwise_stands_as_it_was_taken() -> None:
    facts = begun(FACTS, "A", at=nov(23, 9))
    [blush] = [run for run in facts.runs if run.code == "A"]
    assert blush.kept is not None
    took = Done("hot alum", 1, 0, nov(23, 13, 36), took=(("alum", 250_000),))
    kept = replace(blush.kept, done=(took,))
    runs = tuple(replace(run, kept=kept) if run.code == "A" else run for run in facts.runs)

    rows = all_taken(answer("A"), replace(facts, runs=runs))

    assert [(take.what, take.amount) for take in rows if take.step == "hot alum"] == [
        ("alum", 250_000)
    ]
    assert sum(take.amount for take in rows if take.step == "extract") == 3_000_000


def test_a_run_that_is_not_placed_has_no_steps() -> None:
    assert sheet_days(answer("B"), FACTS) == ()


@given(
    amount=st.integers(0, 10**9),
    weights=st.lists(st.integers(0, 10**8), min_size=1, max_size=9),
)
def test_nothing_is_lost_or_added_as_an_amount_is_shared_out(
    amount: int, weights: list[int]
) -> None:
    parts = shared_out(amount, weights)

    assert sum(parts) == amount
    whole = sum(weights)
    if whole:
        assert all(
            abs(part * whole - amount * weight) <= whole
            for part, weight in zip(parts, weights, strict=True)
        )


@pytest.mark.parametrize("number", range(6))
def test_every_plan_is_on_its_sheet_to_the_milligram(number: int) -> None:
    facts = studio(number)
    for row in project(facts, days=7).answers:
        shown = [step for day in sheet_days(row, facts) for step in day.steps]
        loads = [load for step in shown for load in step.loads]

        assert sorted(load.placed.start for load in loads) == sorted(s.start for s in row.steps)
        for what in {take.what for take in row.takes if take.step and loads}:
            given = sum(g.amount for load in loads for g in load.gives if g.what == what)
            assert given == sum(t.amount for t in row.takes if t.step and t.what == what)
