"""Pellitory Yard's privet, and a wish for four runs of Hedge Olive over the nesting season.

Of the project's design papers: 560 g dried, of which run C takes 480 g (13.4, 13.6); a hedge that
gives on Fri 27 Nov, window to 28 Feb (13.3); 4 runs × 480 g = 1,920 g dried (12, no. 31 and 40).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from inventory.science.facts import LotFacts, Stay
from inventory.science.figures import Figure, Figures
from sourcing.forecast.facts import Stream, Visit
from sourcing.putting_by.facts import PutByWish
from sourcing.putting_by.plan import PutByPlan, plans_of
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS, nov

HEDGE = Stream(
    "Hedge at the corner house",
    "privet",
    (date(2026, 11, 27),),
    since=date(2026, 11, 27),
    last_on=date(2027, 2, 28),
    promised_mg=2_000_000,
)
OLIVE = PutByWish(
    "olive",
    "privet",
    runs=4,
    each_mg=480_000,
    since=date(2027, 3, 1),
    last_on=date(2027, 8, 31),
    state="dried",
    shade="Hedge Olive",
)
# Nothing lost on the way to dry, so that the papers' sums can be read off.
LOSSLESS = Figure(
    "privet", "drying_loss_fraction", Decimal(0), Decimal(0), Decimal(0), "measured here", own=True
)
YARD = replace(FACTS, streams=(HEDGE,), figures=Figures((*FACTS.figures.rows, LOSSLESS)))
ANSWERS = project(YARD, days=7).answers


def privet(code: str, mg: int, *, state: str = "dried", on: date = date(2026, 10, 3)) -> LotFacts:
    kind = {"dried": "dry store", "frozen": "freezer"}.get(state, "bench")
    since = nov(23, 9).replace(year=on.year, month=on.month, day=on.day)
    return LotFacts(code, "privet", (Stay(since, state, kind, kind),), mg, gathered_on=on)


def with_dried(mg: int) -> WeekFacts:
    """The yard with so much dried privet beside what run C takes, and nothing more to come."""
    lots = tuple(lot for lot in YARD.shelf.lots if lot.dyestuff != "privet")
    more = (privet("PR-1003", 480_000), privet("PR-1101", mg, on=date(2026, 11, 1)))
    lots = (*lots, *(lot for lot in more if lot.left_mg))
    return replace(YARD, streams=(), shelf=replace(YARD.shelf, lots=lots))


def with_made(amounts: tuple[int, ...]) -> WeekFacts:
    """The yard with a hedge that has given weekly, so many grams each, and goes on to February."""
    days = [date(2026, 11, 20) - timedelta(weeks=n) for n in range(len(amounts))]
    visits = tuple(
        Visit(day, "made" if g else "missed", weight_mg=g * 1000 if g else None)
        for day, g in zip(days, amounts, strict=True)
    )
    weekly = replace(HEDGE, days=(4,), since=date(2026, 9, 1), visits=visits)
    return replace(YARD, streams=(weekly,))


def plan(
    facts: WeekFacts = YARD, *wishes: PutByWish, answers: tuple[Answer, ...] = ANSWERS
) -> PutByPlan:
    (found,) = plans_of(facts, answers, wishes or (OLIVE,))
    return found
