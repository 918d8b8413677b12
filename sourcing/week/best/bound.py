"""What no week is better than, goal by goal: worked out from what every week has to keep."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from sourcing.week.best.amounts import all_open, most_saved
from sourcing.week.best.forms import Form, earliest, forms_of
from sourcing.week.best.goals import Goals, Measure
from sourcing.week.facts import RunFacts
from sourcing.week.gates import barred_by
from sourcing.week.moments import rounded_up
from sourcing.week.plan import Answer

Forms = Mapping[str, Sequence[Form]]


def all_forms(measure: Measure) -> Forms:
    """By run what it can be placed as; nothing where no gate or shelf lets it be placed at all.

    Begun runs and group days have none: they stand where they are.
    """
    with all_open(measure):
        shared = measure.pairs
        return {
            run.code: forms_of(run, measure, shared.steps_of(run.code))
            if _may_be_placed(run, measure)
            else ()
            for run in measure.desk.facts.runs
            if not run.group_block and run.kept is None
        }


def easy_bound(measure: Measure, forms: Forms, begun: Mapping[str, Answer]) -> Goals:
    """Each goal as if every run had the whole studio to itself."""
    soonest = {code: soonest_dry(rows, measure) for code, rows in forms.items()}
    runs = measure.desk.facts.runs
    could = could_be_on_time(forms, begun, measure)
    on_time = sum(run.weight_mg * measure.importance[run.code]
                  for run in runs if run.code in could)  # fmt: skip
    latest = measure.latest - measure.desk.now
    dry = 0
    for run in runs:
        if run.group_block:
            continue
        if run.code in begun:
            dry += measure.minutes_to_dry(begun[run.code])
        else:
            at = soonest[run.code]
            dry += latest if at is None else at - measure.desk.now
    return Goals(
        on_time, _most_saved(forms, begun, measure), 0, dry, max(measure.fixed.values(), default=0)
    )


def could_be_on_time(forms: Forms, begun: Mapping[str, Answer], measure: Measure) -> frozenset[str]:
    """Runs that are dry in time if they have the studio to themselves, and those that are so."""
    return frozenset(
        run.code for run in measure.desk.facts.runs if _could(run, forms, begun, measure)
    )


def _could(run: RunFacts, forms: Forms, begun: Mapping[str, Answer], measure: Measure) -> bool:
    if run.code in begun:
        return measure.on_time(run, begun[run.code])
    if run.group_block:
        return _may_be_placed(run, measure)
    at = soonest_dry(forms[run.code], measure)
    return at is not None and at <= measure.wanted_by(run)


def _may_be_placed(run: RunFacts, measure: Measure) -> bool:
    """Whether there is a recipe and no gate bars the run, whatever is on the shelf."""
    desk = measure.desk
    recipe = desk.recipes.get(run.recipe)
    return recipe is not None and not barred_by(run, recipe, desk.facts, today=desk.today)


def soonest_dry(forms: Iterable[Form], measure: Measure) -> int | None:
    """The minute before which a run is dry in no week at all; None: it cannot be placed."""
    desk, found = measure.desk, []
    for form in forms:
        starts = earliest(form.parts, desk.now, desk.placers[form.site].calendar)
        if starts is not None:
            hung = [
                rounded_up(start + part.minutes, desk.house.hangs_on)
                for start, part in zip(starts, form.parts, strict=True)
                if part.hangs_mg
            ]
            found.append(max(hung) + desk.house.drying)
    return min(found, default=None)


def _most_saved(forms: Forms, begun: Mapping[str, Answer], measure: Measure) -> int:
    """The most that can be used of lots that would be past: what is there, or what runs take."""
    desk = measure.desk
    wanted: dict[str, int] = {}
    for run in desk.facts.runs:
        if run.code not in begun and (forms.get(run.code) or run.group_block):
            recipe = desk.recipes.get(run.recipe)
            for what, mg in most_saved(run, recipe, desk.larder).items() if recipe else ():
                wanted[what] = wanted.get(what, 0) + mg
    lots: dict[str, int] = {}
    for lot in desk.facts.shelf.lots:
        if lot.code in measure.spoiling:
            lots[lot.dyestuff] = lots.get(lot.dyestuff, 0) + lot.left_mg
    by_begun = sum(take.amount for answer in begun.values() for take in answer.takes
                   if take.source in measure.spoiling)  # fmt: skip
    return by_begun + sum(min(mg, wanted.get(what, 0)) for what, mg in lots.items())


def with_on_time(bound: Goals, on_time: int) -> Goals:
    """A bound of which fibre on time is known better."""
    return replace(bound, on_time=min(bound.on_time, on_time))


def with_fullest_day(bound: Goals, minutes: int) -> Goals:
    """A bound of which the fullest day is known better, for weeks that meet all the rest of it."""
    return replace(bound, worst_day_min=max(bound.worst_day_min, minutes))


def with_dry(bound: Goals, dry_min: int) -> Goals:
    """A bound of which the sum of minutes until dry is known better."""
    return replace(bound, dry_min=max(bound.dry_min, dry_min))
