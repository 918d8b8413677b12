"""Do freezer, fridge and drying trays hold what comes, each evening of the period?

Every amount is a stretch of evenings in one room: what lies there, what a run puts by, what is
told of, what may come. The last is a guess and stands apart.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, TypeVar, cast

from inventory.science.catalogue import figure, find_figure
from inventory.science.days import local_day
from inventory.science.facts import LotFacts, Stay
from inventory.science.figures import Figures
from inventory.science.saying import say
from sourcing.week.facts import PickUpExpected, WeekFacts
from sourcing.week.freezer import keeps_by_freezing, wanted_dried
from sourcing.week.plan import Answer, Job, Take

KINDS = ("freezer", "fridge", "tray")
NAMES = {"freezer": "freezer", "fridge": "fridge", "tray": "drying trays"}
EVENINGS_AT_MOST = 28
Worked = TypeVar("Worked")


@dataclass(frozen=True, slots=True)
class Stretch:
    """An amount of one lot in one room, from an evening up to one on which it is gone."""

    kind: str  # of the room
    site: str
    lot: LotFacts
    mg: int
    how: str  # there, put by, comes, likely
    since: date  # its first evening, or the day of the question
    until: date | None  # first evening without it; None: it stays
    source: str = ""  # who may bring what is only likely

    @property
    def guess(self) -> bool:
        return self.how == "likely"

    def holds_on(self, day: date) -> bool:
        return self.since <= day and (self.until is None or day < self.until)


@dataclass(frozen=True, slots=True)
class RoomEvening:
    """One room at the end of one day, in mg; what is only likely stands apart."""

    day: date
    holds_mg: int | None  # None: without limit
    there_mg: int
    put_by_mg: int
    comes_mg: int  # told of
    likely_mg: int  # not told of, likely come by then

    @property
    def sure_mg(self) -> int:
        return self.there_mg + self.put_by_mg + self.comes_mg

    @property
    def over_mg(self) -> int:
        """Over without anything that is a guess."""
        return 0 if self.holds_mg is None else max(0, self.sure_mg - self.holds_mg)

    @property
    def likely_over_mg(self) -> int:
        """Over if what is likely comes."""
        if self.holds_mg is None:
            return 0
        return max(0, self.sure_mg + self.likely_mg - self.holds_mg)

    def free_mg(self, *, likely: bool) -> int | None:
        """Room that is left, with what is likely or without; None: without limit."""
        if self.holds_mg is None:
            return None
        return max(0, self.holds_mg - self.sure_mg - (self.likely_mg if likely else 0))


@dataclass(frozen=True)
class Room:
    """All places of one kind at one site, evening by evening."""

    kind: str
    site: str
    places: tuple[str, ...]  # codes
    holds_mg: int | None
    evenings: tuple[RoomEvening, ...]
    stretches: tuple[Stretch, ...]

    @property
    def name(self) -> str:
        at = say(" at {site}", site=self.site) if self.site else ""
        return f"{NAMES[self.kind]}{at}"

    def on(self, day: date) -> RoomEvening:
        return self.evenings[(day - self.evenings[0].day).days]

    def inside(self, day: date) -> tuple[Stretch, ...]:
        return tuple(row for row in self.stretches if row.holds_on(day))


def rooms_of(facts: WeekFacts, answers: Iterable[Answer], *, until: datetime) -> tuple[Room, ...]:
    """Every room of a studio on each evening up to `until`, freezers first; at most 28 evenings.

    Parameters
    ----------
    answers : one a run; placed ones with what they take and the jobs they ask for
    """
    house = Rooms(facts, tuple(answers))
    today = local_day(facts.at, zone=facts.zone)
    last = local_day(until - timedelta(microseconds=1), zone=facts.zone)
    count = min(max(1, (last - today).days + 1), EVENINGS_AT_MOST)
    days = tuple(today + timedelta(n) for n in range(count))
    stretches: dict[tuple[str, str], list[Stretch]] = {}
    for row in house.stretches():
        stretches.setdefault((row.kind, row.site), []).append(row)
    return tuple(
        _room(house, kind, site, days, tuple(stretches.get((kind, site), ())))
        for kind in KINDS
        for site in house.sites[kind]
    )


def _room(
    house: Rooms, kind: str, site: str, days: tuple[date, ...], stretches: tuple[Stretch, ...]
) -> Room:
    places = [row for row in house.facts.shelf.cold_places if (row.kind, row.site) == (kind, site)]
    limits = [row.holds_mg for row in places]
    holds = None if None in limits else sum(mg for mg in limits if mg is not None)
    sums = {how: [0] * len(days) for how in ("there", "put by", "comes", "likely")}
    for row in stretches:
        first = max(0, (row.since - days[0]).days)
        end = len(days) if row.until is None else min(len(days), (row.until - days[0]).days)
        for n in range(first, end):
            later = n > first and not row.guess
            sums["there" if later else row.how][n] += row.mg
    evenings = tuple(
        RoomEvening(day, holds, *(sums[how][n] for how in ("there", "put by", "comes", "likely")))
        for n, day in enumerate(days)
    )
    return Room(kind, site, tuple(row.code for row in places), holds, evenings, stretches)


class Rooms:
    """Where each lot of a studio lies, goes and leaves, gathered once."""

    def __init__(self, facts: WeekFacts, answers: tuple[Answer, ...]) -> None:
        self.facts = facts
        self.today = local_day(facts.at, zone=facts.zone)
        self.known: dict[tuple[object, ...], Any] = {}
        self.dried = wanted_dried(facts)
        self.sites = {kind: _sites(facts, kind) for kind in KINDS}
        self.takes: dict[str, list[Take]] = {}
        self.jobs: dict[str, dict[str, Job]] = {}  # by lot and run
        for answer in answers:
            for take in answer.takes if answer.answer != "no" else ():
                self.takes.setdefault(take.source, []).append(take)
            for job in answer.jobs if answer.answer != "no" else ():
                if job.kind == "put by":
                    self.jobs.setdefault(job.lot, {})[job.run] = job

    def once(self, *key: object, work: Callable[[], Worked]) -> Worked:
        """What hangs on the facts alone, worked out the first time only."""
        if key not in self.known:
            self.known[key] = work()
        return cast("Worked", self.known[key])

    def stretches(self) -> Iterator[Stretch]:
        for lot in self.facts.shelf.lots:
            if lot.left_mg > 0:
                yield from self._of_lot(lot)
        for row in self.facts.pick_ups:
            if _may_come(row, self.facts):
                yield from self._of_pick_up(row)

    def _of_lot(self, lot: LotFacts) -> Iterator[Stretch]:
        """What is taken leaves on its day, part by part; the rest stays."""
        comes = self.comes_on(lot)
        kind = lot.stay.place_kind if comes is None else self.goes_to(lot)
        how, since = ("there", self.today) if comes is None else ("comes", comes)
        left, jobs = lot.left_mg, self.jobs.get(lot.code, {})
        for take in self.takes.get(lot.code, ()):
            used = local_day(take.at, zone=self.facts.zone)
            left -= take.amount
            job = jobs.get(take.run)
            put_by = "" if job is None else _room_of(job)
            if job is None or put_by == kind:
                yield from self._stretch(kind, lot, take.amount, how, since, used)
                continue
            yield from self._stretch(kind, lot, take.amount, how, since, job.by)
            yield from self._stretch(put_by, lot, take.amount, "put by", job.by, used)
        yield from self._stretch(kind, lot, left, how, since, None)

    def _of_pick_up(self, row: PickUpExpected) -> Iterator[Stretch]:
        day = local_day(row.at, zone=self.facts.zone)
        lot = as_lot(row)
        yield from self._stretch(
            self.goes_to(lot), lot, row.likely_mg, "likely", day, None, source=row.source
        )

    def _stretch(
        self,
        kind: str,
        lot: LotFacts,
        mg: int,
        how: str,
        since: date,
        until: date | None,
        *,
        source: str = "",
    ) -> Iterator[Stretch]:
        """One stretch in a room that the studio has; off the trays once it is dry."""
        site = self.site_of(lot, kind)
        if kind == "tray":
            dry = self._dry_on(lot, how, since)
            until = dry if until is None else min(until, dry)
        if site is not None and mg > 0 and (until is None or since < until):
            yield Stretch(kind, site, lot, mg, how, since, until, source)

    def _dry_on(self, lot: LotFacts, how: str, since: date) -> date:
        """The first day without it on the trays; what is dry or should be lies there tonight."""
        if how != "there":
            return since + timedelta(self.drying_days(lot.dyestuff))
        spread = local_day(lot.stay.since, zone=self.facts.zone)
        if lot.stay.state in ("fresh", "damp"):
            spread += timedelta(self.drying_days(lot.dyestuff))
        return max(spread, self.today + timedelta(1))

    def comes_on(self, lot: LotFacts) -> date | None:
        """The day on which a lot comes in; None when it is here."""
        if lot.arrives_at is None or lot.arrives_at <= self.facts.at:
            return None
        return local_day(lot.arrives_at, zone=self.facts.zone)

    def goes_to(self, lot: LotFacts) -> str:
        """The kind of room for what comes: where it is meant for frozen, else where it keeps."""
        if lot.stay.place_kind == "freezer":
            return "freezer"
        if lot.dyestuff in self.dried:
            airs = self.drying_days(lot.dyestuff) > 0 and lot.stay.state in ("fresh", "damp")
            return "tray" if self.sites["tray"] and airs else ""
        if self.sites["freezer"] and keeps_by_freezing(self.facts, lot.dyestuff, dried=self.dried):
            return "freezer"
        if lot.stay.place_kind in ("fridge", "tray"):
            return lot.stay.place_kind
        return "fridge" if self.sites["fridge"] and self._keeps_cold(lot.dyestuff) else ""

    def site_of(self, lot: LotFacts, kind: str) -> str | None:
        """The site whose room a lot goes to: its own, else one without a name, else the first."""
        sites = self.sites.get(kind, ())
        if not sites:
            return None
        if lot.site in sites:
            return lot.site
        return "" if "" in sites else sites[0]

    def drying_days(self, dyestuff: str) -> int:
        return drying_days(dyestuff, self.facts.figures, on=self.today)

    def _keeps_cold(self, dyestuff: str) -> bool:
        name = "keeps_fresh_fridge_days"
        return find_figure(self.facts.figures, dyestuff, name, on=self.today) is not None


def drying_days(dyestuff: str, figures: Figures, *, on: date) -> int:
    """Days on the trays until dry, whole ones, as the studio or the table has it."""
    found = find_figure(figures, dyestuff, "drying_days", on=on)
    row = found or figure(figures, "any dyestuff", "drying_days", on=on)
    return int(-(-row.value // 1))


def as_lot(row: PickUpExpected) -> LotFacts:
    """What may come, as the lot that it would be."""
    stay = Stay(row.at, "fresh", "", "bench")
    return LotFacts("", row.dyestuff, (stay,), row.likely_mg, source=row.source, arrives_at=row.at)


def _may_come(row: PickUpExpected, facts: WeekFacts) -> bool:
    told = row.confirmed_mg is not None
    return row.at > facts.at and not told and row.in_window and not row.missed


def _room_of(job: Job) -> str:
    return "tray" if job.what.startswith("dry ") else "freezer"


def _sites(facts: WeekFacts, kind: str) -> tuple[str, ...]:
    """Sites with a room of a kind, the studio's main one first."""
    found = {row.site for row in facts.shelf.cold_places if row.kind == kind}
    known = [site for site in facts.sites if site in found]
    return (*known, *sorted(found - set(known)))
