"""The largest weight of a run that is a yes in the period, proved by the whole week with it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from inventory.science.catalogue import figure
from inventory.science.saying import say
from sourcing.week.facts import WeekFacts
from sourcing.week.how_big.binding import Binding, bindings
from sourcing.week.how_big.reach import Reach, enough_for, reaches
from sourcing.week.how_big.search import largest
from sourcing.week.how_big.weighed import Weighed, weighed
from sourcing.week.plan import Answer, Week
from sourcing.week.project import HEAVIEST_RUN_MG, project
from sourcing.week.what_if.asked import CannotBe, changed
from sourcing.week.what_if.change import Fault, unknown
from sourcing.week.what_if.runs import OneRunMore

TOLD_FOR_MG = 1_000_000  # of a run that has no weight yet: how far things go is told for a kilo


@dataclass(frozen=True)
class HowBig:
    """How much of a run fits into the period, and what binds it."""

    run: str
    shade: str
    mg: int  # the largest that fits; 0: not even the smallest step does
    step_mg: int
    answer: Answer | None  # of the run at that weight; None where none fits
    binds: tuple[Binding, ...]  # what one step more would lack
    reaches: tuple[Reach, ...]  # how far each thing goes by itself, the tightest first
    reached_for_mg: int  # the weight that those are told for
    loses: tuple[str, ...] = ()  # runs that are a yes as things are, and none beside it


def how_big(facts: WeekFacts, run: OneRunMore, *, days: int, wish_mg: int | None = None) -> HowBig:
    """The largest weight of one run more.

    Parameters
    ----------
    run : its weight does not matter
    wish_mg : a weight for which it is told how far each thing goes; None: one step too much

    Raises
    ------
    CannotBe
        If no such run can be asked for.
    """
    then = changed(facts, [replace(run, mg=TOLD_FOR_MG)])
    return _how_big(then, run.run, facts, days=days, wish_mg=wish_mg)


def how_big_of(
    facts: WeekFacts, run: str, *, days: int, wish_mg: int | None = None
) -> HowBig:  # fmt: skip
    """The largest weight of a run that is wanted already.

    Raises
    ------
    CannotBe
        If no such run is wanted, or its weight is settled: it is begun, or a group's.
    """
    faults = list(_settled(facts, run))
    if faults:
        raise CannotBe([(0, fault) for fault in faults])
    return _how_big(facts, run, facts, days=days, wish_mg=wish_mg)


def _settled(facts: WeekFacts, code: str) -> Iterator[Fault]:
    yield from unknown("run", code, "run", (row.code for row in facts.runs))
    run = next((row for row in facts.runs if row.code == code), None)
    if run is not None and run.kept is not None:
        yield Fault("run", say("{run} is begun: its cloth is weighed out already.", run=code))
    if run is not None and run.group_block:
        yield Fault("run", say("{run} is a group's: so much as its people dye.", run=code))


def smallest_step_mg(facts: WeekFacts) -> int:
    """The smallest difference in weight that is of use, a rule of the studio."""
    today = facts.at.astimezone(facts.zone).date()
    grams = figure(facts.figures, "studio", "smallest_useful_g", on=today).value
    return max(1, round(grams * 1000))


def _how_big(
    facts: WeekFacts, code: str, before: WeekFacts, *, days: int, wish_mg: int | None
) -> HowBig:
    step = smallest_step_mg(facts)
    asked = weighed(facts, code, days=days)
    most = min(enough_for(asked), HEAVIEST_RUN_MG) // step

    def by_turn(steps: int) -> bool:
        return asked.at(steps * step)[0].answer == "yes"

    def by_week(steps: int) -> bool:
        return _answer(asked.week_at(steps * step), code).answer == "yes"

    mg = _proved(by_turn, by_week, most) * step
    told_for = wish_mg or max(mg + step, asked.run.weight_mg)
    return HowBig(
        code,
        asked.run.shade,
        mg,
        step,
        _answer(asked.week_at(mg), code) if mg else None,
        bindings(asked, mg + step) if mg + step <= HEAVIEST_RUN_MG else (),
        reaches(asked, told_for),
        told_for,
        _loses(asked, mg, before) if mg else (),
    )


def _proved(
    by_turn: Callable[[int], bool], by_week: Callable[[int], bool], most: int
) -> int:  # fmt: skip
    """Found at the run's turn and proved by its whole week, in which groups may change theirs."""
    found = largest(by_turn, most)
    if (not found or by_week(found)) and (found >= most or not by_week(found + 1)):
        return found
    return largest(by_week, most)


def _answer(week: Week, code: str) -> Answer:
    return next(row for row in week.answers if row.run == code)


def _loses(asked: Weighed, mg: int, before: WeekFacts) -> tuple[str, ...]:
    """Other runs that are a yes as things are, and none beside so much of this one."""
    were = {row.run for row in project(before, days=asked.days).answers if row.answer == "yes"}
    now = {row.run for row in asked.week_at(mg).answers if row.answer == "yes"}
    return tuple(run.code for run in before.runs if run.code in were - now - {asked.code})
