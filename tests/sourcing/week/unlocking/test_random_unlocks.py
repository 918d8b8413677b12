"""Studios made up by chance: every unlock holds, and one unit less of it does not.

The plan that an unlock leads to goes through the checker, which shares nothing with the placer.
One run of each studio is gone through; `DYE_LARDER_LONG=1` goes through all of 1,000 studios.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

from sourcing.week.checking import check
from sourcing.week.days import days_of
from sourcing.week.facts import ShadeCard, WeekFacts
from sourcing.week.guidance import in_order
from sourcing.week.liquors import next_dips
from sourcing.week.plan import Answer, Unlock, Week
from sourcing.week.project import project, worked_out
from sourcing.week.unlocking.easing import eased
from sourcing.week.unlocking.moving import Earlier
from sourcing.week.unlocking.seek import least_changes
from sourcing.week.unlocking.trials import Pulled, Trials
from tests.sourcing.week.random_studios import studio

LONG = os.environ.get("DYE_LARDER_LONG") == "1"
STUDIOS = 1_000 if LONG else 200
DAYS = 7
# What the checker counts in the order of due dates, which a run that was moved has left.
BY_DUE_DATE = ("left after", "use first", "ready jar")


@dataclass(frozen=True)
class Case:
    """One run with what unlocks it."""

    number: int
    facts: WeekFacts
    before: tuple[Answer, ...]  # of the runs placed earlier
    answer: Answer
    pulled: Pulled
    trials: Trials

    def __str__(self) -> str:
        changes = [(easing.kind, easing.what, grains) for easing, grains in self.pulled]
        return f"studio {self.number}, {self.answer.run}: {changes}"


@cache
def cases() -> tuple[Case, ...]:
    return tuple(case for number in range(STUDIOS) for case in _cases(number))


def _cases(number: int, *, whole: bool = LONG) -> Iterator[Case]:
    facts = studio(number)
    desk, answers, turns = worked_out(facts, DAYS, turns=True)
    wanted = [index for index, answer in enumerate(answers) if answer.answer != "yes"]
    for index in wanted if whole else wanted[number % (len(wanted) or 1) :][:1]:
        answer = answers[index]
        run = next(row for row in facts.runs if row.code == answer.run)
        earlier = Earlier(facts, DAYS, turns, answers, desk)
        trials = Trials(run, facts, DAYS, turns[run.code], desk, earlier)
        for pulled in least_changes(trials, answer, desk):
            yield Case(number, facts, answers[:index], answer, pulled, trials)


def test_studios_bring_every_kind_of_change() -> None:
    """A search that finds only one kind would prove little."""
    kinds = {easing.kind for case in cases() for easing, _ in case.pulled}

    assert kinds >= {"dyestuff", "fibre", "liquor", "strip", "look over", "label", "line", "pot",
                     "open day", "longer day", "arrival", "due"}  # fmt: skip
    assert len(cases()) > 150
    assert any(len(case.pulled) == 1 for case in cases())
    assert any(len(case.pulled) > 2 for case in cases())


def test_placing_with_it_gives_a_yes_that_breaks_no_rule() -> None:
    faults = {}
    for case in cases():
        trial = case.trials.trial(case.pulled)
        assert trial.works, str(case)
        facts = _with(case.facts, case.pulled)
        moved = {row.run for row in trial.moved}
        stay = [row for row in case.before if row.run not in moved]
        answers = (*stay, trial.answer, *trial.moved)
        placed = {row.run for row in answers}
        facts = replace(facts, runs=tuple(run for run in facts.runs if run.code in placed))
        until = trial.desk.calendar.moment(trial.desk.until)
        week = Week(facts.studio, facts.at, until, answers, days=days_of(trial.desk))
        # Runs placed earlier chose their pots and rings without what is more now.
        mine = {"", trial.answer.run} | moved
        found = [
            str(row)
            for row in check(facts, week)
            if row.run in mine and not (moved and row.kind in BY_DUE_DATE)
        ]
        if found:
            faults[str(case)] = found

    assert faults == {}


def test_one_unit_less_is_no_yes() -> None:
    kept = [
        str(case)
        for case in cases()
        for index, (easing, grains) in enumerate(case.pulled)
        for fewer in {grains - 1, 0}
        if case.trials.trial(
            (*case.pulled[:index], (easing, fewer), *case.pulled[index + 1 :])
        ).works
    ]

    assert kept == []


def test_most_noes_are_unlocked() -> None:
    """What has no unlock: a shade that soon fades, a mistake in the recipe, no hour at all."""
    answers = [row for number in range(12) for row in _answers(number) if row.answer != "yes"]
    without = [row for row in answers if not row.unlocks]

    assert len(without) < len(answers) / 3
    assert all(row.sought for row in answers)


def _answers(number: int) -> tuple[Answer, ...]:
    return project(studio(number), days=DAYS, unlocks=True).answers


def test_every_unlock_has_words_amount_and_moment() -> None:
    unlocks: list[Unlock] = [
        unlock for number in range(12) for row in _answers(number) for unlock in row.unlocks
    ]

    assert unlocks
    for unlock in unlocks:
        waits = any(change.kind == "card days" for change in unlock.changes)
        assert (unlock.first_step_at is None) == waits
        assert unlock.together == (len(unlock.changes) > 1)
        for change in unlock.changes:
            assert change.amount > 0
            assert change.text in unlock.text
            assert change.since or change.until or change.kind in ("reading", "leave")


def test_runs_are_gone_through_in_the_order_of_the_answers() -> None:
    facts = studio(3)
    week = project(facts, days=DAYS, unlocks=True)

    assert [row.run for row in week.answers] == [r.code for r in sorted(facts.runs, key=in_order)]


def _with(facts: WeekFacts, pulled: Pulled) -> WeekFacts:
    for easing, grains in pulled:
        facts = eased(facts, easing, grains)
    return facts


def test_short_periods_are_gone_through_as_well() -> None:
    """In one day a shut day may have to be opened and be longer than usual."""
    kinds = [
        {change.kind for change in unlock.changes}
        for number in (5, 15, 46)
        for answer in project(studio(number), days=1, unlocks=True).answers
        for unlock in answer.unlocks
    ]

    assert any({"hands", "longer day"} <= found for found in kinds)


def test_what_an_unlock_takes_from_a_later_run_is_said() -> None:
    """Studio 4: with its shade card approved R00 comes first and takes what R06 would have had."""
    facts = studio(4)
    before = {row.run: row for row in project(facts, days=DAYS, unlocks=True).answers}
    (unlock,) = [row for row in before["R00"].unlocks if row.loses]
    approved = replace(
        facts,
        runs=tuple(
            replace(run, shade_card=ShadeCard(approved=True)) if run.code == "R00" else run
            for run in facts.runs
        ),
    )

    after = {row.run: row.answer for row in project(approved, days=DAYS).answers}

    assert [change.what for change in unlock.changes] == [before["R00"].shade]
    assert unlock.loses == ("R06",)
    assert (before["R06"].answer, after["R00"]) == ("yes", "yes")
    assert after["R06"] != "yes"


def test_what_is_shared_between_placings_changes_no_answer() -> None:
    """Pots, rings and stages are worked out once where they cannot differ."""
    for case in cases()[::12]:
        alone = replace(case.trials, like=None, _known={})

        assert alone.trial(case.pulled).answer == case.trials.trial(case.pulled).answer, str(case)


def test_no_thing_is_asked_for_twice() -> None:
    """Studio 609: a run that gives back its stones and its pots is moved once."""
    for case in (*cases(), *_cases(609, whole=True)):
        keys = [easing.key for easing, _ in case.pulled]

        assert len(keys) == len(set(keys)), str(case)


def test_who_comes_in_elsewhere_does_no_dip_of_the_main_site() -> None:
    """Studio 557: on the Sunday a jar is to be dipped where nobody is in."""
    found = [case for case in _cases(557, whole=True) if case.answer.run == "R00"]

    like = found[0].trials.like
    assert like is not None
    dips = set(next_dips(like.larder))
    opened = {easing.day for case in found for easing, _ in case.pulled
              if easing.kind == "open day"}  # fmt: skip
    assert dips
    assert not dips & opened
