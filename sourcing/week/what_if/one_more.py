"""A run looked at before it is wanted so: its answer, what it moves, and how much would do.

Nothing is written down; the week is worked out as it is and with the run in it.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer, Shortage, Week
from sourcing.week.project import project
from sourcing.week.what_if.asked import changed, week_if
from sourcing.week.what_if.cloth import with_cloth_only
from sourcing.week.what_if.moved import RunMoved, moved_runs
from sourcing.week.what_if.runs import AnotherDueDate, AnotherWeight, OneRunMore

MG_PER_GRAM = 1_000
# A weight that a kitchen scale is asked for: tens of grams below a kilo, fifties above.
STEPS_MG = ((1_000 * MG_PER_GRAM, 10 * MG_PER_GRAM), (None, 50 * MG_PER_GRAM))
LEAST_MG = 20 * MG_PER_GRAM  # less is a snippet


@dataclass(frozen=True, slots=True)
class Less:
    """A smaller weight of the same run that can be begun in the period, proved by placing it."""

    mg: int
    answer: Answer


@dataclass(frozen=True)
class Looked:
    """A week with a run in it that is otherwise than written down."""

    facts: WeekFacts  # with the run as it would be
    week: Week
    answer: Answer  # of the run
    others: tuple[RunMoved, ...]  # that would get another answer, other hours or other lots
    less: Less | None = None


def one_more(facts: WeekFacts, run: OneRunMore, *, days: int) -> Looked:
    """The week with one run more.

    Raises
    ------
    CannotBe
        If no such run can be asked for.
    """
    return _looked(facts, changed(facts, [run]), run.run, days=days)


def otherwise(
    facts: WeekFacts, changes: list[AnotherDueDate | AnotherWeight], *, run: str, days: int
) -> Looked:
    """The week with a run that is written down, of another weight or due at another moment.

    Raises
    ------
    CannotBe
        If the run cannot be so.
    """
    return _looked(facts, changed(facts, changes), run, days=days)


def as_it_is(facts: WeekFacts, *, run: str, days: int) -> Looked:
    """The week as it is, looked at from one run."""
    week = project(facts, days=days, unlocks=True)
    answer = next(row for row in week.answers if row.run == run)
    return Looked(facts, week, answer, (), _less(facts, answer, days=days))


def _looked(facts: WeekFacts, then: WeekFacts, run: str, *, days: int) -> Looked:
    week = with_cloth_only(project(then, days=days, unlocks=True), then)
    moved = moved_runs(project(facts, days=days), week, facts)
    answer = next(row for row in week.answers if row.run == run)
    others = tuple(row for row in moved if row.moved and row.run != run)
    return Looked(then, week, answer, others, _less(then, answer, days=days))


def _less(then: WeekFacts, answer: Answer, *, days: int) -> Less | None:
    """What there is enough for, where amounts are all that stands in the way."""
    run = next(row for row in then.runs if row.code == answer.run)
    if answer.answer == "yes" or not answer.short:
        return None
    parts = [_part_there(row, run.weight_mg, then, recipe=run.recipe) for row in answer.short]
    mg = _weighable(int(run.weight_mg * min(parts)))
    if mg < LEAST_MG:
        return None
    week = week_if(then, [AnotherWeight(run.code, mg)], days=days)
    found = next(row for row in week.answers if row.run == run.code)
    return Less(mg, found) if found.answer == "yes" else None


def _part_there(short: Shortage, weight_mg: int, facts: WeekFacts, *, recipe: str) -> Fraction:
    """Which part of what the run wants is there; nothing where we cannot say."""
    need = _need(short, weight_mg, facts, recipe=recipe)
    if need <= short.amount:
        return Fraction(0)
    return 1 - Fraction(short.amount) / need


def _need(short: Shortage, weight_mg: int, facts: WeekFacts, *, recipe: str) -> Fraction:
    """What the whole run wants of what it is short of, in mg or µL; of fibre its dry weight."""
    if short.kind == "fibre":
        return Fraction(weight_mg)
    doses = next((row.doses for row in facts.recipes if row.code == recipe), ())
    # A liquor is short in its jar, and a recipe takes one liquor at most.
    liquor = short.kind == "liquor"
    wanted = [dose for dose in doses if dose.what == short.what or (liquor and dose.ml_per_100g)]
    per_mg = sum((dose.per_fibre for dose in wanted), Fraction(0))
    # mL per 100 g and L per kg are µL per mg but for a factor: 1 mL per 100 g is 0.01 µL per mg.
    per_mg += sum((Fraction(dose.ml_per_100g) / 100 for dose in wanted), Fraction(0))
    per_mg += sum((Fraction(dose.l_per_kg) for dose in wanted), Fraction(0))
    return per_mg * weight_mg


def _weighable(mg: int) -> int:
    """Rounded down to what somebody would weigh out."""
    step = next(step for below, step in STEPS_MG if below is None or mg < below)
    return mg // step * step
