"""Weeks of studios made up by chance with an expert's pieces, worked out once for all who look.

150 studios in each build, each checked against every rule; `DYE_LARDER_LONG=1` goes through 1,000.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from functools import cache

from sourcing.week.checking import check
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer, Placed, Week
from sourcing.week.project import project
from tests.sourcing.week.random_extras import expert_studio

STUDIOS = 1_000 if os.environ.get("DYE_LARDER_LONG") == "1" else 150


@cache
def expert_weeks() -> tuple[tuple[WeekFacts, Week], ...]:
    """Each studio with its week."""
    studios = map(expert_studio, range(STUDIOS))
    return tuple((facts, project(facts, days=7)) for facts in studios)


@cache
def expert_faults() -> dict[int, list[str]]:
    """Which rules a plan breaks, by the number of its studio."""
    return {
        number: [str(fault) for fault in found]
        for number, (facts, week) in enumerate(expert_weeks())
        if (found := check(facts, week))
    }


def expert_answers() -> Iterator[Answer]:
    """The answers of all of them."""
    for _, week in expert_weeks():
        yield from week.answers


def steps_that(are: Callable[[Placed], bool]) -> int:
    """In how many steps of all of them something is so."""
    return sum(are(step) for answer in expert_answers() for step in answer.steps)
