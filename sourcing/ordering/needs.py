"""What has to be bought: what the runs want, less what is on the shelf and on its way."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from sourcing.ordering.facts import Need, Stuff, There, Wanted


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
    shelf: dict[Stuff, list[tuple[date, Fraction]]] = {}
    for lot in there:
        row = (lot.arrives_on or date.min, lot.scoured_mg)
        shelf.setdefault(lot.stuff, []).append(row)
    lacking: dict[tuple[Stuff, date], list[tuple[str, Fraction]]] = {}
    for want in sorted(wanted, key=lambda row: (row.by, row.run)):
        short = _take(shelf.get(want.stuff, []), want)
        if short > 0:
            lacking.setdefault((want.stuff, want.by), []).append((want.run, short))
    return tuple(_need(stuff, by, rows) for (stuff, by), rows in sorted(lacking.items()))


def _take(shelf: list[tuple[date, Fraction]], want: Wanted) -> Fraction:
    """What one want is short of after taking from what has come by then."""
    short = Fraction(want.scoured_mg)
    for n, (on, left) in enumerate(shelf):
        if on <= want.by:
            taken = min(short, left)
            shelf[n] = (on, left - taken)
            short -= taken
    return short


def _need(stuff: Stuff, by: date, rows: list[tuple[str, Fraction]]) -> Need:
    runs = tuple(dict.fromkeys(run for run, _ in rows))
    return Need(stuff, by, sum((short for _, short in rows), Fraction(0)), runs)
