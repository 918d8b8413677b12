"""Runs under way that leave a bath or follow in one: kept hours stay, and what is late moves both.

By hand as in `second_baths.py`: the cloth of K is out on Tue at 10:29; L, with wool that is scoured
and mordanted, is dyed in it from 11:30, once the pot is clean.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from random import Random

from sourcing.week.checking import check
from sourcing.week.costs import costs_of
from sourcing.week.facts import WeekFacts
from sourcing.week.kept import over_at
from sourcing.week.plan import Answer
from sourcing.week.project import project
from tests.sourcing.week.little import feb
from tests.sourcing.week.random_second_baths import second_bath_studio
from tests.sourcing.week.second_baths import FULL, TWO, K, L, answers, of_bath, week_of
from tests.sourcing.week.sharing import DAYS
from tests.sourcing.week.test_random_begun import _forgetting
from tests.sourcing.week.under_way import begun, done, done_by, kept_of, later, said

SOME = 40
READY = replace(FULL.shelf.fibre[0], code="W-2", scoured=True, mordant="alum",
                mordant_percent=Decimal(12))  # fmt: skip
FACTS = replace(TWO, shelf=replace(TWO.shelf, fibre=(*TWO.shelf.fibre, READY)),
                runs=(K, replace(L, fibre_lot="W-2")))  # fmt: skip


def dye_at(answer: Answer) -> datetime:
    return next(row.start for row in answer.steps if row.kind == "dye")


def test_both_keep_their_hours_and_the_bath_between_them() -> None:
    facts = begun(FACTS, "K", "L")
    before, after = answers(FACTS), answers(facts)

    for code in "KL":
        assert [row.start for row in after[code].steps] == [row.start for row in before[code].steps]
    assert of_bath(after["L"]) == [("K-bath", 7200, 4800)]
    assert check(facts, week_of(facts)) == []


def test_what_is_left_beside_a_begun_run_may_be_dyed_in() -> None:
    more = replace(L, code="M", fibre_lot="", weight_mg=100_000, due=None)
    facts = begun(replace(FACTS, runs=(*FACTS.runs, more)), "K", "L")

    assert of_bath(answers(facts)["M"]) == [("K-bath", 2400, 2400)]
    assert check(facts, week_of(facts)) == []


def test_it_waits_where_the_first_run_is_late() -> None:
    facts = later(begun(FACTS, "K", "L"), feb(2, 12))  # nothing of K was done
    found = answers(facts)

    out = max(row.held_until for row in found["K"].steps if row.kind == "dye")
    assert dye_at(found["L"]) > feb(2, 11, 30)
    assert dye_at(found["L"]) >= out
    assert any(row.text.startswith("wants the bath of K, free ") for row in found["L"].reasons)
    assert check(facts, week_of(facts)) == []


def test_a_bath_that_was_left_later_than_planned_is_waited_for() -> None:
    facts = begun(FACTS, "K", "L")
    for step, at in (("scour", feb(1, 10, 19)), ("hot alum", feb(1, 12, 20))):
        facts = done(facts, "K", said(step, at))
    facts = later(done(facts, "K", said("dye", feb(2, 12, 45), begun_at=feb(2, 11, 15))),
                  feb(2, 12, 50))  # fmt: skip

    assert dye_at(answers(facts)["L"]) >= feb(2, 12, 45)
    assert check(facts, week_of(facts)) == []


def test_a_bath_that_nobody_kept_is_said() -> None:
    facts = begun(FACTS, "K", "L")
    gone = replace(facts, runs=tuple(run for run in facts.runs if run.code == "L"))
    found = answers(gone)["L"]

    assert of_bath(found) == []
    assert [row.text for row in found.warnings] == [
        "K-bath is not kept: write down that it is, or dye has no bath"
    ]


def test_a_bath_of_a_run_that_is_not_begun_any_more_is_kept_for_who_is() -> None:
    facts = begun(FACTS, "K", "L")
    alone = replace(facts, runs=(replace(facts.runs[0], begun=False, kept=None), facts.runs[1]))
    found = answers(alone)

    assert found["K"].answer == "yes"
    assert of_bath(found["L"]) == [("K-bath", 7200, 4800)]
    assert [row.text for row in found["L"].warnings] == [
        "K-bath is to be left by a run that is not begun: begin it first"
    ]
    assert check(alone, week_of(alone)) == []
    more = replace(L, code="M", fibre_lot="", weight_mg=201_000, due=None)
    assert answers(replace(alone, runs=(*alone.runs, more)))["M"].answer == "no"


def test_the_sheet_of_the_first_run_says_what_to_keep() -> None:
    assert answers(FACTS)["K"].notes == (
        "keep its bath from Tue 2 Feb 10:29: 7.2 L for Haze (L), Tue 2 Feb 11:30; "
        "it may stand in P1 till then, good to Tue 9 Feb",
    )


def test_a_bath_is_poured_off_where_its_pot_is_wanted_before() -> None:
    # In TWO Haze is scoured and mordanted in P1 meanwhile.
    assert answers(TWO)["K"].notes == (
        "keep its bath from Tue 2 Feb 10:29: 7.2 L for Haze (L), Wed 3 Feb 09:00; "
        "pour it off, its pot is wanted, good to Tue 9 Feb",
    )


def test_what_is_taken_of_a_used_bath_is_no_water() -> None:
    # Dye 9 L less 7.2 of the bath, and two rinses of 9 L each.
    cost = costs_of(FACTS, answers(FACTS)["L"])

    assert cost.water_l == Decimal("19.8")


# -- made up by chance ---------------------------------------------------------------------------


def with_begun(number: int) -> tuple[WeekFacts, list[str]]:
    """A studio in which about half of what can be dyed is begun, with those it follows."""
    dice, facts = Random(number), second_bath_studio(number)
    placed = {row.run: row for row in project(facts, days=28, unlocks=False).answers if row.steps}
    wanted = [code for code in placed if dice.random() < 0.6]
    for code in wanted:  # grows as it is gone through
        first = (row.source.removesuffix("-bath") for row in placed[code].takes
                 if row.source.endswith("-bath"))  # fmt: skip
        wanted.extend(run for run in first if run not in wanted)
    return begun(facts, *wanted), wanted


def test_beginning_them_breaks_no_rule_and_moves_nothing() -> None:
    faults, moved, follow = {}, [], 0
    for number in range(SOME):
        facts, wanted = with_begun(number)
        at = facts.at + timedelta(minutes=Random(number).randrange(0, 4 * 24 * 60))
        for each in (facts, done_by(facts, at)):
            week = project(each, days=DAYS, unlocks=False)
            if found := check(each, week):
                faults[number] = [str(fault) for fault in found]
            for answer in week.answers:
                if answer.run in wanted:
                    follow += any(row[0].endswith("-bath") for row in of_bath(answer))
                    starts = [row.start for row in kept_of(each, answer.run).as_done]
                    if [row.start for row in answer.steps] != starts:
                        moved.append((number, answer.run))

    assert faults == {}
    assert moved == []
    assert follow > 10


def test_a_forgotten_step_breaks_no_rule() -> None:
    faults, late = {}, Counter[bool]()
    for number in range(SOME):
        facts, _ = with_begun(number)
        at = facts.at + timedelta(minutes=Random(number).randrange(0, 4 * 24 * 60))
        facts = _forgetting(facts, at, Random(-number - 1))
        week = project(facts, days=DAYS, unlocks=False)
        if found := check(facts, week):
            faults[number] = [str(fault) for fault in found]
        for answer in week.answers:
            if answer.begun_at is not None and of_bath(answer):
                kept = kept_of(facts, answer.run)
                late[any(over_at(row) < facts.at for row in kept.steps)] += 1

    assert faults == {}
    assert late[True] > 3
