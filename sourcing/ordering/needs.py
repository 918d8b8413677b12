"""What has to be bought: what the runs want, less what is on the shelf and on its way."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sourcing.ordering.facts import Need, Served, Stuff, There, Wanted


def needs_of(wanted: Iterable[Wanted], there: Iterable[There]) -> tuple[Need, ...]:
    """What is lacking of each fibre by each day.

    Parameters
    ----------
    wanted : any order, may be empty, several a run allowed
        Whoever wants it first takes first from what has come by then; ties by run.
    there : any order, may be empty; lots on the shelf and orders on their way
        What arrives after a run's day does not serve that run.

    Returns
    -------
    needs : by fibre, then day; one a fibre and day, each above 0 mg and exact, ready to dye

    References
    ----------
    Earliest want first, from all that has come by then: no other order leaves less to be bought,
    as whatever serves an early want would serve a later one too.

    Examples
    --------
    Run G of the demo studio after run A: 4,000 g scoured, 5 % scour loss, 2,400 g unscoured there.

    >>> wool, loss = Stuff("wool", "yarn"), Fraction(5, 100)
    >>> runs = [Wanted("A", wool, 2_000_000, date(2026, 11, 23)),
    ...         Wanted("G", wool, 4_000_000, date(2026, 12, 7))]
    >>> (need,) = needs_of(runs, [There("W-88", wool, 2_400_000, loss)])
    >>> need.runs, round(need.bought_mg(loss) / 1000)
    (('G',), 3916)
    """
    return needs_from(served(wanted, there))


def served(wanted: Iterable[Wanted], there: Iterable[There]) -> tuple[Served, ...]:
    """What each run takes of what is there, and what it is short of.

    Parameters
    ----------
    As those of `needs_of`; what is meant for a run goes to it before the rest is shared out, in
    whatever form it comes.

    Returns
    -------
    served : one a want, the earliest first, ties by run
    """
    shelf = [_Lot(row, row.scoured_mg) for row in sorted(there, key=_by_arrival)]
    meant, of_stuff = _by_run(shelf), _by_stuff(shelf)
    wants = sorted(wanted, key=lambda row: (row.by, row.run))
    mine = [_take(meant.get(want.run, []), want, Fraction(want.scoured_mg)) for want in wants]
    found = []
    for want, first in zip(wants, mine, strict=True):
        takes = (*first, *_take(of_stuff.get(want.stuff, []), want, _short(want, first)))
        found.append(Served(want, takes, _short(want, takes)))
    return tuple(found)


@dataclass(slots=True)
class _Lot:
    """A lot while it is shared out."""

    row: There
    left: Fraction


Taken = tuple[tuple[str, Fraction], ...]


def _by_arrival(row: There) -> tuple[date, str]:
    return row.arrives_on or date.min, row.code


def _by_run(shelf: Iterable[_Lot]) -> dict[str, list[_Lot]]:
    found: dict[str, list[_Lot]] = {}
    for lot in shelf:
        for run in lot.row.meant_for:
            found.setdefault(run, []).append(lot)
    return found


def _by_stuff(shelf: Iterable[_Lot]) -> dict[Stuff, list[_Lot]]:
    found: dict[Stuff, list[_Lot]] = {}
    for lot in shelf:
        if lot.row.others_too:
            found.setdefault(lot.row.stuff, []).append(lot)
    return found


def _short(want: Wanted, takes: Taken) -> Fraction:
    return want.scoured_mg - sum((mg for _, mg in takes), Fraction(0))


def _take(lots: list[_Lot], want: Wanted, short: Fraction) -> Taken:
    """What a want takes, from what has come by then."""
    takes = []
    for lot in lots:
        if not short:
            break
        arrives = lot.row.arrives_on
        if not lot.left or (arrives is not None and arrives > want.by):
            continue
        taken = min(short, lot.left)
        lot.left -= taken
        short -= taken
        takes.append((lot.row.code, taken))
    if takes:  # what is used up is not looked at again: a studio has hundreds of runs and lots
        lots[:] = [lot for lot in lots if lot.left]
    return tuple(takes)


def needs_from(rows: Iterable[Served]) -> tuple[Need, ...]:
    """What is lacking in all, one need a fibre and day, by fibre, then day."""
    lacking: dict[tuple[Stuff, date], list[tuple[str, Fraction]]] = {}
    for row in rows:
        if row.short_mg > 0:
            key = (row.want.stuff, row.want.by)
            lacking.setdefault(key, []).append((row.want.run, row.short_mg))
    return tuple(_need(stuff, by, found) for (stuff, by), found in sorted(lacking.items()))


def _need(stuff: Stuff, by: date, rows: list[tuple[str, Fraction]]) -> Need:
    runs = tuple(dict.fromkeys(run for run, _ in rows))
    return Need(stuff, by, sum((short for _, short in rows), Fraction(0)), runs)
