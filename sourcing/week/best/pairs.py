"""Which runs might share pots, and which of their steps: all that may ever be, none left out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import permutations
from typing import TYPE_CHECKING

from sourcing.week.facts import RunFacts
from sourcing.week.guidance import Guidance, Together
from sourcing.week.sharing import Sharer, in_one_pot

if TYPE_CHECKING:
    from sourcing.week.best.goals import Measure

SETS_AT_MOST = 60  # sets of pairs of which every order is tried


@dataclass(frozen=True, slots=True)
class Pairs:
    """Two runs each, with the step up to which one might go with the other."""

    rows: tuple[Together, ...] = ()  # by leader, follower; the most steps first
    steps: Mapping[str, frozenset[str]] | None = None  # by run: its steps that any pair shares

    def steps_of(self, run: str) -> frozenset[str]:
        return frozenset() if self.steps is None else self.steps.get(run, frozenset())


def pairs_in(measure: Measure) -> Pairs:
    """Every pair of a week, whatever fibre its runs are made of and wherever they are worked.

    To be asked while nothing but begun runs is on the desk.
    """
    desk = measure.desk
    runs = [
        run
        for run in sorted(desk.facts.runs, key=lambda run: run.code)
        if run.kept is None and not run.group_block and run.recipe in desk.recipes
        and desk.recipes[run.recipe].may_share
    ]  # fmt: skip
    if len(runs) < 2:
        return Pairs()
    known = {run.code: list(_sharers(run, measure)) for run in runs}
    rows: dict[Together, int] = {}
    steps: dict[str, set[str]] = {run.code: set() for run in runs}
    for one, other in permutations(runs, 2):
        for row, first, count, mine, theirs in _of_two(known[one.code], known[other.code], measure):
            rows[row] = max(count, rows.get(row, 0))
            steps[one.code] |= {s.step.name for s in mine.stages[first : first + count]}
            steps[other.code] |= {s.step.name for s in theirs.stages[:count]}
    in_order = sorted(rows, key=lambda row: (row.leader, row.follower, -rows[row], row.upto))
    return Pairs(tuple(in_order), {code: frozenset(names) for code, names in steps.items()})


def _sharers(run: RunFacts, measure: Measure) -> Iterator[tuple[str, Sharer]]:
    """A run at each site with fibre in each state."""
    desk = measure.desk
    recipe = desk.recipes[run.recipe]
    for site, placer in desk.placers.items():
        for group in desk.larder.fibre_groups(
            run, depth=recipe.depth, without=frozenset(), site=site, far=desk.carries
        ):
            for damp in {any(lot.damp for lot in group), all(lot.damp for lot in group)}:
                fibre = replace(group[0], damp=damp)
                yield site, Sharer(run, recipe, fibre, desk.stages(run, recipe, fibre, placer))


def _of_two(
    leaders: list[tuple[str, Sharer]], followers: list[tuple[str, Sharer]], measure: Measure
) -> Iterator[tuple[Together, int, int, Sharer, Sharer]]:
    figures, today = measure.desk.facts.figures, measure.desk.today
    for site, mine in leaders:
        for where, theirs in followers:
            if where != site:
                continue
            for stage in theirs.stages:
                name = stage.step.name
                found = in_one_pot(mine, theirs, name, figures, on=today)
                if found is not None:
                    yield Together(mine.run.code, theirs.run.code, name), *found, mine, theirs


# -- as guidances ------------------------------------------------------------------------------


def joined(base: Guidance, row: Together) -> Guidance | None:
    """A guidance in which two runs share as well; None: one of them is in another pair's way."""
    led = {other.follower for other in base.together}
    leads = {other.leader for other in base.together}
    if row.leader in led or row.follower in led or row.follower in leads:
        return None
    return replace(base, together=tuple(sorted((*base.together, row), key=_by_run)))


def parted(base: Guidance, row: Together) -> Guidance:
    """A guidance in which two runs share no more."""
    return replace(base, together=tuple(other for other in base.together if other != row))


def sets_of(pairs: Pairs) -> Iterator[tuple[Together, ...]]:
    """Sets of pairs that can be together, the smallest first, so many at most."""
    found: list[Guidance] = [Guidance()]
    given = 0
    while found:
        larger: dict[Guidance, None] = {}
        for base in found:
            for row in pairs.rows:
                more = joined(base, row)
                if more is None or more in larger:
                    continue
                larger[more] = None
                yield more.together
                given += 1
                if given >= SETS_AT_MOST:
                    return
        found = list(larger)


def _by_run(row: Together) -> tuple[str, str, str]:
    return row.leader, row.follower, row.upto
