"""Does tonight's freezer hold what has to go in, and the other evenings' of the period?

Checked at the end of each evening: what is in it, what is put by, what comes that keeps by
freezing. Confirmed and likely stand apart.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from inventory.science.catalogue import find_figure
from inventory.science.days import day_begins, local_day
from inventory.science.facts import LotFacts
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer, Job, Take


@dataclass(frozen=True, slots=True)
class Evening:
    """The freezer of one evening, in mg."""

    day: date
    holds_mg: int
    there_mg: int  # what is in it already, less what was taken
    put_by_mg: int  # frozen that day by a job of a run
    comes_mg: int  # comes that day, confirmed
    likely_mg: int  # unconfirmed, likely come by then

    @property
    def inside_mg(self) -> int:
        return self.there_mg + self.put_by_mg + self.comes_mg + self.likely_mg

    @property
    def over_mg(self) -> int:
        return max(0, self.inside_mg - self.holds_mg)

    @property
    def free_mg(self) -> int:
        return max(0, self.holds_mg - self.inside_mg)


def evenings(
    facts: WeekFacts, answers: tuple[Answer, ...], *, until: datetime
) -> tuple[Evening, ...]:
    """The freezer of each evening up to `until`; empty where there is none with a limit."""
    cold = _cold(facts, answers)
    if cold.holds_mg is None:
        return ()
    last = local_day(until - timedelta(microseconds=1), zone=facts.zone)
    return tuple(cold.evening(day, cold.holds_mg) for day in _days(facts, last))


@dataclass(frozen=True)
class _Cold:
    """What one studio freezes, with takes and jobs by lot."""

    facts: WeekFacts
    holds_mg: int | None
    takes: dict[str, list[Take]] = field(default_factory=dict)
    jobs: dict[str, list[Job]] = field(default_factory=dict)  # freezing only
    dried: frozenset[str] = frozenset()  # dyestuffs that a recipe wants dried
    coming: tuple[tuple[datetime, int], ...] = ()  # unconfirmed pick-ups: moment, likely mg

    def evening(self, day: date, holds_mg: int) -> Evening:
        """There, put by, come and likely at the end of a day."""
        end = day_begins(day + timedelta(1), zone=self.facts.zone)
        there = put_by = comes = 0
        for lot in self.facts.shelf.lots:
            arrives = _comes_on(self.facts, lot)
            if arrives is not None and arrives > day:
                continue
            left = lot.left_mg - self._taken(lot.code, end)
            if lot.stay.place_kind == "freezer" and arrives != day:
                there += left
            elif arrives is not None and self.is_frozen(lot):
                comes += left if arrives == day else 0
                there += left if arrives < day else 0
            else:
                put_by += self._put_by(lot.code, end, on=(day, day))
                there += self._put_by(lot.code, end, on=(date.min, day - timedelta(1)))
        likely = sum(mg for at, mg in self.coming if at < end)
        return Evening(day, holds_mg, there, put_by, comes, likely)

    def is_frozen(self, lot: LotFacts) -> bool:
        return lot.stay.place_kind == "freezer" or keeps_by_freezing(
            self.facts, lot.dyestuff, dried=self.dried
        )

    def _taken(self, code: str, end: datetime) -> int:
        return sum(take.amount for take in self.takes.get(code, ()) if take.at < end)

    def _put_by(self, code: str, end: datetime, *, on: tuple[date, date]) -> int:
        """What runs have frozen of a lot between two days and take out only after `end`."""
        runs = [job.run for job in self.jobs.get(code, ()) if on[0] <= job.by <= on[1]]
        return sum(
            take.amount for take in self.takes.get(code, ()) if take.run in runs and take.at >= end
        )


def _cold(facts: WeekFacts, answers: tuple[Answer, ...]) -> _Cold:
    """Everything that the evenings are summed from, gathered once."""
    takes: dict[str, list[Take]] = {}
    jobs: dict[str, list[Job]] = {}
    for answer in answers:
        for take in answer.takes:
            takes.setdefault(take.source, []).append(take)
        for job in answer.jobs:
            if job.kind == "put by" and not job.what.startswith("dry"):
                jobs.setdefault(job.lot, []).append(job)
    dried = wanted_dried(facts)
    coming = tuple(
        (row.at, row.likely_mg)
        for row in facts.pick_ups
        if row.at > facts.at
        and row.confirmed_mg is None
        and row.in_window
        and not row.missed
        and keeps_by_freezing(facts, row.dyestuff, dried=dried)
    )
    return _Cold(facts, _holds_mg(facts), takes, jobs, dried, coming)


def is_frozen_to_keep(facts: WeekFacts, lot: LotFacts) -> bool:
    """Whether a lot is put by in the freezer, where the studio has one."""
    freezers = any(place.kind == "freezer" for place in facts.shelf.cold_places)
    return freezers and keeps_by_freezing(facts, lot.dyestuff, dried=wanted_dried(facts))


def wanted_dried(facts: WeekFacts) -> frozenset[str]:
    """Dyestuffs that a recipe or a bath takes dried."""
    doses = {d.what for recipe in facts.recipes for d in recipe.doses if d.state == "dried"}
    return frozenset(doses | {row.dyestuff for row in facts.makings if row.state == "dried"})


def keeps_by_freezing(facts: WeekFacts, dyestuff: str, *, dried: frozenset[str]) -> bool:
    """Whether a dyestuff is frozen to keep it: it has a life there and no recipe wants it dried."""
    today = local_day(facts.at, zone=facts.zone)
    return dyestuff not in dried and any(
        find_figure(facts.figures, dyestuff, f"keeps_frozen_{unit}", on=today) is not None
        for unit in ("days", "months")
    )


def _days(facts: WeekFacts, last: date) -> Iterator[date]:
    day = local_day(facts.at, zone=facts.zone)
    while day <= last:
        yield day
        day += timedelta(1)


def _holds_mg(facts: WeekFacts) -> int | None:
    freezers = [place.holds_mg for place in facts.shelf.cold_places if place.kind == "freezer"]
    if not freezers or None in freezers:
        return None
    return sum(mg for mg in freezers if mg is not None)


def _comes_on(facts: WeekFacts, lot: LotFacts) -> date | None:
    """The day on which a lot comes in; None when it is here."""
    if lot.arrives_at is None or lot.arrives_at <= facts.at:
        return None
    return local_day(lot.arrives_at, zone=facts.zone)
