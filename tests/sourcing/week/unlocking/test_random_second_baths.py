"""Made-up studios with second baths: what unlocks a run that follows in one holds, and is least."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from sourcing.week.project import worked_out
from sourcing.week.unlocking.moving import Earlier
from sourcing.week.unlocking.seek import least_changes
from sourcing.week.unlocking.trials import Pulled, Trials
from tests.sourcing.week.random_second_baths import second_bath_studio

STUDIOS = 40
DAYS = 7
Case = tuple[int, str, Pulled, Trials]


@cache
def cases() -> tuple[Case, ...]:
    return tuple(case for number in range(STUDIOS) for case in _cases(number))


def _cases(number: int) -> Iterator[Case]:
    """The first run of a studio that follows in a bath and is no yes."""
    facts = second_bath_studio(number)
    desk, answers, turns = worked_out(facts, DAYS, turns=True)
    later = {row.code for row in facts.recipes if row.second_of}
    runs = {row.code: row for row in facts.runs}
    wanted = [row for row in answers if row.answer != "yes" and runs[row.run].recipe in later]
    for answer in wanted[:1]:
        earlier = Earlier(facts, DAYS, turns, answers, desk)
        trials = Trials(runs[answer.run], facts, DAYS, turns[answer.run], desk, earlier)
        for pulled in least_changes(trials, answer, desk):
            yield number, answer.run, pulled, trials


def test_placing_with_it_gives_a_yes() -> None:
    broken = [
        (number, run, pulled)
        for number, run, pulled, trials in cases()
        if not trials.trial(pulled).works
    ]

    assert broken == []
    assert "bath" in {easing.kind for *_, pulled, _ in cases() for easing, _ in pulled}


def test_one_unit_less_is_no_yes() -> None:
    kept = [
        (number, run, easing, grains)
        for number, run, pulled, trials in cases()
        for index, (easing, grains) in enumerate(pulled)
        if trials.trial((*pulled[:index], (easing, grains - 1), *pulled[index + 1 :])).works
    ]

    assert kept == []
