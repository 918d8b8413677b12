"""From the best week to others near it: first what would mend it, then all orders or chance ones.

Chance comes from a row of numbers that is the same every time, so the same week is found again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import permutations, product

from sourcing.week.best.moves import (
    OPENINGS_LATER,
    full_order,
    in_own_pots,
    mending,
    moved,
    next_openings,
    with_floor,
    without_floor,
)
from sourcing.week.best.pairs import joined, parted, sets_of
from sourcing.week.best.seeking import Seeking, Tried
from sourcing.week.guidance import Floor, Guidance
from sourcing.week.moments import minute_of

ALL_ORDERS_OF = 5  # runs of which every order is tried
ALL_BEGINNINGS_OF, FIRST_OPENINGS = 3, 3  # runs, each of which waits for every one of these
IN_VAIN_AT_MOST = 400  # chance moves one after another that make nothing better


@dataclass
class Dice:
    """Numbers by chance, the same row every time.

    References
    ----------
    Linear congruential generator modulo 2**64, multiplier of Knuth's MMIX (The Art of Computer
    Programming 2, 3.3.4, table 1); the high half is used.
    """

    state: int = 20261128

    def below(self, count: int) -> int:
        """A number from 0 up to, not including, a count above 0."""
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self.state >> 32) % count


def wander(seeking: Seeking, could: frozenset[str]) -> None:
    """Look for better weeks until nothing better comes any more or the effort is spent.

    Parameters
    ----------
    could : runs that could be dry in time with the studio to themselves
    """
    settle(seeking.best, seeking)
    _mend(seeking, could)
    codes = full_order(seeking.best.guidance, seeking.measure)
    if len(codes) <= ALL_ORDERS_OF:
        _every_order(codes, seeking)
        _mend(seeking, could)
        if len(codes) <= ALL_BEGINNINGS_OF:
            _every_beginning(codes, seeking)
    share(seeking)
    if codes:
        _by_chance(seeking)


def settle(tried: Tried, seeking: Seeking) -> Tried:
    """The week with each step in its run's own pot again, as long as that makes it better."""
    while not seeking.over():
        guidance = in_own_pots(tried, seeking.measure, full_order(tried.guidance, seeking.measure))
        if guidance is None or guidance in seeking.seen:
            return tried
        found = seeking.tried(guidance)
        if not found.better_than(tried):
            return tried
        tried = found
    return tried


def share(seeking: Seeking) -> None:
    """Runs in one pot, as long as that makes a better week."""
    while not seeking.over():
        better = seeking.first_better(_with_pairs(seeking.best, seeking), seeking.best)
        if better is None:
            return


def _with_pairs(at: Tried, seeking: Seeking) -> Iterator[Guidance]:
    """A week with one pair more, the one or the other of them placed first, or with one less."""
    base = at.guidance
    for row in seeking.measure.pairs.rows:
        more = joined(base, row)
        if more is not None:
            yield more
            yield replace(more, order=(row.leader, *(c for c in base.order if c != row.leader)))
    for row in base.together:
        yield parted(base, row)


def _every_order(codes: list[str], seeking: Seeking) -> None:
    """Every order of a few runs, and of those every set of pairs that can be together."""
    for together in ((), *sets_of(seeking.measure.pairs)):
        tried = set()
        for order in permutations(codes):
            guidance = Guidance(order, together=together)
            # With its leader a follower is placed, so its own place counts for nothing.
            runs = tuple(run.code for run in guidance.in_turn(seeking.measure.desk.facts.runs))
            if seeking.over():
                return
            if runs not in tried:
                tried.add(runs)
                seeking.tried(guidance)


def _every_beginning(codes: list[str], seeking: Seeking) -> None:
    """Every order of very few runs, each of them begun at once or waiting for a first opening."""
    desk = seeking.measure.desk
    opens = next_openings(desk.calendar, desk.now, FIRST_OPENINGS)
    first = {
        run.code: recipe.steps[0].name
        for run in desk.facts.runs
        if run.code in codes and (recipe := desk.recipes.get(run.recipe)) and recipe.steps
    }
    for order in permutations(codes):
        for waits in product((None, *opens), repeat=len(first)):
            floors = [
                Floor(code, first[code], at)
                for code, at in zip(sorted(first), waits, strict=True)
                if at is not None
            ]
            if seeking.over():
                return
            guidance = Guidance(order, tuple(floors))
            if guidance not in seeking.seen:
                seeking.tried(guidance)


def _mend(seeking: Seeking, could: frozenset[str]) -> None:
    """What would bring late fibre in, or save a lot, as long as that makes a better week."""
    while not seeking.over():
        moves = mending(seeking.best, seeking.measure, seeking.bound, could)
        better = seeking.first_better(moves, seeking.best)
        if better is None:
            return


def _by_chance(seeking: Seeking) -> None:
    """Chance moves; a week as good as the last is gone on from, so that no rim holds us."""
    dice, at, in_vain = Dice(), seeking.best, 0
    while not seeking.over() and in_vain < IN_VAIN_AT_MOST:
        guidance = _another(at, seeking, dice)
        in_vain += 1
        if guidance in seeking.seen:
            continue
        found = seeking.tried(guidance)
        if found.better_than(at):
            found = settle(found, seeking)
            in_vain = 0
        if not at.better_than(found):
            at = found


def _another(at: Tried, seeking: Seeking, dice: Dice) -> Guidance:
    """A run elsewhere in the order, a step that waits, or one that waits no more."""
    order = full_order(at.guidance, seeking.measure)
    base = replace(at.guidance, order=tuple(order))
    kind = dice.below(10)
    if kind == 9 and seeking.measure.pairs.rows:
        return _another_pair(base, seeking, dice)
    if kind < 1 and (own := in_own_pots(at, seeking.measure, order)) is not None:
        return own
    if kind < 6 and len(order) > 1:
        return moved(base, dice.below(len(order)), dice.below(len(order)))
    if kind < 7 and base.floors:
        return without_floor(base, base.floors[dice.below(len(base.floors))])
    if kind < 8 and len(seeking.measure.desk.placers) > 1:
        return _elsewhere(base, order[dice.below(len(order))], seeking, dice)
    found = list(_steps(at, order[dice.below(len(order))], seeking))
    return with_floor(base, found[dice.below(len(found))]) if found else base


def _another_pair(base: Guidance, seeking: Seeking, dice: Dice) -> Guidance:
    """Two runs that share, or share no more."""
    rows = seeking.measure.pairs.rows
    row = rows[dice.below(len(rows))]
    return joined(base, row) or replace(
        base, together=tuple(r for r in base.together if r.follower != row.follower)
    )


def _elsewhere(base: Guidance, code: str, seeking: Seeking, dice: Dice) -> Guidance:
    """A run at one of the sites, or where it is dry first."""
    names = [*seeking.measure.desk.placers, None]
    site = names[dice.below(len(names))]
    kept = [row for row in base.sites if row[0] != code]
    more = [] if site is None else [(code, site)]
    return replace(base, sites=tuple(sorted([*kept, *more])))


def _steps(at: Tried, code: str, seeking: Seeking) -> Iterator[Floor]:
    """A run's steps, each at one of the next openings."""
    calendar = seeking.measure.desk.calendar
    for row in at.answers[code].steps:
        if row.run == code and not row.step.startswith("make "):
            for opens in next_openings(calendar, minute_of(row.start), OPENINGS_LATER):
                yield Floor(code, row.step, opens)
