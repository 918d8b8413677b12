"""What a put-by plan is asked for: wished runs, each with the stretch of days it may fall in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from inventory.science.days import add_months
from inventory.science.saying import say

RUNS_AT_MOST = 100  # of one wish
MONTHLY, EVENLY = "monthly", "evenly"


@dataclass(frozen=True, slots=True)
class PutByWish:
    """So many runs wanted over some months, to be dyed from what was put by."""

    code: str  # a short name
    dyestuff: str
    runs: int  # 1 to RUNS_AT_MOST
    each_mg: int  # of the dyestuff, in `state`, for one run
    since: date  # first day on which one may be dyed
    last_on: date  # last day, not before the first
    state: str = ""  # dried or frozen; empty: as it keeps best here
    shade: str = ""  # Hedge Olive
    spread: str = MONTHLY  # one a month from the first on, or evenly over the whole
    asked: bool = False  # only asked for, not written down


@dataclass(frozen=True, slots=True)
class Use:
    """One wanted run: so much, on any day of a stretch."""

    what: str  # "Hedge Olive, run 2 of 4"
    since: date  # it must be there by then
    last: date  # and still be good then
    mg: int
    wish: str = ""  # code of the wish; empty: a run asked for already
    name: str = ""  # "Hedge Olive"; empty: as `what`


@dataclass(frozen=True, slots=True)
class Stock:
    """Something to dye from: a lot, or what a pick-up brings once it is put by."""

    code: str
    mg: int  # in the state that is wanted
    since: date  # there from then on
    last: date  # its last good day


def uses_of(wish: PutByWish) -> tuple[Use, ...]:
    """The runs of a wish in order, each with its stretch of days.

    Monthly, the first run has the first month, the next the month after; where the months do not
    suffice, and where it is said so, all share the whole time evenly. A run may fall on any day
    of its stretch, so what it takes must be there on the first and good on the last.

    Examples
    --------
    >>> wish = PutByWish("olive", "privet", 4, 480_000, date(2027, 3, 1), date(2027, 8, 31))
    >>> [f"{use.since:%d %b} to {use.last:%d %b}" for use in uses_of(wish)]
    ['01 Mar to 31 Mar', '01 Apr to 30 Apr', '01 May to 31 May', '01 Jun to 30 Jun']
    """
    name = wish.shade or wish.dyestuff
    return tuple(
        Use(
            say("{name}, run {n} of {runs}", name=name, n=n, runs=wish.runs),
            first,
            last,
            wish.each_mg,
            wish.code,
            name,
        )
        for n, (first, last) in enumerate(_stretches(wish), 1)
    )


def _stretches(wish: PutByWish) -> list[tuple[date, date]]:
    monthly = [add_months(wish.since, n) for n in range(wish.runs + 1)]
    if wish.spread == MONTHLY and monthly[-2] <= wish.last_on:
        day = timedelta(days=1)
        return [(first, min(after - day, wish.last_on)) for first, after in pairwise(monthly)]
    days = (wish.last_on - wish.since).days + 1
    edges = [wish.since + timedelta(days=days * n // wish.runs) for n in range(wish.runs + 1)]
    return [(first, max(first, after - timedelta(days=1))) for first, after in pairwise(edges)]
