"""How much to put by, by when, from which pick-ups, and which runs fall if it is not done.

The way in: `plans_of` takes the facts and answers of the week, and wishes; one plan a dyestuff.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

from inventory.science.catalogue import figure
from inventory.science.days import local_day
from inventory.science.saying import say
from sourcing.putting_by.coming import Coming, PickUp, coming_of
from sourcing.putting_by.facts import PutByWish, Stock, Use, uses_of
from sourcing.putting_by.gaps import Gap, gaps_of
from sourcing.putting_by.serving import Served, served
from sourcing.putting_by.shelf import LeftOut, OnShelf, on_shelf
from sourcing.putting_by.turning import Turning, turning_of
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.plan import Answer

CAUTIOUS = 0.1  # nine times in ten more comes


@dataclass(frozen=True, slots=True)
class Milestone:
    """By the end of a day so much must be put by in all: the last pick-up in time is that day's."""

    by: date | None  # None: nothing is agreed that comes in time
    mg: int  # as it is kept
    fresh_mg: int | None  # as it comes; None: nobody knows what dries to what
    runs: tuple[str, ...]  # what it is for


@dataclass(frozen=True, slots=True)
class Room:
    """Where it would be kept: does it hold what has to go in?"""

    kind: str  # freezer, tray
    needs_mg: int
    free_mg: int | None  # None: no limit is written down

    @property
    def over_mg(self) -> int:
        return 0 if self.free_mg is None else max(0, self.needs_mg - self.free_mg)

    @property
    def loads(self) -> int:
        """How often trays are filled, one load after the other."""
        return 1 if not self.free_mg else -(-self.needs_mg // self.free_mg)


@dataclass(frozen=True)
class PutByPlan:
    """What the wishes for one dyestuff in one state come to."""

    dyestuff: str
    state: str  # dried, frozen: how it is put by
    wishes: tuple[PutByWish, ...]
    today: date
    turning: Turning
    uses: tuple[Use, ...]  # wished runs, and runs asked for that wait for this
    shelf: tuple[OnShelf, ...]
    left_out: tuple[LeftOut, ...]
    coming: Coming
    gap: Gap | None  # the one that the wished runs fall into, or the next
    undated: tuple[str, ...]  # runs asked for without a day: not counted
    barred: tuple[tuple[str, str], ...]  # sources that nothing may be fetched from, and why
    freezer_free_mg: int | None
    tray_mg: int | None

    # -- what is there ------------------------------------------------------------------------

    @cached_property
    def stocks(self) -> tuple[Stock, ...]:
        return tuple(row.stock for row in self.shelf)

    @cached_property
    def from_shelf(self) -> tuple[Served, ...]:
        """Every run with what the shelf gives it, and what it lacks."""
        return served(self.uses, self.stocks)

    @property
    def need_mg(self) -> int:
        return sum(use.mg for use in self.uses)

    @property
    def there_mg(self) -> int:
        """What of the shelf serves the runs; what spoils before its run is not in it."""
        return self.need_mg - self.lacks_mg

    @cached_property
    def lacks_mg(self) -> int:
        """What must still be put by, as it is kept."""
        return sum(row.short_mg for row in self.from_shelf)

    @property
    def lacks_fresh_mg(self) -> int | None:
        return self.turning.fresh_mg(self.lacks_mg)

    @property
    def lacks_fresh_between(self) -> tuple[int, int] | None:
        return self.turning.fresh_between(self.lacks_mg)

    def lots_used(self) -> list[tuple[str, int]]:
        """What the runs take of each lot, as it lies there."""
        worth = {row.code: (row.lot_mg, row.stock.mg) for row in self.shelf}
        return [
            (code, -(-mg * worth[code][0] // worth[code][1]))
            for row in self.from_shelf
            for code, mg in row.takes
        ]

    @property
    def to_turn(self) -> tuple[OnShelf, ...]:
        """Lots on the shelf that a run counts on and that must be put by for it."""
        taken = {code for row in self.from_shelf for code, _ in row.takes}
        return tuple(row for row in self.shelf if row.turn_by is not None and row.code in taken)

    # -- what must come -----------------------------------------------------------------------

    @cached_property
    def milestones(self) -> tuple[Milestone, ...]:
        """What must have been put by at which day, each with all before it."""
        by_day: dict[date | None, list[Served]] = {}
        for row in self.from_shelf:
            if row.short_mg:
                by_day.setdefault(self.coming.last_for(row.use), []).append(row)
        mg = 0
        runs: tuple[str, ...] = ()
        found: list[Milestone] = []
        for day in sorted(day for day in by_day if day is not None):
            mg += sum(row.short_mg for row in by_day[day])
            runs = (*runs, *(row.use.what for row in by_day[day]))
            found.append(Milestone(day, mg, self.turning.fresh_mg(mg), runs))
        if None in by_day:
            mg = sum(row.short_mg for row in by_day[None])
            runs = tuple(row.use.what for row in by_day[None])
            found.append(Milestone(None, mg, self.turning.fresh_mg(mg), runs))
        return tuple(found)

    @property
    def days_to_act(self) -> list[date]:
        """Days on which something has to be done: a pick-up to put by, a lot to dry or freeze."""
        turns = [row.turn_by for row in self.to_turn if row.turn_by is not None]
        return sorted({*turns, *(row.day for row in self.pick_ups)})

    @property
    def by(self) -> date | None:
        """The last day on which anything that is lacking can come."""
        return max((row.by for row in self.milestones if row.by is not None), default=None)

    @cached_property
    def pick_ups(self) -> tuple[PickUp, ...]:
        """The pick-ups that may still bring it."""
        last = self.by
        return () if last is None else tuple(r for r in self.coming.pick_ups if r.day <= last)

    @cached_property
    def chance(self) -> float | None:
        """Chance, 0 to 1, that enough comes for every run; None where there is no forecast.

        With more than one day to be met it is the least of theirs, so at most this.
        """
        if not self.lacks_mg:
            return 1.0
        chances = [
            0.0 if row.by is None else self.coming.chance(row.fresh_mg, by=row.by)
            for row in self.milestones
        ]
        known = [chance for chance in chances if chance is not None]
        return min(known) if len(known) == len(chances) else None

    # -- what falls ---------------------------------------------------------------------------

    @cached_property
    def without(self) -> tuple[Served, ...]:
        """Runs as they are if nothing more is put by: whole, or not at all."""
        return served(self.uses, self.stocks, whole=True)

    @cached_property
    def likely(self) -> tuple[Served, ...]:
        """Runs as they are if everything that likely comes is put by."""
        return self._with(self.coming.likely())

    @cached_property
    def cautious(self) -> tuple[Served, ...]:
        """The same with what comes nine times in ten."""
        return self._with(self.coming.at_least(CAUTIOUS))

    @cached_property
    def likely_short_mg(self) -> int:
        """What is lacking, as it is kept, even if everything that likely comes is put by."""
        stocks = (*self.stocks, *self.as_stock(self.coming.likely()))
        return sum(row.short_mg for row in served(self.uses, stocks))

    @property
    def more_pick_ups(self) -> int | None:
        """Pick-ups to ask for beside those agreed; None where nobody knows what one brings."""
        each, short = self.coming.one_likely_mg, self.turning.fresh_mg(self.likely_short_mg)
        return None if not each or short is None else -(-short // each)

    @property
    def open_till(self) -> date | None:
        """The last day on which a source could still give, agreed or not, before a run falls."""
        fallen = [row.use for row in self.likely if row.short_mg]
        return self.coming.open_till(before=fallen[0].since) if fallen else None

    def _with(self, comes: Sequence[tuple[date, int]]) -> tuple[Served, ...]:
        return served(self.uses, (*self.stocks, *self.as_stock(comes)), whole=True)

    def as_stock(self, comes: Sequence[tuple[date, int]]) -> list[Stock]:
        return [
            Stock(
                say("pick-up {day}", day=day), self.turning.kept_mg(mg), day, self.coming.lasts[day]
            )
            for day, mg in comes
        ]

    # -- room ---------------------------------------------------------------------------------

    @property
    def room(self) -> Room | None:
        """Whether freezer or trays hold what has to be put by; None where nothing has."""
        turned = sum(row.lot_mg for row in self.to_turn)
        needs = (self.lacks_fresh_mg or 0) + turned
        if not needs:
            return None
        free = self.freezer_free_mg if self.state == "frozen" else self.tray_mg
        return Room("freezer" if self.state == "frozen" else "tray", needs, free)


def plans_of(
    facts: WeekFacts, answers: Sequence[Answer], wishes: Iterable[PutByWish]
) -> tuple[PutByPlan, ...]:
    """One plan for each dyestuff and the state it is put by in, by name.

    Parameters
    ----------
    facts : the week's, at one moment
    answers : one a run; what placed runs take is not there for anything else
    wishes : any order; what lies before today is over
    """
    today = local_day(facts.at, zone=facts.zone)
    groups: dict[tuple[str, str], list[PutByWish]] = {}
    for wish in wishes:
        if wish.last_on >= today:
            state = turning_of(facts, wish.dyestuff, wish.state).state
            groups.setdefault((wish.dyestuff, state), []).append(wish)
    plans: list[PutByPlan] = []
    for dyestuff, state in sorted(groups):
        before = [plan for plan in plans if plan.dyestuff == dyestuff]
        plans.append(_plan(facts, answers, groups[dyestuff, state], dyestuff, today, before))
    return tuple(plans)


def _plan(
    facts: WeekFacts,
    answers: Sequence[Answer],
    wishes: Sequence[PutByWish],
    dyestuff: str,
    today: date,
    before: Sequence[PutByPlan],
) -> PutByPlan:
    """One plan; what plans of the same dyestuff in another state take goes before."""
    wanted = next((wish.state for wish in wishes if wish.state), "")
    turning = turning_of(facts, dyestuff, wanted)
    mine = [use for wish in wishes for use in uses_of(wish) if use.last >= today]
    waiting, undated = ([], ()) if before else _waiting(facts, answers, dyestuff, today)
    uses = [replace(use, since=max(use.since, today)) for use in (*mine, *waiting)]
    spoken: dict[str, int] = {}
    for code, mg in (row for plan in before for row in plan.lots_used()):
        spoken[code] = spoken.get(code, 0) + mg
    shelf, left_out = on_shelf(facts, answers, turning, wanted, spoken)
    fresh = sum(plan.lacks_fresh_mg or 0 for plan in before)
    coming = coming_of(facts, turning, until=max(use.since for use in uses), spoken_mg=fresh)
    return PutByPlan(
        dyestuff=dyestuff,
        state=turning.state,
        wishes=tuple(wishes),
        today=today,
        turning=turning,
        uses=tuple(sorted(uses, key=lambda use: (use.since, use.last, use.what))),
        shelf=shelf,
        left_out=left_out,
        coming=coming,
        gap=_gap(facts, coming, min(use.since for use in mine), today),
        undated=undated,
        barred=_barred(facts, coming, dyestuff),
        freezer_free_mg=_freezer_free_mg(facts, answers),
        tray_mg=_tray_mg(facts),
    )


def _barred(facts: WeekFacts, coming: Coming, dyestuff: str) -> tuple[tuple[str, str], ...]:
    """Sources whose leave or note is not on record: the forecast has nothing of them."""
    counted = {stream.source for stream in coming.streams}
    found = {
        row.source: row.why_not
        for row in facts.pick_ups
        if row.dyestuff == dyestuff and row.why_not and row.source not in counted
    }
    return tuple(sorted(found.items()))


def _gap(facts: WeekFacts, coming: Coming, first: date, today: date) -> Gap | None:
    """The gap that the first wished run falls into, else the next one after it."""
    if not coming.streams:
        return None
    least = int(figure(facts.figures, "studio", "put_by_gap_days", on=today).value)
    gaps = gaps_of(coming.streams, today=today, at_least_days=least)
    return next((gap for gap in gaps if gap.until is None or gap.until > first), None)


def _waiting(
    facts: WeekFacts, answers: Sequence[Answer], dyestuff: str, today: date
) -> tuple[list[Use], tuple[str, ...]]:
    """Runs asked for that are not placed and want the same, by the day they are due."""
    recipes = {row.code: row for row in facts.recipes}
    unplaced = {row.run for row in answers if row.answer == "no"}
    uses: list[Use] = []
    undated: list[str] = []
    for run in facts.runs:
        recipe = recipes.get(run.recipe)
        if run.code not in unplaced or recipe is None:
            continue
        doses = [dose for dose in recipe.doses if dose.kind == "dyestuff" and dose.what == dyestuff]
        mg = sum(round(dose.per_fibre * run.weight_mg) for dose in doses)
        if mg and run.due is None:
            undated.append(run.code)
        elif mg:
            day = max(today, _due_day(facts, run))
            uses.append(Use(say("{shade} ({code})", shade=run.shade, code=run.code), day, day, mg))
    return uses, tuple(undated)


def _due_day(facts: WeekFacts, run: RunFacts) -> date:
    assert run.due is not None
    return local_day(run.due, zone=facts.zone)


def _freezer_free_mg(facts: WeekFacts, answers: Sequence[Answer]) -> int | None:
    """Room in the freezers once placed runs have taken their stuff; None: no limit, or none."""
    limits = [place.holds_mg for place in facts.shelf.cold_places if place.kind == "freezer"]
    if not limits or None in limits:
        return None
    taken: dict[str, int] = {}
    for answer in answers:
        for take in answer.takes if answer.answer != "no" else ():
            taken[take.source] = taken.get(take.source, 0) + take.amount
    inside = sum(
        lot.left_mg - taken.get(lot.code, 0)
        for lot in facts.shelf.lots
        if lot.stay.place_kind == "freezer"
    )
    return max(0, sum(mg for mg in limits if mg is not None) - inside)


def _tray_mg(facts: WeekFacts) -> int | None:
    """What all trays hold, fresh; None: no tray, or one without a limit."""
    limits = [place.holds_mg for place in facts.shelf.cold_places if place.kind == "tray"]
    if not limits or None in limits:
        return None
    return sum(mg for mg in limits if mg is not None)
