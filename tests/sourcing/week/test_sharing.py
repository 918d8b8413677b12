"""Runs that share a scour and a mordant pot: hours by hand, what is shared and what is not."""

from __future__ import annotations

import os
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from inventory.science.facts import FibreFacts
from sourcing.week.best.replaying import Replay
from sourcing.week.checking import check
from sourcing.week.costs import costs_of
from sourcing.week.facts import Dose, Heat, WeekFacts
from sourcing.week.guidance import PLAIN, Floor, Guidance, Together
from sourcing.week.moments import minute_of
from sourcing.week.project import worked_out
from tests.sourcing.week.little import feb
from tests.sourcing.week.random_sharing import pairs_of, sharing_studio, some_sharing
from tests.sourcing.week.sharing import (
    DAYS,
    SHARED,
    answers,
    other,
    other_run,
    other_step,
    shares,
    studio,
    week_of,
)

LONG = os.environ.get("DYE_LARDER_LONG") == "1"
STUDIOS = 1_000 if LONG else 40
SILK = FibreFacts("S-1", "silk", "yarn", 2_000_000, scoured=False)
LINEN = FibreFacts("L-1", "linen", "cloth", 2_000_000, scoured=False)


def test_heat_of_one_pot_is_paid_once_by_both_together() -> None:
    facts = studio()
    apart = {row.run: costs_of(facts, row) for row in worked_out(facts, DAYS, turns=False)[1]}
    found = answers(facts)
    shared = {code: costs_of(facts, found[code]) for code in "KL"}

    # One hold each in scour and alum, of two pots a run; now of one pot, as 400 g are to 300 g.
    hold = apart["K"].held_kwh / apart["K"].holds
    for code, part in (("K", Fraction(4, 7)), ("L", Fraction(3, 7))):
        assert shared[code].holds == apart[code].holds == 3
        assert shared[code].held_kwh == hold * (1 + 2 * part)
    both = sum(row.held_kwh for row in shared.values())
    assert both == sum(row.held_kwh for row in apart.values()) - 2 * hold


def test_two_runs_in_one_pot_begin_and_end_as_worked_by_hand() -> None:
    found = answers(studio())

    for code in "KL":
        scour, alum = found[code].steps[:2]
        assert (scour.start, scour.end) == (feb(1, 9), feb(1, 10, 33))
        assert (alum.start, alum.end) == (feb(1, 11, 5), feb(1, 12, 57))
    dyes = {code: found[code].steps[2] for code in "KL"}
    assert (dyes["K"].start, dyes["K"].end) == (feb(2, 9), feb(2, 10, 29))
    assert (dyes["L"].start, dyes["L"].end) == (feb(2, 11, 30), feb(2, 12, 52))


def test_each_has_its_own_cloth_in_the_pot_and_the_hands_count_once() -> None:
    found = answers(studio())

    rows = {code: found[code].steps[0] for code in "KL"}
    assert [rows[code].weight_mg for code in "KL"] == [400_000, 300_000]
    assert [rows[code].litres for code in "KL"] == [12, 9]
    assert [rows[code].hands_min for code in "KL"] == [30, 0]
    assert [rows[code].shared_with for code in "KL"] == [("L",), ("K",)]
    assert week_of(studio()).days[0].hands_on_min == 60


def test_what_each_takes_stays_its_own() -> None:
    found = answers(studio())

    alum = {code: sum(t.amount for t in found[code].takes if t.what == "alum") for code in "KL"}
    assert alum == {"K": 48_000, "L": 36_000}


def test_sharing_brings_the_second_run_dry_sooner_and_keeps_every_rule() -> None:
    plain, found = answers(studio(), PLAIN), answers(studio())

    assert plain["L"].dry_at is not None
    assert found["L"].dry_at is not None
    assert found["L"].dry_at < plain["L"].dry_at
    assert check(studio(), week_of(studio())) == []


def test_the_plain_week_shares_nothing() -> None:
    assert not shares(week_of(studio(), PLAIN))


def silk_dawn() -> WeekFacts:
    facts = studio()
    facts = replace(facts, shelf=replace(facts.shelf, fibre=(*facts.shelf.fibre, SILK)))
    return other_run(other(facts, "dawn", fibres=("silk",)), "L", fibre="silk", fibre_lot="S-1")


def test_wool_and_silk_may_share() -> None:
    assert shares(week_of(silk_dawn()))
    assert check(silk_dawn(), week_of(silk_dawn())) == []


def linen_dawn() -> WeekFacts:
    facts = studio()
    facts = replace(facts, shelf=replace(facts.shelf, fibre=(*facts.shelf.fibre, LINEN)))
    return other_run(other(facts, "dawn", fibres=("linen",)), "L", fibre="linen", fibre_lot="L-1")


def with_iron() -> WeekFacts:
    facts = studio()
    iron = replace(facts.shelf.fibre[0], code="W-2", iron_percent=Decimal("0.5"))
    facts = replace(facts, shelf=replace(facts.shelf, fibre=(*facts.shelf.fibre, iron)))
    return other(other_run(facts, "L", fibre_lot="W-2"), "dusk", bright=True)


def scoured_dawn() -> WeekFacts:
    facts = studio()
    scoured = replace(facts.shelf.fibre[0], code="W-2", scoured=True)
    facts = replace(facts, shelf=replace(facts.shelf, fibre=(*facts.shelf.fibre, scoured)))
    return other_run(facts, "L", fibre_lot="W-2")


def small_pot() -> WeekFacts:
    facts = studio()
    pots = (replace(facts.shelf.vessels[0], working_ml=20_999),)
    return replace(facts, shelf=replace(facts.shelf, vessels=pots))


def other_dose(share: int) -> WeekFacts:
    facts = studio()
    doses = tuple(
        replace(dose, per_fibre=Fraction(share, 100)) if dose.what == "alum" else dose
        for dose in facts.recipes[1].doses
    )
    return other(facts, "dawn", doses=doses)


WHY_NOT = {
    "one recipe shares no mordant": other(studio(), "dawn", may_share=("scour",)),
    "one recipe shares nothing": other(studio(), "dusk", may_share=()),
    "another strength of mordant": other(studio(), "dawn", mordant_percent=Decimal(15)),
    "another dose of it": other_dose(15),
    "another heat": other_step(studio(), "dawn", "scour", heats=(Heat(60, 60),)),
    "another ratio": other_step(studio(), "dawn", "hot alum", l_per_kg=Decimal(20)),
    "another kind of fibre": linen_dawn(),
    "other water": other(studio(), "dawn", water="rain water"),
    "iron in the cloth beside a bright shade": with_iron(),
    "a pot that does not take both": small_pot(),
    "a standing mordant": other_step(
        other_step(studio(), "dusk", "hot alum", night=False, stand_min=600),
        "dawn", "hot alum", night=False, stand_min=600,
    ),
}  # fmt: skip


@pytest.mark.parametrize("why", WHY_NOT)
def test_what_may_not_be_shared_goes_its_own_way(why: str) -> None:
    facts = WHY_NOT[why]
    both = (replace(facts.runs[0], due=None), replace(facts.runs[1], due=None))
    facts = replace(facts, runs=both)

    assert not shares(week_of(facts))
    assert answers(facts) == answers(facts, PLAIN)


def test_a_pot_that_takes_both_to_the_last_drop_is_shared() -> None:
    facts = small_pot()
    pots = (replace(facts.shelf.vessels[0], working_ml=21_000),)

    assert shares(week_of(replace(facts, shelf=replace(facts.shelf, vessels=pots))))


def test_cloth_that_is_scoured_already_joins_at_the_mordant() -> None:
    found = answers(scoured_dawn())

    assert [row.step for row in found["L"].steps] == ["hot alum", "dye", "rinse"]
    assert found["L"].steps[0].start == found["K"].steps[1].start
    assert found["K"].steps[0].shared_with == ()
    assert check(scoured_dawn(), week_of(scoured_dawn())) == []


def test_the_leader_waits_for_one_that_comes_later() -> None:
    late = Floor("L", "scour", minute_of(feb(2, 10)))

    found = answers(studio(), replace(SHARED, floors=(late,)))

    assert found["K"].steps[0].start == found["L"].steps[0].start == feb(2, 10)


def test_a_leader_alone_goes_where_it_would_have_gone() -> None:
    """What one of the two lacks is no trouble to the other."""
    facts = other_run(studio(), "L", weight_mg=5_000_000)

    assert answers(facts)["K"] == answers(facts, PLAIN)["K"]


def test_three_runs_share_one_pot() -> None:
    facts = studio()
    facts = replace(facts, runs=(*facts.runs, replace(facts.runs[1], code="M", weight_mg=200_000)))
    rows = (*SHARED.together, Together("K", "M", "scour"))

    found = answers(facts, Guidance(together=rows))

    assert found["M"].steps[0].shared_with == ("K", "L")
    assert found["M"].steps[0].start == found["K"].steps[0].start
    assert found["M"].steps[1].shared_with == ()
    assert found["K"].steps[1].shared_with == ("L",)
    assert check(facts, week_of(facts, Guidance(together=rows))) == []


def test_who_follows_another_leads_nobody() -> None:
    rows = (Together("K", "L", "scour"), Together("L", "K", "scour"))

    assert not shares(week_of(studio(), Guidance(together=rows)))


@pytest.mark.parametrize("row", [
    Together("K", "K", "scour"), Together("K", "nobody", "scour"), Together("nobody", "L", "scour"),
    Together("K", "L", "no such step"), Together("K", "L", "dye"),
])  # fmt: skip
def test_what_names_nothing_that_can_be_shared_changes_nothing(row: Together) -> None:
    assert answers(studio(), Guidance(together=(row,))) == answers(studio(), PLAIN)


# -- made-up studios ---------------------------------------------------------------------------


def sharing_guidances(number: int, times: int) -> list[tuple[WeekFacts, Guidance]]:
    facts = sharing_studio(number)
    if not pairs_of(facts):
        return []
    return [(facts, row) for row in some_sharing(facts, times, seed=number)]


def test_no_plan_that_shares_breaks_a_rule() -> None:
    shared, faults = 0, {}
    for number in range(STUDIOS):
        for facts, guidance in sharing_guidances(number, 2):
            week = week_of(facts, guidance)
            shared += shares(week)
            if found := check(facts, week):
                faults[number] = [str(fault) for fault in found]

    assert faults == {}
    assert shared > STUDIOS // 10


def test_one_guidance_after_another_makes_the_same_weeks_as_each_alone() -> None:
    different = []
    for number in range(0, STUDIOS, 4):
        rows = sharing_guidances(number, 4)
        replay = Replay(rows[0][0], DAYS) if rows else None
        for facts, guidance in (*rows, *rows[::-1]):
            _, found, _ = worked_out(facts, DAYS, turns=False, guidance=guidance)
            assert replay is not None
            if replay.place(guidance) != {answer.run: answer for answer in found}:
                different.append((number, guidance))

    assert different == []


def test_a_dose_of_a_liquor_is_not_shared() -> None:
    facts = studio()
    doses = (*facts.recipes[1].doses, Dose("iron", "liquor", "scour", ml_per_100g=Decimal(1)))

    assert not shares(week_of(other(facts, "dawn", doses=doses)))
