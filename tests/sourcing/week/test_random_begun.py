"""Studios made up by chance with runs under way: no plan breaks a rule, and what is done stays.

The checker shares nothing with the placer. `DYE_LARDER_LONG=1` goes through 2,000 studios.
"""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import datetime, timedelta
from functools import lru_cache
from random import Random

from sourcing.week.checking import check
from sourcing.week.facts import WeekFacts
from sourcing.week.kept import over_at
from sourcing.week.project import project
from tests.sourcing.week.random_studios import studio
from tests.sourcing.week.under_way import begun, done_by, kept_of, later

STUDIOS = 2_000 if os.environ.get("DYE_LARDER_LONG") == "1" else 80
DAYS = 7
# Each once broke a rule: cloth in rounds of which a later step is worked in rounds again.
TWICE_IN_ROUNDS = (10_347, 10_352, 30_087, 30_227)
# Each once broke one with all done at its hours, or with something left undone.
CLOCKS_GO_BACK = 10_705  # while cloth hangs
ONCE_WRONG_DONE = (10_618, 10_627, 11_135, 30_222, 30_293)
ONCE_WRONG_FORGOTTEN = (10_536, 10_708, 20_017, 30_077, 30_129, 30_314, 30_363)
# Studio, hours after its moment, dice, and the run whose bath is forgotten.
FORGOTTEN_BATHS = ((55, 0, -56, "R02"), (90, 9, -92, "R00"), (90, 18, -93, "R00"))


@lru_cache(maxsize=256)
def with_begun(number: int) -> tuple[WeekFacts, tuple[str, ...]]:
    """A studio in which about half of what can be dyed is begun."""
    dice, facts = Random(number), studio(number)
    placed = [row.run for row in project(facts, days=28).answers if row.steps]
    wanted = tuple(code for code in placed if dice.random() < 0.6)
    return begun(facts, *wanted), wanted


def some_moment(number: int) -> datetime:
    """Some hour of the first days of a studio's week."""
    return studio(number).at + timedelta(minutes=Random(number).randrange(0, 4 * 24 * 60))


def test_beginning_runs_breaks_no_rule_and_moves_nothing() -> None:
    faults, moved = {}, {}
    for number in (*range(STUDIOS), *TWICE_IN_ROUNDS, CLOCKS_GO_BACK):
        facts, wanted = with_begun(number)
        week = project(facts, days=DAYS)
        if found := check(facts, week):
            faults[number] = [str(fault) for fault in found]
        steps = {row.run: row.steps for row in week.answers}
        if changed := [code for code in wanted if steps[code] != kept_of(facts, code).steps]:
            moved[number] = changed

    assert faults == {}
    assert moved == {}


def test_no_two_pot_loads_of_a_run_go_by_the_same_numbers() -> None:
    for number in TWICE_IN_ROUNDS:
        facts, _ = with_begun(number)
        for answer in project(facts, days=DAYS).answers:
            numbers = [(row.step, row.round, row.load) for row in answer.steps]
            assert len(numbers) == len(set(numbers)), (number, answer.run)


def test_what_was_not_frozen_in_time_is_frozen_when_somebody_is_in() -> None:
    facts, _ = with_begun(10_352)  # onions to freeze on Wednesday 1 April, good until Friday
    thursday = later(facts, facts.hours[0].opens + timedelta(days=1))
    saturday = thursday.hours[0]
    friday = replace(
        saturday,
        day=saturday.day - timedelta(days=1),
        opens=saturday.opens - timedelta(days=1),
        closes=saturday.closes - timedelta(days=1),
    )
    with_friday = replace(thursday, hours=(friday, *thursday.hours))

    assert _to_freeze(with_friday) == ["freeze ON-1 Fri 3 Apr: it was to be done Wed 1 Apr"]
    assert _to_freeze(thursday) == ["freeze ON-1 today: it was to be done Wed 1 Apr"]


def _to_freeze(facts: WeekFacts) -> list[str]:
    week = project(facts, days=DAYS)
    assert check(facts, week) == []
    answer = next(row for row in week.answers if row.run == "R10")
    return [job.text for job in answer.jobs]


def test_steps_done_at_their_hours_leave_the_later_ones_where_they_are() -> None:
    moved, faults = {}, {}
    for number in (*range(STUDIOS), *ONCE_WRONG_DONE):
        facts, wanted = with_begun(number)
        facts = done_by(facts, some_moment(number))
        week = project(facts, days=DAYS)
        if found := check(facts, week):
            faults[number] = [str(fault) for fault in found]
        starts = {row.run: [step.start for step in row.steps] for row in week.answers}
        dry = {row.run: row.dry_at for row in week.answers}
        for code in wanted:
            kept = kept_of(facts, code)
            hung = max((row.until for row in kept.hangs), default=dry[code])
            if starts[code] != [step.start for step in kept.steps] or dry[code] != hung:
                moved[number] = code

    assert moved == {}
    assert faults == {}


def test_a_forgotten_step_breaks_no_rule_and_what_is_done_stays() -> None:
    faults, late = {}, 0
    for number in (*range(STUDIOS), *ONCE_WRONG_FORGOTTEN):
        facts, _ = with_begun(number)
        facts = _forgetting(facts, some_moment(number), Random(-number - 1))
        week = project(facts, days=DAYS)
        late += sum(row.late_since is not None for a in week.answers for row in a.steps)
        if found := check(facts, week):
            faults[number] = [str(fault) for fault in found]

    assert faults == {}
    assert late > STUDIOS / 8


def test_a_forgotten_bath_is_made_after_all_and_what_uses_it_waits() -> None:
    for number, hours, dice, run in FORGOTTEN_BATHS:
        facts, _ = with_begun(number)
        moment = some_moment(number) + timedelta(hours=hours)
        facts = _forgetting(facts, moment, Random(dice))
        week = project(facts, days=DAYS)
        answer = next(row for row in week.answers if row.run == run)
        (bath,) = [row for row in answer.steps if row.step == "make nettle bath"]
        used = min(row.start for row in answer.steps if row.step == "nettle")

        assert bath.late_since is not None, number
        assert bath.late_since < facts.at <= bath.start, number
        assert bath.end <= used, number
        assert [row.late_since for row in answer.steps].count(bath.late_since) == 1
        assert any("make nettle bath is late" in row.text for row in answer.reasons), number
        assert check(facts, week) == [], number


def _forgetting(facts: WeekFacts, at: datetime, dice: Random) -> WeekFacts:
    """As far as a moment, each run but for what it did in the last hours."""
    early = done_by(facts, at - timedelta(hours=dice.randrange(1, 30)))
    return later(early, at)


def test_the_studios_have_steps_done_and_steps_to_do() -> None:
    """A generator that never gets anything done would prove nothing."""
    done = to_do = 0
    for number in range(STUDIOS):
        facts, wanted = with_begun(number)
        facts = done_by(facts, some_moment(number))
        for code in wanted:
            kept = kept_of(facts, code)
            done += sum(kept.done_of(row) is not None for row in kept.steps)
            to_do += sum(over_at(row) > facts.at for row in kept.steps)

    assert done > 40
    assert to_do > 40
