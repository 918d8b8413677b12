"""What will come: the pick-ups of the next weeks, and how much they will have brought by each day.

A forecast beside the shelf. What a source has told of counts on the shelf from its hour, so it is
listed here and is no part of what may still come.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from inventory.science.days import local_day
from sourcing.forecast.arriving import Arriving
from sourcing.forecast.facts import Stream
from sourcing.week.enough import MG_PER_GRAM, coming_of
from sourcing.week.facts import PickUpExpected, WeekFacts
from sourcing.week.plan import Answer

DAYS_SHOWN = 28  # four weeks, as far as a week's page can be asked for
DYESTUFFS_AT_MOST = 12  # worked out at once; another is asked for by its name
PICK_UPS_AT_MOST = 24  # listed of one dyestuff
THIN = 1  # visits up to which a source's own word decides
# That at most so much will have come; the first is "nine times in ten there is more".
LEVELS = (0.1, 0.25, 0.5, 0.75, 0.9)
SURELY = (0.5, 0.8, 0.95)


@dataclass(frozen=True, slots=True)
class ByDay:
    """What will have come by the end of a day, at each of LEVELS."""

    day: date
    mg: tuple[int, ...]

    @property
    def worst(self) -> int:
        return self.mg[0]

    @property
    def middle(self) -> int:
        return self.mg[len(self.mg) // 2]

    @property
    def most(self) -> int:
        return self.mg[-1]


@dataclass(frozen=True, slots=True)
class Wanting:
    """A run that is short of a dyestuff, and how surely what comes is enough for it."""

    run: str
    shade: str
    short_mg: int
    by: date
    chance: float  # 0 to 1, that enough has come by then
    days: tuple[tuple[float, date | None], ...]  # one of SURELY, and the first day that reaches it


@dataclass(frozen=True, slots=True)
class RestsOn:
    """What is known of one source of a dyestuff."""

    source: str
    visits: int  # on record, made or missed
    missed: int
    promised: bool  # it said what it would bring

    @property
    def thin(self) -> bool:
        """Whether the forecast rests more on its word than on what came."""
        return self.visits <= THIN

    @property
    def silent(self) -> bool:
        """Whether neither a word nor a visit says what it brings."""
        return not self.promised and self.visits == self.missed


@dataclass(frozen=True, slots=True)
class Coming:
    """One dyestuff: who brings it when, what will have come by when, who is short of it."""

    dyestuff: str
    pick_ups: tuple[PickUpExpected, ...]
    more: int  # pick-ups beyond those
    rests_on: tuple[RestsOn, ...]
    days: tuple[ByDay, ...]  # those on which something may come; empty: nothing can be said
    short: tuple[Wanting, ...]
    unweighed: bool = False  # it is counted, and nobody knows what a piece weighs

    @property
    def most_mg(self) -> int:
        """The widest that the period reaches."""
        return self.days[-1].most if self.days else 0


@dataclass(frozen=True, slots=True)
class AllComing:
    """Everything that is agreed, what runs are short of in front."""

    first: date
    last: date
    dyestuffs: tuple[Coming, ...]
    others: tuple[str, ...]  # agreed too, not worked out here
    agreed: tuple[str, ...]  # every dyestuff that some source gives, by name


def all_coming(facts: WeekFacts, answers: Iterable[Answer], *, gives: str = "") -> AllComing:
    """What will come of each dyestuff over DAYS_SHOWN days.

    Parameters
    ----------
    answers : of the week; what they are short of is set against what comes
    gives : one dyestuff alone; empty: as many as DYESTUFFS_AT_MOST

    One that no source gives is answered with no dyestuff at all.
    """
    first = local_day(facts.at, zone=facts.zone)
    last = first + timedelta(days=DAYS_SHOWN - 1)
    short = _shortages(answers)
    agreed = sorted({row.dyestuff for row in facts.pick_ups} | {row.gives for row in facts.streams})
    wanted = [gives] if gives in agreed else [] if gives else agreed
    ranked = sorted(wanted, key=lambda name: (name not in short, name))
    chosen = ranked[:DYESTUFFS_AT_MOST]
    return AllComing(
        first=first,
        last=last,
        dyestuffs=tuple(_coming(facts, name, short.get(name, []), last) for name in chosen),
        others=tuple(name for name in agreed if name not in chosen),
        agreed=tuple(agreed),
    )


def _shortages(answers: Iterable[Answer]) -> dict[str, list[tuple[Answer, int]]]:
    found: dict[str, list[tuple[Answer, int]]] = {}
    for answer in answers:
        for row in answer.short:
            if row.kind == "dyestuff" and row.amount > 0:
                found.setdefault(row.what, []).append((answer, row.amount))
    return found


def _coming(
    facts: WeekFacts, dyestuff: str, short: Iterable[tuple[Answer, int]], last: date
) -> Coming:
    streams = [row for row in facts.streams if row.gives == dyestuff]
    pick_ups = [
        row
        for row in facts.pick_ups
        if row.dyestuff == dyestuff and local_day(row.at, zone=facts.zone) <= last
    ]
    arriving = coming_of(facts, dyestuff)
    days = () if arriving is None else _days(arriving, last)
    return Coming(
        dyestuff=dyestuff,
        pick_ups=tuple(pick_ups[:PICK_UPS_AT_MOST]),
        more=max(len(pick_ups) - PICK_UPS_AT_MOST, 0),
        rests_on=tuple(_rests_on(row) for row in streams),
        days=days,
        short=() if arriving is None else _wanting(arriving, short, last),
        unweighed=bool(streams) and arriving is None,
    )


def _days(arriving: Arriving, last: date) -> tuple[ByDay, ...]:
    """Every day on which something may come; none where none ever brings anything."""
    found = tuple(
        ByDay(day, tuple(_to_the_gram(arriving.quantile(level, by=day)) for level in LEVELS))
        for day in arriving.days
        if day <= last
    )
    return found if found and found[-1].most > 0 else ()


def _to_the_gram(mg: float) -> int:
    """Finer than the forecast is, and than anybody weighs."""
    return round(mg / MG_PER_GRAM) * MG_PER_GRAM


def _wanting(
    arriving: Arriving, short: Iterable[tuple[Answer, int]], last: date
) -> tuple[Wanting, ...]:
    return tuple(
        Wanting(
            run=answer.run,
            shade=answer.shade,
            short_mg=mg,
            by=last,
            chance=arriving.chance(mg, by=last),
            days=tuple((surely, arriving.day_of(surely, need=mg)) for surely in SURELY),
        )
        for answer, mg in short
    )


def _rests_on(stream: Stream) -> RestsOn:
    return RestsOn(
        source=stream.source,
        visits=len(stream.visits),
        missed=sum(not visit.brought for visit in stream.visits),
        promised=bool(stream.promised_pieces or stream.promised_mg),
    )
