"""Ways to break the good plan of Pellitory Yard, one rule at a time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

from inventory.science.figures import Figure, Figures
from sourcing.week.checking import check
from sourcing.week.facts import Recipe, Step, WeekFacts
from sourcing.week.plan import Answer, Placed, Week
from tests.sourcing.week.pellitory import FACTS
from tests.sourcing.week.pellitory_plan import WEEK


def kinds(facts: WeekFacts = FACTS, week: Week = WEEK) -> set[str]:
    """The rules that the checker says are broken."""
    return {fault.kind for fault in check(facts, week)}


def texts(kind: str, facts: WeekFacts = FACTS, week: Week = WEEK) -> list[str]:
    """What the checker says about one rule."""
    return [fault.text for fault in check(facts, week) if fault.kind == kind]


# -- the plan --------------------------------------------------------------------------------


def with_answer(run: str, week: Week = WEEK, **changes: Any) -> Week:
    """The plan with one answer changed."""
    answers = tuple(
        replace(answer, **changes) if answer.run == run else answer for answer in week.answers
    )
    return replace(week, answers=answers)


def answer_of(run: str, week: Week = WEEK) -> Answer:
    return next(answer for answer in week.answers if answer.run == run)


def with_step(run: str, step: str, week: Week = WEEK, *, load: int = 1, **changes: Any) -> Week:
    """The plan with one load changed."""

    def changed(placed: Placed) -> Placed:
        hit = (placed.step, placed.load) == (step, load)
        return replace(placed, **changes) if hit else placed

    return with_answer(run, week, steps=tuple(map(changed, answer_of(run, week).steps)))


def without_step(run: str, step: str, week: Week = WEEK) -> Week:
    steps = tuple(placed for placed in answer_of(run, week).steps if placed.step != step)
    return with_answer(run, week, steps=steps)


def later(run: str, step: str, minutes: int, week: Week = WEEK) -> Week:
    """The plan with one step moved, its takes with it; pots are held as long as before."""
    by = timedelta(minutes=minutes)
    answer = answer_of(run, week)
    steps = tuple(
        replace(placed, start=placed.start + by, end=placed.end + by)
        if placed.step == step
        else placed
        for placed in answer.steps
    )
    takes = tuple(
        replace(take, at=take.at + by) if take.step == step else take for take in answer.takes
    )
    return with_answer(run, week, steps=steps, takes=takes)


def with_take(
    run: str, source: str, week: Week = WEEK, *, source_: str = "", **changes: Any
) -> Week:
    """The plan with one take changed; `source_` is the lot or jar that it is from instead."""
    changes = {**changes, **({"source": source_} if source_ else {})}
    takes = tuple(
        replace(take, **changes) if take.source == source else take
        for take in answer_of(run, week).takes
    )
    return with_answer(run, week, takes=takes)


def with_day(number: int, week: Week = WEEK, **changes: Any) -> Week:
    """The plan with the row of one day changed, 0 for Monday."""
    days = list(week.days)
    days[number] = replace(days[number], **changes)
    return replace(week, days=tuple(days))


def hung(run: str, at: datetime, week: Week = WEEK) -> Week:
    """The plan with a run's cloth hung at another moment, dry 48 hours later."""
    return with_answer(run, week, hung_at=at, dry_at=at + timedelta(hours=48))


# -- the facts -------------------------------------------------------------------------------


def on_shelf(kind: str, code: str, facts: WeekFacts = FACTS, **changes: Any) -> WeekFacts:
    """The facts with one thing of the shelf changed: `kind` is lots, jars, vessels, ..."""
    rows = tuple(
        replace(row, **changes) if row.code == code else row for row in getattr(facts.shelf, kind)
    )
    return replace(facts, shelf=replace(facts.shelf, **{kind: rows}))


def with_figure(item: str, name: str, value: str, facts: WeekFacts = FACTS) -> WeekFacts:
    """The facts with one rule of the studio changed."""
    kept = tuple(row for row in facts.figures.rows if (row.item, row.name) != (item, name))
    mine = Figure(item, name, Decimal(value), basis="measured here", own=True)
    return replace(facts, figures=Figures((mine, *kept)))


def with_recipe(
    code: str, change: Callable[[Recipe], Recipe], facts: WeekFacts = FACTS
) -> WeekFacts:
    recipes = tuple(change(row) if row.code == code else row for row in facts.recipes)
    return replace(facts, recipes=recipes)


def in_recipe(code: str, step: str, facts: WeekFacts = FACTS, **changes: Any) -> WeekFacts:
    """The facts with one step of a recipe changed."""

    def changed(row: Step) -> Step:
        return replace(row, **changes) if row.name == step else row

    return with_recipe(
        code, lambda recipe: replace(recipe, steps=tuple(map(changed, recipe.steps))), facts
    )


def with_dose(code: str, dosed: str, facts: WeekFacts = FACTS, **changes: Any) -> WeekFacts:
    """The facts with one dose of a recipe changed."""

    def changed(recipe: Recipe) -> Recipe:
        return replace(
            recipe,
            doses=tuple(
                replace(dose, **changes) if dose.what == dosed else dose for dose in recipe.doses
            ),
        )

    return with_recipe(code, changed, facts)


def with_run(code: str, facts: WeekFacts = FACTS, **changes: Any) -> WeekFacts:
    runs = tuple(replace(run, **changes) if run.code == code else run for run in facts.runs)
    return replace(facts, runs=runs)


def open_on(number: int, facts: WeekFacts = FACTS, **changes: Any) -> WeekFacts:
    """The facts with the hours of one open day changed, 0 for Monday, 2 for Thursday."""
    hours = list(facts.hours)
    hours[number] = replace(hours[number], **changes)
    return replace(facts, hours=tuple(hours))
