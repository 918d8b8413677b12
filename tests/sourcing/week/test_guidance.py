"""What a plan is told beside its facts: order, floors, site."""

from __future__ import annotations

from datetime import timedelta

from sourcing.week.checking import check
from sourcing.week.guidance import PLAIN, Floor, Guidance
from sourcing.week.moments import minute_of
from sourcing.week.plan import Answer
from sourcing.week.project import as_week, project, worked_out
from tests.sourcing.week.pellitory import FACTS, MONDAY, local
from tests.sourcing.week.random_studios import studio

DAYS = 7
TUESDAY_NINE = local(MONDAY + timedelta(days=1), 9)


def answers(guidance: Guidance) -> dict[str, Answer]:
    desk, found, _ = worked_out(FACTS, DAYS, turns=False, guidance=guidance)
    assert check(FACTS, as_week(desk, found)) == []
    return {answer.run: answer for answer in found}


def test_no_guidance_makes_the_plain_week() -> None:
    desk, found, _ = worked_out(FACTS, DAYS, turns=False, guidance=PLAIN)

    assert as_week(desk, found) == project(FACTS, days=DAYS)


def test_a_run_that_is_named_goes_before_those_that_are_not() -> None:
    rows = Guidance(("E", "C")).in_turn(FACTS.runs)

    assert [row.code for row in rows][:3] == ["E", "C", "F"]


def test_the_run_placed_first_has_the_first_choice_of_pots() -> None:
    plain, found = answers(PLAIN), answers(Guidance(("C",)))

    assert found["C"].first_step_at is not None
    assert plain["C"].first_step_at is not None
    assert found["C"].dry_at is not None
    assert plain["C"].dry_at is not None
    assert found["C"].dry_at < plain["C"].dry_at


def test_a_step_with_a_floor_begins_at_it_and_not_before() -> None:
    step = answers(PLAIN)["D"].steps[0].step
    for minutes in (0, 5):
        at = minute_of(TUESDAY_NINE) + minutes

        found = answers(Guidance(floors=(Floor("D", step, at),)))["D"]

        assert found.first_step_at == TUESDAY_NINE + timedelta(minutes=minutes)


def test_what_waits_for_others_beyond_the_period_says_so() -> None:
    step = answers(PLAIN)["D"].steps[0].step
    at = minute_of(local(MONDAY + timedelta(days=7), 9))

    found = answers(Guidance(floors=(Floor("D", step, at),)))["D"]

    assert found.answer == "not yet"
    assert "it waits so that other runs fit" in [row.text for row in found.waits_for]


def test_a_run_is_worked_only_at_its_site() -> None:
    facts = next(
        f for n in range(50) if len((f := studio(n)).sites) > 1 and _placed(f.runs[0].code, n)
    )
    code = facts.runs[0].code
    for site in facts.sites:
        _, found, _ = worked_out(facts, DAYS, turns=False, guidance=Guidance(sites=((code, site),)))
        answer = next(row for row in found if row.run == code)
        places = {row.code: row.site for row in facts.shelf.vessels}

        assert {places[s.vessel] for s in answer.steps if s.vessel} <= {"", site}


def _placed(code: str, number: int) -> bool:
    week = project(studio(number), days=DAYS)
    return any(answer.run == code and answer.steps for answer in week.answers)
