"""A group day that is being prepared keeps its plan: lots, the bath's hour, what is laid out."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from functools import cache

from inventory.science.facts import BathFacts, LotFacts
from sourcing.week.checking import check
from sourcing.week.facts import Promised, WeekFacts
from sourcing.week.group_begun import with_laid_out
from sourcing.week.kept import LAID_OUT
from sourcing.week.plan import Answer, Placed
from sourcing.week.project import DAYS_AT_MOST, project, worked_out
from tests.sourcing.week.pellitory import FACTS, nov
from tests.sourcing.week.under_way import done, keep, kept_of, later, run_of, said, with_run
from tests.sourcing.week.worked import answer_for, brief

WEDNESDAY = nov(25, 9)


def planned(facts: WeekFacts) -> Answer:
    _, answers, _ = worked_out(facts, DAYS_AT_MOST, turns=False)
    found = next(row for row in answers if row.run == "F")
    return with_laid_out(found, run_of(facts, "F"), facts)


@cache
def monday() -> WeekFacts:
    """The group's preparing begun on Monday at nine, beside nothing else."""
    facts = later(FACTS, nov(23, 9))
    return keep(facts, planned(facts))


def answered(facts: WeekFacts) -> Answer:
    return answer_for(project(facts, days=7), "F")


def test_what_a_group_takes_is_laid_out_on_the_last_open_day_before_it() -> None:
    # The group is on Saturday 28 November; somebody is in on Friday from nine to six.
    rows = [row for row in planned(FACTS).steps if row.kind == LAID_OUT]

    assert [(row.step, row.weight_mg) for row in rows] == [
        ("lay out wool", 240_000),
        ("lay out red cabbage", 480_000),
    ]
    assert {(row.start, row.end) for row in rows} == {(nov(27, 9), nov(27, 18))}


def test_nettle_that_goes_into_the_pot_is_not_laid_out() -> None:
    assert "lay out nettle" not in {row.step for row in planned(FACTS).steps}


def test_a_begun_group_keeps_its_lots_and_the_hour_of_its_bath() -> None:
    plan = planned(later(FACTS, nov(23, 9)))

    found = answered(monday())

    assert (found.answer, found.first_step_at) == ("yes", nov(28, 10))
    assert [(row.step, row.start) for row in found.steps] == [
        (row.step, row.start) for row in plan.steps
    ]
    assert [(row.source, row.amount) for row in found.takes] == [
        (row.source, row.amount) for row in plan.takes
    ]
    assert {job.what for job in found.jobs} == {job.what for job in plan.jobs}


def test_a_lot_that_spoils_sooner_does_not_take_the_place_of_one_that_is_kept() -> None:
    facts = monday()
    newer: LotFacts = next(lot for lot in facts.shelf.lots if lot.code == "CB-1121")
    early = replace(newer, code="CB-0000")
    facts = replace(facts, shelf=replace(facts.shelf, lots=(early, *facts.shelf.lots)))

    assert "CB-1121" in {take.source for take in answered(facts).takes}


def test_other_runs_go_round_a_begun_group() -> None:
    week = project(monday(), days=7)

    assert brief(week, "A") == {"A": "yes, Mon 23 09:00, Sat 28 10:00"}
    assert check(monday(), week) == []


def test_what_is_laid_out_is_done_and_stays_so() -> None:
    facts = done(later(monday(), nov(27, 12)), "F", said("lay out wool", nov(27, 11)))

    rows = {row.step: row.done_at for row in answered(facts).steps}

    assert rows["lay out wool"] == nov(27, 11)
    assert rows["lay out red cabbage"] is None


def bath_of(facts: WeekFacts) -> Placed:
    return next(row for row in answered(facts).steps if row.step == "make nettle bath")


def with_bath_on(day: int) -> WeekFacts:
    """The group's plan with its bath on another day of November at the same hour."""
    facts, days = monday(), timedelta(days=27 - day)
    kept = kept_of(facts, "F")
    steps = tuple(
        replace(row, start=row.start - days, end=row.end - days, held_until=row.held_until - days,
                attended_until=row.end - days) if row.step == "make nettle bath" else row
        for row in kept.steps)  # fmt: skip
    return with_run(facts, "F", kept=replace(kept, steps=steps))


def test_a_bath_that_was_not_made_at_its_hour_moves_to_one_that_still_does() -> None:
    facts = later(with_bath_on(26), nov(27, 9))

    bath, usual = bath_of(facts), bath_of(monday())

    assert bath.late_since == usual.end - timedelta(days=1)
    assert (bath.start, bath.end) == (usual.start, usual.end)


def test_a_bath_that_fits_nowhere_any_more_is_told_of() -> None:
    facts = later(monday(), nov(28, 9))

    found = answered(facts)

    assert [row.text for row in found.warnings] == [
        "make nettle bath fits nowhere any more before the group comes"
    ]
    assert bath_of(facts).late_since == bath_of(monday()).end


def test_a_bath_made_for_the_group_is_claimed_and_makes_no_other() -> None:
    facts = later(monday(), nov(27, 12))
    made = BathFacts("J8", "nettle bath", nov(27, 11), 7_200_000, 8)
    promised = [row for row in facts.promised if (row.run, row.code) != ("F", "NE-0620")]
    facts = replace(
        facts,
        shelf=replace(facts.shelf, baths=(*facts.shelf.baths, made)),
        promised=(*promised, Promised("F", "J8", 7_200_000)),
    )
    facts = done(facts, "F", said("make nettle bath", nov(27, 11)))

    found = answered(facts)

    assert ("J8", 7_200_000) in {(row.source, row.amount) for row in found.takes}
    assert "NE-0620" not in {row.source for row in found.takes}
    assert [job.what for job in found.jobs if job.kind == "make bath"] == []


def test_a_group_that_is_far_off_is_not_yet_and_names_its_day() -> None:
    found = answer_for(project(monday(), days=3), "F")

    assert found.answer == "not yet"
    assert [row.until for row in found.waits_for] == [nov(28, 10)]
