"""A put-by plan month by month: what is there, what likely comes, what is wanted, what is short."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from inventory.science.days import add_months
from sourcing.putting_by.facts import Stock
from sourcing.putting_by.plan import PutByPlan
from sourcing.putting_by.serving import Served, served

MONTHS_AT_MOST = 24


@dataclass(frozen=True, slots=True)
class Month:
    """One month; amounts in mg as they are kept."""

    first: date  # its first day, or today
    shelf_mg: int  # there when it begins, still good: from the shelf
    likely_mg: int  # and what likely came before, put by
    wanted_mg: int
    from_shelf_mg: int  # of what is wanted
    from_likely_mg: int
    runs: tuple[str, ...]
    closed: bool  # nothing comes on its first day, nor on its last

    @property
    def short_mg(self) -> int:
        return self.wanted_mg - self.from_shelf_mg - self.from_likely_mg

    @property
    def word(self) -> str:
        """How its runs stand: there, likely, short; empty where none is wanted."""
        if not self.wanted_mg:
            return ""
        if self.short_mg:
            return "short"
        return "likely" if self.from_likely_mg else "there"


def months_of(plan: PutByPlan) -> tuple[Month, ...]:
    """Every month from today to the last run's, or to the end of the gap, in order."""
    likely = plan.as_stock(plan.coming.likely())
    rows = served(plan.uses, (*plan.stocks, *likely))
    firsts = _firsts(plan)
    return tuple(_month(plan, first, after, rows, likely) for first, after in pairwise(firsts))


def _firsts(plan: PutByPlan) -> list[date]:
    """First days of the months, one more than there are months; the first is today."""
    last = max(use.last for use in plan.uses)
    if plan.gap is not None and plan.gap.until is not None and plan.gap.since <= last:
        last = max(last, plan.gap.until - timedelta(days=1))
    firsts = [plan.today]
    while firsts[-1] <= last and len(firsts) <= MONTHS_AT_MOST:
        firsts.append(add_months(firsts[-1].replace(day=1), 1))
    return firsts


def _month(
    plan: PutByPlan, first: date, after: date, rows: Sequence[Served], likely: Sequence[Stock]
) -> Month:
    shelf = {stock.code for stock in plan.stocks}
    mine = [row for row in rows if first <= row.use.since < after]
    before = [row for row in rows if row.use.since < first]
    taken = [take for row in mine for take in row.takes]
    last = after - timedelta(days=1)
    return Month(
        first=first,
        shelf_mg=_there(plan.stocks, before, first),
        likely_mg=_there(likely, before, first),
        wanted_mg=sum(row.use.mg for row in mine),
        from_shelf_mg=sum(mg for code, mg in taken if code in shelf),
        from_likely_mg=sum(mg for code, mg in taken if code not in shelf),
        runs=tuple(row.use.what for row in mine),
        closed=plan.gap is not None and plan.gap.holds(first) and plan.gap.holds(last),
    )


def _there(stocks: Iterable[Stock], before: Iterable[Served], day: date) -> int:
    """What of some stocks is left and good on a day."""
    good = {stock.code: stock.mg for stock in stocks if stock.since <= day <= stock.last}
    for row in before:
        for code, mg in row.takes:
            if code in good:
                good[code] -= mg
    return sum(good.values())
