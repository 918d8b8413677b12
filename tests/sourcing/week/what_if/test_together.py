"""Several changes at once, made up by chance: any order, nothing touched, no rule broken."""

from __future__ import annotations

import os
from copy import deepcopy
from random import Random

import pytest

from sourcing.week.checking import check
from sourcing.week.facts import WeekFacts
from sourcing.week.project import project
from sourcing.week.what_if import CHANGES_AT_MOST, CannotBe, changed, week_if
from sourcing.week.what_if.runs import OneRunMore
from tests.sourcing.week.pellitory import FACTS
from tests.sourcing.week.random_studios import studio
from tests.sourcing.week.what_if.chances import KINDS, some_changes

LONG = os.environ.get("DYE_LARDER_LONG") == "1"
NUMBERS = range(1_000 if LONG else 30)


def facts_of(number: int) -> WeekFacts:
    """The worked week for every third, a studio made up for the others."""
    return FACTS if number % 3 == 0 else studio(number)


def test_a_week_with_changes_breaks_no_rule() -> None:
    faults = {}
    for number in NUMBERS:
        facts = facts_of(number)
        then = changed(facts, some_changes(facts, number))
        if found := check(then, project(then, days=7)):
            faults[number] = [str(fault) for fault in found]

    assert faults == {}


def test_any_order_of_changes_gives_the_same_facts() -> None:
    for number in NUMBERS:
        facts = facts_of(number)
        changes = list(some_changes(facts, number))
        there = changed(facts, changes)

        Random(number).shuffle(changes)

        assert changed(facts, changes) == there, changes


def test_what_is_handed_in_stays_as_it_was() -> None:
    kept = deepcopy(FACTS)

    for number in NUMBERS:
        week_if(FACTS, some_changes(FACTS, number), days=7)

    assert kept == FACTS


def test_chance_brings_every_kind() -> None:
    """A generator that leaves a kind out would prove nothing of it."""
    made = {type(change) for number in range(60) for change in some_changes(FACTS, number)}

    assert len(made) == len(KINDS)


@pytest.mark.parametrize("number", range(12))
def test_without_a_change_a_made_up_studio_is_answered_as_ever(number: int) -> None:
    facts = studio(number)

    assert changed(facts, ()) is facts
    assert week_if(facts, (), days=7) == project(facts, days=7)


@pytest.mark.parametrize(("more", "refused"), [(0, False), (1, True)])
def test_a_question_takes_twenty_changes(more: int, refused: bool) -> None:
    changes = [OneRunMore(f"Z{n}", "slate", "silk", 1_000) for n in range(CHANGES_AT_MOST + more)]

    if refused:
        with pytest.raises(CannotBe, match="21 changes asked for; one question takes 20 at most"):
            changed(FACTS, changes)
    else:
        assert len(changed(FACTS, changes).runs) == len(FACTS.runs) + CHANGES_AT_MOST
