"""What fibre the wanted runs still lack, and by which day it has to be here.

Every run counts, whether it can be placed this week or not: who waits with ordering until a run is
a yes waits too long.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from fractions import Fraction
from functools import cached_property

from inventory.science.catalogue import figure, find_figure
from inventory.science.days import local_day
from inventory.science.facts import FibreFacts
from inventory.science.keeping import fibre_last_good_day
from inventory.science.saying import say
from sourcing.ordering.facts import Need, Served, Stuff, There, Wanted
from sourcing.ordering.needs import needs_from, served
from sourcing.week.facts import Recipe, RunFacts, Step, WeekFacts
from sourcing.week.over_dyeing import is_dyed

DAY = timedelta(days=1)
MINUTES_A_DAY = 24 * 60
OVERNIGHT_MIN = 8 * 60  # what stands so long or longer goes on next day
AHEAD_AT_MOST = 400  # days; fibre for runs wanted later is looked at when they come nearer
UNKNOWN_FORM = "yarn"  # of a fibre that neither lies here nor is offered


@dataclass(frozen=True, slots=True)
class FibreWanted:
    """The fibre of one run: how much, by when, from where, and what it is short of."""

    run: str
    shade: str
    stuff: Stuff
    scoured_mg: int  # ready to dye
    by: date | None  # the last day on which it may arrive; None: the run has no date
    by_said: str  # whose day that is, in words
    takes: tuple[tuple[str, Fraction], ...]  # code of lot or order, and mg ready to dye
    short_mg: Fraction  # ready to dye; 0: nothing to be bought


def fibre_wanted(facts: WeekFacts) -> tuple[FibreWanted, ...]:
    """The fibre of every wanted run, the earliest first, those without a date last."""
    yard = _Yard(facts)
    wishes = {run.code: _wish(yard, run) for run in facts.runs}
    rows = served([wish.want for wish in wishes.values()], _there(yard))
    return tuple(_wanted(row, wishes[row.want.run]) for row in rows)


def fibre_needs(wanted: tuple[FibreWanted, ...]) -> tuple[Need, ...]:
    """What has to be bought for runs with a date, by fibre, then day."""
    rows = [
        Served(Wanted(row.run, row.stuff, row.scoured_mg, row.by), row.takes, row.short_mg)
        for row in wanted
        if row.by is not None
    ]
    return needs_from(rows)


@dataclass(frozen=True, slots=True)
class _Wish:
    shade: str
    want: Wanted
    dated: bool
    said: str


@dataclass(frozen=True)
class _Yard:
    """The facts of a morning, asked by run, fibre and day; a studio may want hundreds of runs."""

    facts: WeekFacts

    @cached_property
    def today(self) -> date:
        return self.day(self.facts.at)

    def day(self, at: datetime) -> date:
        return local_day(at, zone=self.facts.zone)

    @cached_property
    def recipes(self) -> dict[str, Recipe]:
        return {row.code: row for row in self.facts.recipes}

    @cached_property
    def open_days(self) -> tuple[date, ...]:
        """Days on which somebody is in, as far as they are known, rising."""
        return tuple(sorted({row.day for row in self.facts.hours if row.hands_min > 0}))

    @cached_property
    def known_to(self) -> date:
        """The last day of which the hours are known; the day before the first where none are."""
        return max((row.day for row in self.facts.hours), default=self.today - DAY)

    @cached_property
    def drying(self) -> timedelta:
        value = figure(self.facts.figures, "studio", "drying_h", on=self.today).value
        return timedelta(hours=float(value))

    @cached_property
    def forms(self) -> dict[str, str]:
        """The form in which most of each fibre lies here, else in which it is offered."""
        found: dict[str, dict[str, int]] = {}
        for offer in self.facts.offers:
            found.setdefault(offer.stuff.fibre, {}).setdefault(offer.stuff.form, 0)
        for row in self.facts.shelf.fibre:
            mine = found.setdefault(row.fibre, {})
            mine[row.form] = mine.get(row.form, 0) + row.left_mg
        return {name: max(sorted(mg), key=lambda form: mg[form]) for name, mg in found.items()}

    @cached_property
    def lots(self) -> dict[str, FibreFacts]:
        return {row.code: row for row in self.facts.shelf.fibre}

    @cached_property
    def named(self) -> dict[str, tuple[str, ...]]:
        """The runs that each lot is meant for or promised to."""
        found: dict[str, list[str]] = {}
        for run in self.facts.runs:
            found.setdefault(run.fibre_lot, []).append(run.code)
        for promise in self.facts.promised:
            found.setdefault(promise.code, []).append(promise.run)
        return {code: tuple(dict.fromkeys(runs)) for code, runs in found.items() if code}

    @cached_property
    def cleared(self) -> frozenset[str]:
        """What somebody will have looked over by a chore of the plan; that counts as done."""
        return frozenset(chore.clears for chore in self.facts.chores if chore.clears)


def _wish(yard: _Yard, run: RunFacts) -> _Wish:
    by, said = _needed_by(yard, run)
    last = yard.today + DAY * AHEAD_AT_MOST
    dated = by is not None and by <= last
    day = max(by, yard.today) if by is not None and dated else last + DAY
    lot = yard.lots.get(run.fibre_lot)
    form = lot.form if lot is not None else yard.forms.get(run.fibre, UNKNOWN_FORM)
    want = Wanted(run.code, Stuff(run.fibre, form), run.weight_mg, day)
    return _Wish(run.shade, want, dated, said)


def _wanted(row: Served, wish: _Wish) -> FibreWanted:
    want = row.want
    return FibreWanted(
        run=want.run,
        shade=wish.shade,
        stuff=want.stuff,
        scoured_mg=want.scoured_mg,
        by=want.by if wish.dated else None,
        by_said=wish.said,
        takes=row.takes,
        short_mg=row.short_mg,
    )


# -- by when ---------------------------------------------------------------------------------


def _needed_by(yard: _Yard, run: RunFacts) -> tuple[date | None, str]:
    """The last day on which a run's fibre may arrive, and whose day that is.

    The run's own where it says one; else counted back from its due day: it must be dry by then,
    hung on a day when somebody is in, each night in a bath is one more such day before, and what
    comes on a day is used from the next.
    """
    if run.fibre_needed_by is not None:
        return run.fibre_needed_by, say("as the run says")
    if run.due is None:
        return None, say("the run has no date")
    return _counted_back(yard, run, run.due), say("counted back from its due day by its steps")


def _counted_back(yard: _Yard, run: RunFacts, due: datetime) -> date:
    if run.group_block:
        return yard.day(due) - DAY
    # Hung in the course of a day: only a day that ends before then is surely early enough.
    day = _open_before(yard, yard.day(due - yard.drying))
    recipe = yard.recipes.get(run.recipe)
    for _ in range(sum(_nights(step) for step in recipe.steps) if recipe else 0):
        day = _open_before(yard, day)
    return day - DAY


def _nights(step: Step) -> int:
    """Nights that a step's cloth stands before the next step may follow."""
    stands = -(-step.stand_min // MINUTES_A_DAY) if step.stand_min >= OVERNIGHT_MIN else 0
    return max(stands, int(step.night))


def _open_before(yard: _Yard, day: date) -> date:
    """The last day before one on which somebody is in; a day of which nothing is known counts."""
    before = day - DAY
    if before > yard.known_to:
        return before
    n = bisect_left(yard.open_days, day)
    return yard.open_days[n - 1] if n else min(before, yard.today - DAY)


# -- from where ------------------------------------------------------------------------------


def _there(yard: _Yard) -> Iterator[There]:
    """Lots on the shelf that count, what is in the post, and what is ordered."""
    coming = {row.code for row in yard.facts.coming}
    for fibre in yard.facts.shelf.fibre:
        if fibre.code not in coming and _counts(yard, fibre):
            yield _lot(yard, fibre)
    for row in yard.facts.coming:
        yield row.there


def _lot(yard: _Yard, fibre: FibreFacts) -> There:
    arrives = fibre.arrives_at
    in_the_post = arrives is not None and arrives > yard.facts.at
    return There(
        code=fibre.code,
        stuff=Stuff(fibre.fibre, fibre.form),
        left_mg=max(fibre.left_mg, 0),
        scour_loss=Fraction(0) if fibre.scoured else scour_loss(yard.facts, fibre.fibre),
        arrives_on=yard.day(arrives) if arrives is not None and in_the_post else None,
        meant_for=yard.named.get(fibre.code, ()),
        others_too=not (fibre.mordant or is_dyed(fibre) or fibre.clients_own),
    )


def _counts(yard: _Yard, fibre: FibreFacts) -> bool:
    """Whether a lot of fibre may serve a run at all: in use, labelled, weighed, not past."""
    if fibre.code in yard.cleared:
        return True
    if fibre.set_aside or not fibre.labelled or (fibre.clients_own and not fibre.weighed):
        return False
    last = fibre_last_good_day(fibre, yard.facts.figures, on=yard.today)
    return last is None or last.day >= yard.today


def scour_loss(facts: WeekFacts, fibre: str) -> Fraction:
    """What scouring takes off a fibre, by the studio's figure; 0 where none is known."""
    today = local_day(facts.at, zone=facts.zone)
    found = find_figure(facts.figures, fibre, "scour_loss_fraction", on=today)
    return Fraction(found.value) if found else Fraction(0)
