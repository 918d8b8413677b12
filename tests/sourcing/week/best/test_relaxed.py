"""Weeks that were placed, each step put on its day in the model: every rule of it has to hold."""

from __future__ import annotations

import os
from collections.abc import Iterator

from sourcing.week.best.bound import all_forms
from sourcing.week.best.goals import Measure
from sourcing.week.best.relaxed import Cast, Relaxed
from sourcing.week.best.replaying import Replay
from sourcing.week.facts import WeekFacts
from sourcing.week.loads import SNIPPET
from sourcing.week.plan import Answer, Placed
from sourcing.week.project import worked_out
from sourcing.week.solving import Goal, Work, in_order
from sourcing.week.under_way import MAKES
from tests.benchmarks.placing import busy_studio
from tests.sourcing.week.random_studios import studio
from tests.sourcing.week.test_random_begun import with_begun

STUDIOS = range(1_000 if os.environ.get("DYE_LARDER_LONG") == "1" else 60)


def rounds_of(answer: Answer) -> list[Placed]:
    """The first pot-load of each round of each of a run's own steps, in order."""
    own = [row for row in answer.steps if row.kind != SNIPPET and not row.step.startswith(MAKES)]
    first: dict[tuple[str, int], Placed] = {}
    for row in own:
        first.setdefault((row.step, row.round), row)
    return list(first.values())


def on_its_days(relaxed: Relaxed, rows: list[Cast], answer: Answer) -> bool:
    """Put a placed run on its days; whether the model has it in the same rounds."""
    calendar, zone = relaxed.calendar, relaxed.measure.desk.facts.zone
    found = rounds_of(answer)
    days = [calendar.day_number_of(row.start.astimezone(zone).date()) for row in found]
    if [row.part.step for row in rows] != [row.step for row in found]:
        return False
    if max(days) >= relaxed.count:
        return False
    relaxed.model.cp.add(rows[0].days.present == 1)
    for row, day in zip(rows, days, strict=True):
        relaxed.model.cp.add(row.days.by(day) == 1)
        relaxed.model.cp.add(row.days.by(day - 1) == 0)
    return True


def in_the_model(facts: WeekFacts, days: int) -> tuple[int, bool]:
    """Runs of the plain week that were put on their days, and whether the model can be so."""
    replay = Replay(facts, days)
    measure = Measure(replay.desk)
    forms = all_forms(measure)
    _, answers, _ = worked_out(facts, days, turns=False)
    by_code = {answer.run: answer for answer in answers}
    replay.begin()
    by = dict.fromkeys(forms, measure.latest)
    relaxed = Relaxed(measure, forms, by, minutes=False, or_later=True)
    # A run that could be in several forms is left to the model.
    told = [rows for rows in relaxed.cast if len(forms[rows[0].form.run]) == 1]
    placed = [rows for rows in told if by_code[rows[0].form.run].dry_at is not None]
    put = sum(on_its_days(relaxed, rows, by_code[rows[0].form.run]) for rows in placed)
    goal = Goal("any", relaxed.model.yes_or_no("any"))
    return put, in_order(relaxed.model, [goal], Work(counted=5, seconds=120)).possible


def some_studios() -> Iterator[WeekFacts]:
    for number in STUDIOS:
        yield studio(number) if number % 3 else with_begun(number)[0]


def test_weeks_of_studios_by_chance_are_weeks_of_the_model() -> None:
    found = [in_the_model(facts, 7) for facts in some_studios()]

    assert sum(put for put, _ in found) > len(STUDIOS)
    assert [number for number, (_, possible) in enumerate(found) if not possible] == []


def test_a_crowded_week_is_a_week_of_the_model() -> None:
    """Eight pots and four rings, so that the openings of most days are full."""
    assert in_the_model(busy_studio(lots=60, runs=30), 7) == (30, True)
