"""What has to be put by at a moment: wishes written down, one asked for, and the gaps ahead."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from inventory.models import Studio
from inventory.science.catalogue import figure
from inventory.science.days import add_months
from sourcing.errors import NoGapAhead, NothingToPutBy
from sourcing.forecast.facts import Stream
from sourcing.outlook import facts_at
from sourcing.putting_by.facts import MONTHLY, PutByWish
from sourcing.putting_by.gaps import Gap, gaps_of
from sourcing.putting_by.of_recipe import doses_of, wishes_of
from sourcing.putting_by.plan import PutByPlan, plans_of
from sourcing.remembered import week_of
from sourcing.week.facts import Recipe, WeekFacts

WEEK_DAYS = 7
GAPS_AT_MOST = 60
PLANS_AT_MOST = 40
MONTHS_WITHOUT_A_GAP = 6


@dataclass(frozen=True, slots=True)
class PutByAsked:
    """Runs that somebody asks after without writing them down."""

    of: str  # a dyestuff, or a recipe by its code or shade
    runs: int
    each_mg: int  # of the dyestuff; of fibre where `of` is a recipe
    since: date | None = None  # None: from the beginning of the next gap
    last_on: date | None = None  # None: to its end
    spread: str = MONTHLY
    state: str = ""


@dataclass(frozen=True)
class PutByOutlook:
    """Everything that the page of putting-by has to show."""

    facts: WeekFacts
    asked: tuple[PutByPlan, ...]  # plans that what was asked for is part of
    plans: tuple[PutByPlan, ...]  # of the wishes that are written down
    gaps: tuple[Gap, ...]  # by day
    known: tuple[str, ...]  # what may be asked for: shades, then dyestuffs
    more: int = 0  # plans beyond PLANS_AT_MOST


def put_by_at(studio: Studio, *, at: datetime, asked: PutByAsked | None = None) -> PutByOutlook:
    """The plans of a studio from a moment on, in as many questions as the week asks.

    Raises
    ------
    NothingToPutBy
        If what is asked for is neither a dyestuff nor a recipe that takes one.
    NoGapAhead
        If no days are asked for and nothing ever shuts.
    """
    facts = facts_at(studio, at=at, days=WEEK_DAYS)
    answers = week_of(facts, days=WEEK_DAYS).answers
    gaps = _gaps(facts)
    wanted = [] if asked is None else _wishes(facts, asked, gaps)
    plans = plans_of(facts, answers, (*facts.put_by, *wanted))
    mine = tuple(plan for plan in plans if any(wish.asked for wish in plan.wishes))
    rest = tuple(plan for plan in plans if plan not in mine)
    return PutByOutlook(
        facts=facts,
        asked=mine,
        plans=rest[:PLANS_AT_MOST],
        gaps=tuple(sorted(gaps, key=lambda gap: (gap.since, gap.dyestuff)))[:GAPS_AT_MOST],
        known=_known(facts),
        more=max(0, len(rest) - PLANS_AT_MOST),
    )


def _gaps(facts: WeekFacts) -> list[Gap]:
    by_stuff: dict[str, list[Stream]] = {}
    for stream in facts.streams:
        by_stuff.setdefault(stream.gives, []).append(stream)
    today = facts.at.astimezone(facts.zone).date()
    least = int(figure(facts.figures, "studio", "put_by_gap_days", on=today).value)
    return [
        gap
        for _, streams in sorted(by_stuff.items())
        for gap in gaps_of(streams, today=today, at_least_days=least)
    ]


def _known(facts: WeekFacts) -> tuple[str, ...]:
    shades = {recipe.shade for recipe in facts.recipes if doses_of(recipe)}
    stuffs = {stream.gives for stream in facts.streams}
    stuffs |= {lot.dyestuff for lot in facts.shelf.lots}
    return (*sorted(shades), *sorted(stuffs))


def _wishes(facts: WeekFacts, asked: PutByAsked, gaps: Sequence[Gap]) -> list[PutByWish]:
    """What is asked for, as a wish for each dyestuff that it takes."""
    recipe = _recipe(facts, asked.of)
    if recipe is not None:
        rows = wishes_of(recipe, code="asked", runs=asked.runs, fibre_mg=asked.each_mg,
                         since=date.min, last_on=date.max, spread=asked.spread)  # fmt: skip
    else:
        stuff = next((row for row in _stuffs(facts) if row.casefold() == asked.of.casefold()), None)
        if stuff is None:
            raise NothingToPutBy(asked.of)
        rows = [PutByWish("asked", stuff, asked.runs, asked.each_mg, date.min, date.max,
                          asked.state, spread=asked.spread)]  # fmt: skip
    return [_dated(row, asked, gaps) for row in rows]


def _dated(wish: PutByWish, asked: PutByAsked, gaps: Sequence[Gap]) -> PutByWish:
    """The wish over the days asked for, else over the next gap of its dyestuff."""
    gap = next((gap for gap in gaps if gap.dyestuff == wish.dyestuff), None)
    since = asked.since
    if since is None:
        if gap is None:
            raise NoGapAhead(wish.dyestuff)
        since = gap.since
    last = asked.last_on
    if last is None:
        ends = gap.until if gap is not None and gap.until is not None else None
        last = ends - timedelta(days=1) if ends is not None and ends > since else None
    last = last or add_months(since, MONTHS_WITHOUT_A_GAP) - timedelta(days=1)
    return replace(wish, since=since, last_on=last, asked=True)


def _stuffs(facts: WeekFacts) -> list[str]:
    doses = {what for recipe in facts.recipes for what, _ in doses_of(recipe)}
    lots = {lot.dyestuff for lot in facts.shelf.lots}
    return sorted(doses | lots | {stream.gives for stream in facts.streams})


def _recipe(facts: WeekFacts, of: str) -> Recipe | None:
    wanted = of.casefold()
    found = [row for row in facts.recipes if wanted in (row.code.casefold(), row.shade.casefold())]
    return next((row for row in found if doses_of(row)), None)
