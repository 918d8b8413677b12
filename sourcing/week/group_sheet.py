"""A group day on paper: what each one gets, and knots by which skeins are told apart.

Pure: an answer of the week in, shares and marks out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import count, product

from sourcing.week.facts import Block, Making, Recipe, RunFacts, WeekFacts
from sourcing.week.plan import Answer

KNOTS_AT_MOST = 4  # on one end; more are not counted with wet hands
ENDS_AT_LEAST = 2
PEOPLE_AT_MOST = 312  # told apart on four ends


@dataclass(frozen=True, slots=True)
class Share:
    """What is laid out for everybody, and one person's part of it."""

    what: str
    source: str  # code; empty: a bath that is made first
    each: int  # mg or µL
    whole: int
    unit: str


@dataclass(frozen=True)
class GroupDay:
    """A group day with all that its sheet asks for."""

    run: RunFacts
    block: Block | None  # None: it is not written down
    people: int
    shares: tuple[Share, ...]
    marks: tuple[tuple[int, ...], ...]  # knots on each end, one a person
    dyestuffs: tuple[str, ...] = ()  # that its recipe wants, whether or not they are there


def group_day(answer: Answer, run: RunFacts, facts: WeekFacts) -> GroupDay:
    """What a run of a group day is made of; of one that comes to nothing the people alone."""
    block = next((row for row in facts.blocks if row.code == run.group_block), None)
    recipe = next((row for row in facts.recipes if row.code == run.recipe), None)
    people = max(1, min(run.people, PEOPLE_AT_MOST))
    shares = tuple(_shares(answer, run, recipe, facts))
    dyestuffs = () if recipe is None else dyestuffs_of(recipe, facts.makings)
    return GroupDay(run, block, people, shares, marks(people), dyestuffs)


def dyestuffs_of(recipe: Recipe, makings: Iterable[Making]) -> tuple[str, ...]:
    """What a recipe is dyed with, each once; of a bath that is made, what it is made of."""
    made = {row.bath: row.dyestuff for row in makings}
    found = (
        dose.what if dose.kind == "dyestuff" else made.get(dose.what, "")
        for dose in recipe.doses
        if dose.kind in ("dyestuff", "bath")
    )
    return tuple(dict.fromkeys(what for what in found if what))


def _shares(
    answer: Answer, run: RunFacts, recipe: Recipe | None, facts: WeekFacts
) -> Iterator[Share]:
    people = max(1, run.people)
    for take in answer.takes:
        yield Share(take.what, take.source, take.amount // people, take.amount, take.unit)
    made = {row.bath for row in facts.makings}
    for dose in recipe.doses if recipe is not None and answer.takes else ():
        # Of a bath on the shelf its own take says how much; one that is made has no code yet.
        if dose.kind == "bath" and dose.what in made and not _taken(dose.what, answer):
            whole = round(dose.l_per_kg * run.weight_mg)
            yield Share(dose.what, "", whole // people, whole, "µL")


def _taken(what: str, answer: Answer) -> bool:
    return any(take.what == what for take in answer.takes)


def marks(people: int) -> tuple[tuple[int, ...], ...]:
    """Knots for each person: so many on each end, few first, their sum always even.

    As every sum is even, one knot that came loose is noticed: it leaves a mark that is nobody's.
    Two ends do for twelve people, three for sixty-two.

    Parameters
    ----------
    people : 1 or more

    Examples
    --------
    >>> marks(3)
    ((0, 2), (1, 1), (2, 0))
    >>> len(marks(12)[-1]), len(marks(13)[-1])
    (2, 3)
    """
    assert people > 0
    found = next(rows for ends in count(ENDS_AT_LEAST) if len(rows := _of_ends(ends)) >= people)
    return found[:people]


def _of_ends(ends: int) -> tuple[tuple[int, ...], ...]:
    rows = product(range(KNOTS_AT_MOST + 1), repeat=ends)
    even = [row for row in rows if any(row) and sum(row) % 2 == 0]
    return tuple(sorted(even, key=lambda row: (sum(row), row)))
