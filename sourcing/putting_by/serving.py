"""Which run is served from what: what spoils first is used first, earlier runs before later ones.

A sum of intervals: a stock serves a run if it is there by the run's first day and good on its last.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sourcing.putting_by.facts import Stock, Use


@dataclass(frozen=True, slots=True)
class Served:
    """One run with what it takes, and what is lacking."""

    use: Use
    takes: tuple[tuple[str, int], ...]  # code of the stock, mg

    @property
    def short_mg(self) -> int:
        return self.use.mg - sum(mg for _, mg in self.takes)


def served(
    uses: Iterable[Use], stocks: Sequence[Stock], *, whole: bool = False
) -> tuple[Served, ...]:
    """Every run with what it takes, in order of its first day.

    Parameters
    ----------
    uses : any order; stretches that do not lie inside one another
    stocks : any order, each code once
    whole : a run that cannot have all of its amount takes nothing; else it takes what there is

    Returns
    -------
    tuple of Served
        Without `whole` no other way of sharing leaves less lacking in all.

    References
    ----------
    Serving by earliest end is best where each stock serves a row of neighbours: F. Glover, "Maximum
    matching in a convex bipartite graph", Naval Res. Logist. Q. 14:313 (1967).

    Examples
    --------
    >>> from datetime import date
    >>> march, may = date(2027, 3, 1), date(2027, 5, 1)
    >>> old, new = Stock("old", 300, march, date(2027, 4, 1)), Stock("new", 300, march, may)
    >>> runs = [Use("a", march, march, 300), Use("b", may, may, 300)]
    >>> [row.takes for row in served(runs, [new, old])]
    [(('old', 300),), (('new', 300),)]
    """
    left = {stock.code: stock.mg for stock in stocks}
    order = sorted(stocks, key=lambda stock: (stock.last, stock.since, stock.code))
    rows = []
    for use in sorted(uses, key=lambda use: (use.since, use.last, use.what)):
        takes = _takes(use, order, left)
        if whole and sum(mg for _, mg in takes) < use.mg:
            takes = ()
        for code, mg in takes:
            left[code] -= mg
        if takes:
            order = [stock for stock in order if left[stock.code]]
        rows.append(Served(use, takes))
    return tuple(rows)


def _takes(use: Use, order: Sequence[Stock], left: dict[str, int]) -> tuple[tuple[str, int], ...]:
    """What a run takes of stocks in order of their last good day, from its own last day on."""
    need, takes = use.mg, []
    for n in range(bisect_left(order, use.last, key=lambda stock: stock.last), len(order)):
        if need <= 0:
            break
        stock = order[n]
        taken = min(need, left[stock.code])
        if taken > 0 and stock.since <= use.since:
            takes.append((stock.code, taken))
            need -= taken
    return tuple(takes)
