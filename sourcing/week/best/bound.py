"""What no week is better than, goal by goal: worked out from what every week has to keep."""

from __future__ import annotations

from sourcing.week.best.goals import Goals, Measure
from sourcing.week.facts import RunFacts
from sourcing.week.gates import barred_by


def easy_bound(measure: Measure) -> Goals:
    """All that no gate bars is dry in time, all that would spoil is used, everything at once."""
    desk = measure.desk
    return Goals(
        sum(
            run.weight_mg * measure.importance[run.code]
            for run in desk.facts.runs
            if may_be_placed(run, measure)
        ),
        sum(measure.spoiling.values()),
        0,
        0,
        0,
    )


def may_be_placed(run: RunFacts, measure: Measure) -> bool:
    """Whether no gate bars a run, whatever is on the shelf."""
    desk = measure.desk
    recipe = desk.recipes.get(run.recipe)
    if recipe is None:
        return False
    if run.kept is not None and not run.group_block:
        return True
    return not barred_by(run, recipe, desk.facts, today=desk.today)
