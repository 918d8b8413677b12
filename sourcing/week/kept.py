"""What was kept of a run when it was begun, and what of it is done, as frozen facts."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal

from sourcing.week.facts import Hanging
from sourcing.week.plan import Job, Placed, Take

LAID_OUT = "lay out"  # kind of a step: weighed out and put ready, each one's share by itself


@dataclass(frozen=True, slots=True)
class Done:
    """One thing said about a step: that it is done, and what went otherwise than planned."""

    step: str
    round: int
    load: int  # 0: every pot-load that was left
    at: datetime
    begun_at: datetime | None = None  # None: as planned
    vessel: str = ""  # empty: as planned; so with all that follows
    litres: Decimal | None = None
    weight_mg: int | None = None
    minutes: int | None = None  # of hands
    warmth_c: Decimal | None = None
    took: tuple[tuple[str, int], ...] = ()  # lot and mg or µL, in place of what was planned
    note: str = ""


@dataclass(frozen=True, slots=True)
class Kept:
    """The plan of a run as it was when the run was begun, and what is done of it since."""

    begun_at: datetime
    steps: tuple[Placed, ...]  # as planned, in order
    takes: tuple[Take, ...]
    hangs: tuple[Hanging, ...]  # one a round
    jobs: tuple[Job, ...] = ()
    done: tuple[Done, ...] = ()  # in the order in which it was done
    to_come: frozenset[str] = frozenset()  # lots that were not here yet, so nobody claimed them

    def done_of(self, row: Placed) -> Done | None:
        """What was said of a pot-load; None while it is not done."""
        for done in self.done:
            if (done.step, done.round) == (row.step, row.round) and done.load in (0, row.load):
                return done
        return None

    @property
    def as_done(self) -> tuple[Placed, ...]:
        """The steps, those that are done as they came out."""
        return tuple(as_it_was(row, self.done_of(row)) for row in self.steps)


def as_it_was(row: Placed, done: Done | None) -> Placed:
    """A planned pot-load as it came out; as planned while it is not done.

    A step that is over before it was to begin or on another day, and of which nobody said when it
    began, is taken to have been as long as planned. What stands unwatched goes on standing after
    it is put in.
    """
    if done is None:
        return row
    on_its_day = row.start <= done.at and row.start.date() == done.at.date()
    as_planned = row.start if on_its_day else done.at - (over_at(row) - row.start)
    if row.kind == LAID_OUT:
        as_planned = done.at  # it may be done at any hour of its day, and takes none of its own
    start = done.begun_at or as_planned
    end = max(done.at, start)
    if stands_unwatched(row):
        end = max(end, start + (row.end - row.start))
    return replace(
        row,
        vessel=done.vessel or row.vessel,
        litres=row.litres if done.litres is None else done.litres,
        weight_mg=row.weight_mg if done.weight_mg is None else done.weight_mg,
        hands_min=row.hands_min if done.minutes is None else done.minutes,
        start=start,
        end=end,
        held_until=max(row.held_until, end) if row.held_until > row.end else end,
        attended_until=None if row.attended_until is None else min(end, done.at),
        done_at=done.at,
    )


def stands_unwatched(row: Placed) -> bool:
    """Whether a step stands in its liquor without a flame once it is put in."""
    return not row.ring and row.attended_until is not None and row.attended_until < row.end


def over_at(row: Placed) -> datetime:
    """When a pot-load should be said to be done: put in, the flame out, or rinsed."""
    if stands_unwatched(row) and row.attended_until is not None:
        return row.attended_until
    return row.end
