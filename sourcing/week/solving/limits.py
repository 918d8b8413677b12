"""Things of limited number: rings, hands, kilos of line, pots by their size."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

from sourcing.week.solving.days import Days
from sourcing.week.solving.model import Model, Sum, Timed

LONG_AT_MOST = 6  # of the longest uses that one thing has room for, counted so far

Taken = tuple[int, int, int]  # since, until and how many, whatever else is decided


def one_at_a_time(model: Model, steps: Iterable[Timed]) -> None:
    """Steps that all want the one thing there is."""
    model.cp.add_no_overlap([row.interval for row in steps])


def at_most(
    model: Model, uses: Sequence[tuple[Timed, int]], there: int, *, taken: Sequence[Taken] = ()
) -> None:
    """At no moment more of a thing in use than there is.

    Parameters
    ----------
    uses : steps, and how many each takes from its start to its end
    there : how many there are
    taken : what somebody has already; where it is more than there is, nobody else has any
    """
    wanted = [(row.interval, count) for row, count in uses if count > 0]
    if not wanted:
        return
    if there == 1 and not taken and all(count == 1 for _, count in wanted):
        model.cp.add_no_overlap([interval for interval, _ in wanted])
        return
    fixed = [
        (model.cp.new_fixed_size_interval_var(since, until - since, "taken"), min(count, there))
        for since, until, count in _summed(taken)
    ]
    rows = [*wanted, *fixed]
    model.cp.add_cumulative([row for row, _ in rows], [count for _, count in rows], there)


def _summed(taken: Sequence[Taken]) -> list[Taken]:
    """Stretches that do not overlap, with all that is taken in each."""
    edges = sorted({minute for since, until, _ in taken for minute in (since, until)})
    found = []
    for since, until in itertools.pairwise(edges):
        count = sum(n for begins, ends, n in taken if begins <= since and until <= ends)
        if count:
            found.append((since, until, count))
    return found


def at_most_by_size(model: Model, uses: Sequence[tuple[Timed, int]], sizes: Sequence[int]) -> None:
    """Loads in pots of several sizes, of which only how many there are of each counts.

    At no moment are there more loads that want at least a size than pots of at least that size.
    Pots of one size are one class, so nobody asks which of them it is.

    Parameters
    ----------
    uses : steps and the least working litres that each of their loads wants
    sizes : working litres of each pot
    """
    for size in sorted(set(sizes)):
        smaller = max((row for row in sizes if row < size), default=-1)
        wanting = [(row, 1) for row, least in uses if least > smaller]
        at_most(model, wanting, sum(row >= size for row in sizes))
    for row, least in uses:
        if least > max(sizes, default=-1):
            model.cp.add(row.present == 0)


def in_one_opening(
    model: Model,
    uses: Sequence[tuple[Sum, int, int]],
    there: Sequence[int],
    *,
    whole: int,
    lost: Sequence[tuple[Sum, int, int]] = (),
) -> None:
    """What is held within one stretch of time, one after another: by its minutes and by number.

    Of k + 1 uses that are each longer than the (k + 1)th part of the stretch no one thing has
    room, so each takes k of them.

    Parameters
    ----------
    uses : whether it is there (0 or 1), minutes, and how many things at once
    there : of each thing the minutes that are left of the stretch, at most `whole`
    whole : minutes of the stretch
    lost : likewise what is lost at its beginning, counted by its minutes only

    References
    ----------
    Dual feasible functions of the threshold kind: Fekete and Schepers 2001, Math. Program. 91,
    11-31 (from memory).
    """
    if sum(minutes * count for _, minutes, count in (*uses, *lost)) > sum(there):
        wanted = [minutes * count * on for on, minutes, count in (*uses, *lost)]
        model.cp.add(sum(wanted) <= sum(there))
    for most in range(1, LONG_AT_MOST + 1):
        parts = [(on, count * _parts(minutes, most, whole)) for on, minutes, count in uses]
        if sum(count for _, count in parts) > most * len(there):
            model.cp.add(sum(count * on for on, count in parts if count) <= most * len(there))


def _parts(minutes: int, most: int, whole: int) -> int:
    """How many of so many equal parts of a stretch a use takes away: together never more."""
    return max(0, (minutes * (most + 1) - 1) // whole) if whole else most


def each_day(model: Model, uses: Iterable[tuple[Days, int]], there: Sequence[int]) -> None:
    """On no day more minutes of hands than there are, counted on the day that a step begins.

    Parameters
    ----------
    there : by day, 0 or more
    """
    rows = [(days, count) for days, count in uses if count > 0]
    for day, minutes in enumerate(there):
        wanted: list[Sum] = [count * days.on(day) for days, count in rows if days.may_be_on(day)]
        if wanted:
            model.cp.add(sum(wanted) <= minutes)
