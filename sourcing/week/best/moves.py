"""Other guidances near one: a run sooner in the order, a step that waits, a floor taken away."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from sourcing.week.best.goals import Goals, Measure
from sourcing.week.best.seeking import Tried
from sourcing.week.facts import RunFacts
from sourcing.week.guidance import Floor, Guidance
from sourcing.week.moments import Calendar, minute_of
from sourcing.week.plan import Answer

OPENINGS_LATER = 3  # how many openings later a step is tried


def mending(
    tried: Tried, measure: Measure, bound: Goals, could: frozenset[str]
) -> Iterator[Guidance]:
    """Guidances that may mend what is amiss in a week, the most useful first.

    Parameters
    ----------
    bound : goals that no week is better than; what is met is not amiss
    could : runs that could be dry in time with the studio to themselves
    """
    base = replace(tried.guidance, order=tuple(full_order(tried.guidance, measure)))
    late = _late(tried, measure, could) if tried.goals.on_time < bound.on_time else []
    for run in late:
        yield from _sooner(base, run.code)
    for code in _spoils(tried, measure) if tried.goals.saved_mg < bound.saved_mg else ():
        yield from _sooner(base, code)
    for run in late:
        yield from _others_wait(base, run, tried, measure)
    for floor in base.floors:
        yield without_floor(base, floor)


def full_order(guidance: Guidance, measure: Measure) -> list[str]:
    """Every run that can be moved, in the order of a guidance."""
    runs = guidance.in_turn(measure.desk.facts.runs)
    return [run.code for run in runs if run.kept is None or run.group_block]


def _late(tried: Tried, measure: Measure, could: frozenset[str]) -> list[RunFacts]:
    """Runs that could be dry in time and are not, those that count most first."""
    found = [
        run
        for run in measure.desk.facts.runs
        if run.code in could and not measure.on_time(run, tried.answers[run.code])
    ]
    return sorted(found, key=lambda run: (-run.weight_mg * measure.importance[run.code], run.code))


def _spoils(tried: Tried, measure: Measure) -> list[str]:
    """Runs that want a dyestuff of which a lot would be past while it is not used up."""
    facts, used = measure.desk.facts, dict[str, int]()
    for answer in tried.answers.values():
        for take in answer.takes:
            used[take.source] = used.get(take.source, 0) + take.amount
    lots = {lot.code: lot.dyestuff for lot in facts.shelf.lots}
    going = {lots[code] for code, mg in measure.spoiling.items() if used.get(code, 0) < mg}
    recipes = {row.code for row in facts.recipes if any(dose.what in going for dose in row.doses)}
    return sorted(run.code for run in facts.runs if run.recipe in recipes and run.kept is None)


def _sooner(base: Guidance, code: str) -> Iterator[Guidance]:
    """A run at each earlier place, the very first one in front, the nearest next."""
    if code not in base.order:
        return
    place = base.order.index(code)
    for other in [0, *range(place - 1, 0, -1)][:place]:
        yield moved(base, place, other)


def moved(base: Guidance, place: int, to: int) -> Guidance:
    """A guidance with the run at one place of the order at another."""
    order = list(base.order)
    order.insert(to, order.pop(place))
    return replace(base, order=tuple(order))


def _others_wait(
    base: Guidance, run: RunFacts, tried: Tried, measure: Measure
) -> Iterator[Guidance]:
    """Another run's steps later, so that one that is late may have their pots, hands and line."""
    front = base
    if run.code in base.order:
        front = moved(base, base.order.index(run.code), 0)
    for code in base.order:
        if code != run.code:
            for guidance in (base, front):
                yield from _later(guidance, tried.answers[code], measure)


def _later(base: Guidance, answer: Answer, measure: Measure) -> Iterator[Guidance]:
    """A run's first step, last step, or one between, not before one of the next openings."""
    starts: dict[str, int] = {}
    for row in answer.steps:
        if not row.step.startswith("make "):
            starts.setdefault(row.step, minute_of(row.start))
    names = list(starts)
    for name in dict.fromkeys((*names[:1], *names[-1:], *names[1:-1])):
        for opens in next_openings(measure.desk.calendar, starts[name], OPENINGS_LATER):
            yield with_floor(base, Floor(answer.run, name, opens))


def with_floor(base: Guidance, floor: Floor) -> Guidance:
    """A guidance with a step that waits, in the place of an older floor of that step."""
    kept = [row for row in base.floors if (row.run, row.step) != (floor.run, floor.step)]
    return replace(base, floors=tuple(sorted((*kept, floor), key=_by_run)))


def without_floor(base: Guidance, floor: Floor) -> Guidance:
    """A guidance in which a step waits no more."""
    return replace(base, floors=tuple(row for row in base.floors if row is not floor))


def _by_run(floor: Floor) -> tuple[str, str, int]:
    return floor.run, floor.step, floor.not_before


def next_openings(calendar: Calendar, minute: int, count: int) -> list[int]:
    """When it opens next after a minute, so many times."""
    first = calendar.open_index(minute)
    rows = calendar.openings[first : first + count + 1]
    return [row.opens for row in rows if row.opens > minute][:count]


def in_own_pots(tried: Tried, measure: Measure, runs: Iterable[str]) -> Guidance | None:
    """A guidance in which steps wait until the pot of the step before them is free again.

    Where a run goes on in another pot it holds two, and in the morning that keeps a third from
    whoever would let cloth stand in it overnight. None: every step waits already.
    """
    found, pause = tried.guidance, measure.desk.house.between_steps
    for code in runs:
        rows = [row for row in tried.answers[code].steps if row.run == code and row.vessel]
        for before, row in pairwise(rows):
            free = minute_of(before.held_until) + pause
            moves = row.vessel != before.vessel and before.held_until == before.end
            if moves and 0 < free - minute_of(row.start) <= pause:
                found = with_floor(found, Floor(code, row.step, free))
    return None if found == tried.guidance else found
