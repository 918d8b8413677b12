"""A run under way: its kept steps by the stage, what of them is done, and what has to move."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime
from fractions import Fraction

from inventory.science.days import local_day
from sourcing.week.carry import CARRY
from sourcing.week.desk import Desk
from sourcing.week.facts import Recipe, RunFacts
from sourcing.week.fits import Fit, PlacedLoad, Placement, Round
from sourcing.week.kept import Kept, over_at
from sourcing.week.loads import SNIPPET
from sourcing.week.moments import Calendar, minute_of
from sourcing.week.place import Placer
from sourcing.week.plan import Placed
from sourcing.week.stages import Option, Stage, stages_of

MAKES = "make "  # a bath that is made for a run


@dataclass(slots=True)
class Part:
    """One stage of a run with its pot-loads, those done as they came out."""

    rows: list[Placed]
    stage: Stage | None  # None where the recipe and the pots of today would do it otherwise

    @property
    def done(self) -> bool:
        return all(row.done_at is not None for row in self.rows)

    @property
    def touched(self) -> bool:
        return any(row.done_at is not None for row in self.rows)

    @property
    def start(self) -> datetime:
        return min(row.start for row in self.rows)

    @property
    def over(self) -> datetime:
        """When all of it should be said to be done."""
        return max(over_at(row) for row in self.rows)


@dataclass
class UnderWay:
    """One run that is begun, on the desk of a week."""

    run: RunFacts
    kept: Kept
    recipe: Recipe
    placer: Placer
    parts: list[Part]  # in order
    apart: list[Placed]  # baths made for it, snippets, what is fetched
    settled: int = 0  # parts that are done, under way or still to come at their kept hours
    late_since: datetime | None = None  # of the first part that moves
    placement: Placement | None = None  # of the parts that move
    not_before: dict[int, int] = field(default_factory=dict)  # by part: minute that it waits for
    warnings: list[str] = field(default_factory=list)

    @property
    def moves(self) -> bool:
        return self.settled < len(self.parts)


def under_way(run: RunFacts, recipe: Recipe, desk: Desk) -> UnderWay:
    """A begun run as it stands at the desk's moment."""
    assert run.kept is not None
    rows = [_with_those_begun(row, desk) for row in run.kept.as_done]
    apart = [row for row in rows if run.group_block or is_apart(row)]
    own = [row for row in rows if row not in apart]
    placer = _placer_of(own, desk)
    found = UnderWay(run, run.kept, recipe, placer, _parts(run, recipe, own, placer, desk), apart)
    _settle(found, desk)
    return found


def is_apart(row: Placed) -> bool:
    """Whether a step is none of the cloth's own: a snippet, a bath made, something fetched."""
    return row.kind in (SNIPPET, CARRY) or row.step.startswith(MAKES)


def _with_those_begun(row: Placed, desk: Desk) -> Placed:
    """A pot is shared with those that are begun as well; others are planned anew."""
    if not row.shared_with:
        return row
    begun = {run.code for run in desk.facts.runs if run.kept is not None}
    return replace(row, shared_with=tuple(code for code in row.shared_with if code in begun))


def _placer_of(rows: list[Placed], desk: Desk) -> Placer:
    """The site whose vessels a run uses; the first where it uses none."""
    used = {row.vessel for row in rows}
    placers = list(desk.placers.values())
    here = (p for p in placers if used & {vessel.code for vessel in p.room.vessels})
    return next(here, placers[0])


def _parts(
    run: RunFacts, recipe: Recipe, rows: list[Placed], placer: Placer, desk: Desk
) -> list[Part]:
    """A run's kept rows by the stage; without stages where these no longer fit the rows."""
    named = {row.step for row in rows}
    needed = [step for step in recipe.steps if step.name in named]
    stages = stages_of(run, recipe, needed, placer.room, desk.house)
    parts = _by_stage(rows, stages)
    told = sum(len(part.rows) for part in parts)
    if told == len(rows) and all(part.rows for part in parts):
        return parts
    by_round: dict[tuple[str, int], list[Placed]] = {}
    for row in rows:
        by_round.setdefault((row.step, row.round), []).append(row)
    return [Part(found, None) for found in by_round.values()]


def _by_stage(rows: list[Placed], stages: tuple[Stage, ...]) -> list[Part]:
    """The rows of each stage: the rounds of a step are numbered through its stages."""
    parts: list[Part] = []
    first: dict[str, int] = {}
    for stage in stages:
        name, since = stage.step.name, first.get(stage.step.name, 0)
        first[name] = until = since + (stage.options[0].rounds if stage.options else 1)
        last = stage.round_of[0] == stage.round_of[1]
        mine = [row for row in rows if row.step == name and since < row.round]
        parts.append(Part([row for row in mine if last or row.round <= until], stage))
    return parts


def _settle(found: UnderWay, desk: Desk) -> None:
    """Tell what stays where it is from what has to move, as it is late or cannot begin in time."""
    parts, now = found.parts, desk.calendar.moment(desk.now)
    first = max((n for n, part in enumerate(parts) if part.touched), default=-1) + 1
    for part in parts[:first]:
        part.rows = [_goes_on(row, now) for row in part.rows]
    found.settled = len(parts)
    if first == len(parts):
        return
    part = parts[first]
    late = part.over < now
    if part.stage is None or any(row.stage is None for row in parts):
        found.late_since = part.over if late else None
        return
    soonest = _soonest(part, part.stage, parts[:first], found)
    if late or (minute_of(part.start) < soonest and part.start > now):
        found.settled = first
        found.late_since = part.over if late else None


def _soonest(part: Part, stage: Stage, before: list[Part], found: UnderWay) -> int:
    """The first minute at which a part may begin after what is done, in the pots it was given."""
    fits = [settled_fit(row, found) for row in before]
    soonest = found.placer.released(fits[-1] if fits else None, stage)
    if stage.same:
        return soonest
    own = found.placer.own(fits, [], stage)
    return max([soonest, *(sum(own[row.vessel]) for row in part.rows if row.vessel in own)])


def _goes_on(row: Placed, now: datetime) -> Placed:
    """A pot-load beside one that is done: it is at it until it is said to be done."""
    if row.done_at is not None or row.end >= now:
        return row
    return replace(row, end=now, held_until=max(now, row.held_until))


def settled_fit(part: Part, found: UnderWay) -> Fit:
    """A part that is not moved any more, as the placer knows it; its hands are counted already."""
    stage = part.stage
    assert stage is not None
    by_round: dict[int, list[Placed]] = {}
    for row in part.rows:
        by_round.setdefault(row.round, []).append(row)
    rounds = [_round(rows, stage) for rows in by_round.values()]
    held = max(minute_of(row.held_until) for row in part.rows)
    free_at = max(held, rounds[-1].free_at)
    option = option_of(part, found, len(rounds))
    return Fit(stage, option, rounds, free_at, lifted=_lifted(part, found.placer.calendar))


def _lifted(part: Part, calendar: Calendar) -> int:
    """The minute at which the night of a step was over on a day before today, 0 if none was.

    The hours of such a day are not known any more, so it is as planned.
    """
    for row in part.rows:
        over = local_day(row.held_until, zone=calendar.zone)
        if row.done_at is None or over >= calendar.since:
            return 0
        if over <= local_day(row.end, zone=calendar.zone):
            return 0
    return max(minute_of(row.held_until) for row in part.rows)


def _round(rows: list[Placed], stage: Stage) -> Round:
    start = min(minute_of(row.start) for row in rows)
    end = max(minute_of(row.end) for row in rows)
    attended = max(minute_of(row.attended_until or row.end) for row in rows)
    free_at = end + stage.step.cool_min + stage.pause_after
    loads = tuple(
        PlacedLoad(row.vessel, row.ring, row.weight_mg, Fraction(row.litres) * 1000,
                   minute_of(row.end), row.heat_min)
        for row in rows if row.vessel
    )  # fmt: skip
    return Round(start, end, attended, free_at, loads, 0, 0)


def option_of(part: Part, found: UnderWay, rounds: int) -> Option | None:
    """The vessels that a part is or was held in."""
    codes = sorted({row.vessel for row in part.rows if row.vessel})
    holds = {vessel.code: vessel.working_ml for vessel in found.placer.room.vessels}
    if not codes or any(code not in holds for code in codes):
        return None
    return Option(rounds, tuple(codes), tuple(holds[code] for code in codes))
