"""A bath that the studio makes itself is a step too: pot, ring, heat, somebody there."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.sheet import MAKES, as_load
from sourcing.week.facts import Making
from sourcing.week.plan import Placed, Week


def made_in(week: Week) -> tuple[Placed, ...]:
    """The loads of all baths made, wherever the plan lists them."""
    inside = [
        placed
        for answer in week.answers
        for placed in answer.steps
        if placed.step.startswith(MAKES)
    ]
    return (*inside, *(placed for placed in week.job_steps if placed not in inside))


def faults_in_making(jobs: tuple[Placed, ...], ground: Ground) -> Iterator[Fault]:
    """Heat, hours and hands of the baths that are made."""
    makings = {making.bath: making for making in ground.facts.makings}
    now = minute_of(ground.facts.at)
    for placed in jobs:
        making = makings.get(placed.step.removeprefix(MAKES))
        if making is None:
            yield Fault("bath", placed.run, placed.start, f"nobody knows how to {placed.step}")
            continue
        load = as_load(placed)
        vessel = ground.vessels.get(placed.vessel)
        site = vessel.site if vessel else ""
        if load.start < now and not _as_kept(placed, ground):
            yield Fault("past", placed.run, placed.start, f"{placed.step} begins in the past")
        if not ground.somebody_there(load.start, max(load.end, load.lit_until), site):
            yield Fault("attended", placed.run, placed.start, f"nobody is there to {placed.step}")
        if load.held_until < max(load.end, load.lit_until):
            yield Fault("held", placed.run, placed.start, f"{placed.vessel} is given up too soon")
        yield from _heated(placed, making, ground)
    yield from _hands(jobs, makings)


def _as_kept(placed: Placed, ground: Ground) -> bool:
    """Whether a bath is made for a run under way at the hour that was planned."""
    run = ground.runs.get(placed.run)
    kept = run.kept.steps if run is not None and run.kept is not None else ()
    return any((row.step, row.start) == (placed.step, placed.start) for row in kept)


def _heated(placed: Placed, making: Making, ground: Ground) -> Iterator[Fault]:
    vessel, ring = ground.vessels.get(placed.vessel), ground.rings.get(placed.ring)
    if vessel is None or ring is None or placed.vessel in ring.not_for:
        yield Fault("ring", placed.run, placed.start, f"{placed.step}: no ring takes the pot")
        return
    if vessel.iron_pot or vessel.food or placed.litres * 1000 > vessel.working_ml:
        yield Fault("pot", placed.run, placed.start, f"{placed.step} may not be in {vessel.code}")
    cold = ground.cold_water_c(vessel.site)
    warmth = 10 if cold is None else cold
    minutes = 0
    for heat in making.heats:
        begins = warmth if heat.start_c is None else heat.start_c
        kilowatts = Fraction(ring.watts, 1000) * ground.rules.efficiency
        rise = max(0, heat.goal_c - begins)
        exact = Fraction(placed.litres) * Fraction("4.186") * rise / (kilowatts * 60)
        minutes += int(exact + Fraction(1, 2))
        warmth = heat.goal_c
    hold = sum(heat.hold_min for heat in making.heats)
    if abs(placed.heat_min - minutes) > 1 or placed.hold_min != hold:
        yield Fault(
            "heat",
            placed.run,
            placed.start,
            f"{placed.step} is {placed.heat_min} + {placed.hold_min} min, not {minutes} + {hold}",
        )


def _hands(jobs: tuple[Placed, ...], makings: dict[str, Making]) -> Iterator[Fault]:
    together: dict[tuple[str, str], int] = {}
    for placed in jobs:
        key = (placed.run, placed.step)
        together[key] = together.get(key, 0) + placed.hands_min
    for (run, step), minutes in together.items():
        making = makings.get(step.removeprefix(MAKES))
        if making is not None and minutes % max(1, making.hands_min):
            yield Fault("hands of a job", run, None, f"{step} is charged {minutes} min of hands")
