"""Guidances made up by chance, and what each makes of a studio's week."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from sourcing.week.best.goals import Goals, Measure
from sourcing.week.best.replaying import Replay
from sourcing.week.guidance import Floor, Guidance


def some_guidances(measure: Measure, count: int, *, seed: int) -> Iterator[Guidance]:
    """Orders shuffled at will, with up to six steps that wait for one of the next openings."""
    dice, facts = Random(seed), measure.desk.facts
    codes = sorted(run.code for run in facts.runs)
    recipes = {run.code: measure.desk.recipes[run.recipe] for run in facts.runs}
    opens = [row.opens for row in measure.desk.calendar.openings[:14]]
    for _ in range(count):
        order = tuple(dice.sample(codes, len(codes)))
        floors: dict[tuple[str, str], Floor] = {}
        for _ in range(dice.randint(0, 6) if opens else 0):
            code = dice.choice(codes)
            name = dice.choice(recipes[code].steps).name
            floors[code, name] = Floor(code, name, dice.choice(opens))
        yield Guidance(order, tuple(floors[key] for key in sorted(floors)))


def over_the_bound(goals: Goals, bound: Goals) -> list[str]:
    """Goals in which a week is better than the bound says that any can be.

    The fullest day is bound only among weeks that meet the bound in all goals before it.
    """
    rest_met = goals.rank[:-1] == bound.rank[:-1]
    return [
        name
        for name, over in (
            ("on_time", goals.on_time > bound.on_time),
            ("saved_mg", goals.saved_mg > bound.saved_mg),
            ("dry_min", goals.dry_min < bound.dry_min),
            ("worst_day_min", rest_met and goals.worst_day_min < bound.worst_day_min),
        )
        if over
    ]


def goals_of(guidance: Guidance, replay: Replay, measure: Measure) -> Goals:
    return measure.goals(replay.place(guidance))
