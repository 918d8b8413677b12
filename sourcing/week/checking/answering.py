"""The three answers mean what they say: yes, not yet with its date, no with what is lacking."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal

from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.sheet import Sheet, sites_of
from sourcing.week.facts import FastnessWish, Recipe, RunFacts
from sourcing.week.plan import Answer, Week

LATER = {"scour", "mordant", "tannin", "soak", "extract", "dye", "wet out"}


def faults_in_answers(week: Week, ground: Ground) -> Iterator[Fault]:
    """Each run is answered once, in one of the three words."""
    answered = [answer.run for answer in week.answers]
    for code in ground.runs:
        if answered.count(code) != 1:
            yield Fault("answer", code, None, f"answered {answered.count(code)} times")
    for answer in week.answers:
        if answer.run not in ground.runs:
            yield Fault("answer", answer.run, None, "nobody asked for this run")
            continue
        yield from _no(answer) if answer.answer == "no" else _placed(answer, week, ground)


def _no(answer: Answer) -> Iterator[Fault]:
    if answer.steps or answer.takes or answer.jobs:
        yield Fault("answer", answer.run, None, "no, but it takes pots, amounts or hands")
    if not (answer.short or answer.reasons):
        yield Fault("answer", answer.run, None, "no, but nothing is said to be lacking")
    for lack in answer.short:
        if lack.amount <= 0:
            yield Fault("answer", answer.run, None, f"short by {lack.amount} of {lack.what}")


def _placed(answer: Answer, week: Week, ground: Ground) -> Iterator[Fault]:
    run = ground.runs[answer.run]
    if answer.answer not in ("yes", "not yet"):
        yield Fault("answer", answer.run, None, f"{answer.answer} is no answer")
        return
    if answer.first_step_at is None:
        yield Fault("answer", answer.run, None, f"{answer.answer}, but no first step is given")
        return
    inside = week.at <= answer.first_step_at < week.until
    late = run.due is not None and answer.dry_at is not None and answer.dry_at > run.due
    if answer.late != late:
        yield Fault("answer", answer.run, answer.dry_at, f"late is said to be {answer.late}")
    if run.kept is not None and not run.group_block:
        return  # begun: gates and period are behind it
    if answer.answer == "yes":
        yield from _yes(answer, run, inside and not late, ground)
    elif inside and not late:
        yield Fault("answer", answer.run, answer.first_step_at, "not yet, but it fits in time")
    elif not answer.waits_for:
        yield Fault("answer", answer.run, answer.first_step_at, "not yet, but waits for nothing")
    if answer.short:
        yield Fault("answer", answer.run, None, f"{answer.answer}, but short")
    if len(sites_of(answer, ground)) > 1:
        yield Fault("site", answer.run, None, "steps at two sites")


def _yes(answer: Answer, run: RunFacts, in_time: bool, ground: Ground) -> Iterator[Fault]:
    if not in_time:
        yield Fault("answer", answer.run, answer.first_step_at, "yes, but outside the period")
    if answer.waits_for:
        yield Fault("answer", answer.run, None, "yes, but it waits")
    recipe = ground.recipes[run.recipe]
    for why in gates_shut(run, recipe, ground):
        yield Fault("gate", answer.run, None, why)


def gates_shut(run: RunFacts, recipe: Recipe, ground: Ground) -> Iterator[str]:
    """What bars a promise whatever is on the shelf."""
    if not run.group_block:
        card = run.shade_card
        if card is None or not card.exists or not card.approved:
            yield f"no approved shade card for {run.shade}"
    for wish in run.wishes:
        if not wish.accepted_in_writing and not _reading_meets(wish, ground):
            yield f"{wish.what} reading does not meet {wish.wanted}"
    if run.client:
        soon = [dose.what for dose in recipe.doses if dose.what in ground.facts.fugitive]
        if soon or recipe.fugitive:
            yield "soon fades: not for a client"
    if run.fibre not in recipe.fibres:
        yield f"{recipe.shade} is not worked out for {run.fibre}"
    yield from _water(recipe, ground)
    yield from _order(recipe)


def _reading_meets(wish: FastnessWish, ground: Ground) -> bool:
    if wish.reading is None or wish.reading < wish.wanted:
        return False
    begun = wish.begun_on
    return begun is None or ground.today >= begun + timedelta(days=wish.days)


def _water(recipe: Recipe, ground: Ground) -> Iterator[str]:
    low, high = recipe.ph_low or Decimal(0), recipe.ph_high or Decimal(14)
    if not recipe.water and recipe.ph_low is None and recipe.ph_high is None:
        return
    if not any(
        recipe.water in ("", row.name) and (row.ph is None or low <= row.ph <= high)
        for row in ground.facts.waters
    ):
        yield "the water is not the recipe's"


def _order(recipe: Recipe) -> Iterator[str]:
    kinds = [step.kind for step in recipe.steps]
    if "tannin" in kinds and "mordant" in kinds and kinds.index("tannin") > kinds.index("mordant"):
        yield "tannin stands after the mordant"
    for number, step in enumerate(recipe.steps):
        if step.metal == "iron" and LATER & set(kinds[number + 1 :]):
            yield "iron is not last"


def faults_in_moments(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """The first step said is the first step placed."""
    if sheet.run.group_block or not sheet.stages:
        return
    first = min(load.start for load in sheet.loads)
    said = sheet.answer.first_step_at
    if said is not None and minute_of(said) != first:
        yield Fault(
            "first step", sheet.code, said, f"the first step is {ground.moment(first):%a %d %H:%M}"
        )


def faults_in_metal(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """Metal baths only on aired days and not while children or a group are about."""
    for stage in sheet.stages:
        if not (stage.step.metal or stage.step.aired):
            continue
        for load in stage.loads:
            day = ground.weather.get(ground.day_of(load.start))
            if day is not None and not day.aired:
                yield Fault("aired", sheet.code, load.placed.start, f"{stage.step.name}: no air")
            for block in ground.facts.blocks:
                since, until = minute_of(block.since), minute_of(block.until)
                if stage.step.metal and block.no_iron and since < load.end and load.start < until:
                    yield Fault(
                        "group about",
                        sheet.code,
                        load.placed.start,
                        f"{stage.step.name} stands open during {block.what}",
                    )
