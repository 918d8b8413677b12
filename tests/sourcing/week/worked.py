"""A week's answers shaped so that a test reads like the worked table: moments as `Mon 23 09:00`."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from inventory.science.figures import Figures
from sourcing.week.facts import DayHours, WeekFacts
from sourcing.week.plan import Answer, Placed, Week
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS, ZONE, own

# The answers of the worked week (13.6): answer, first step, dry.
THE_WEEK = {
    "F": "yes, Sat 28 10:00",
    "A": "yes, Mon 23 09:00, Sat 28 10:00",
    "C": "yes, Tue 24 14:00, Sun 29 11:00",
    "D": "yes, Mon 23 09:00, Thu 26 16:00",
    "E": "not yet, Mon 30 13:00, Thu 03 15:00",
    "G": "no",
    "B": "no",
}
ITS_HANDS = {
    "Mon 23": "225 of 360",
    "Tue 24": "312 of 600",
    "Wed 25": "0 of 0",
    "Thu 26": "200 of 600",
    "Fri 27": "118 of 360",
    "Sat 28": "240 of 240",
    "Sun 29": "0 of 0",
}


@dataclass(frozen=True)
class Told:
    """Everything that one answer says about hours and amounts."""

    answer: str
    first: str
    dry: str
    hung: str = ""
    steps: tuple[str, ...] = ()
    takes: tuple[str, ...] = ()
    jobs: tuple[str, ...] = ()
    short: tuple[str, ...] = ()
    waits: tuple[str, ...] = ()
    moved: tuple[str, ...] = ()


def week_of(facts: WeekFacts = FACTS, *, days: int = 7) -> Week:
    """The week's answer, after a look that no amount is taken twice."""
    week = project(facts, days=days)
    _nothing_twice(facts, week)
    return week


def _nothing_twice(facts: WeekFacts, week: Week) -> None:
    shelf = facts.shelf
    there = {row.code: row.left_mg for row in shelf.lots}
    there |= {row.code: row.left_mg for row in shelf.supplies}
    there |= {row.code: row.left_mg for row in shelf.fibre}
    there |= {row.code: row.left_ul for row in shelf.jars}
    there |= {row.code: row.left_ul for row in shelf.baths}
    for answer in week.answers:
        for take in answer.takes:
            there[take.source] -= take.amount
            assert there[take.source] == take.left_after >= 0, (answer.run, take)


def answer_for(week: Week, run: str) -> Answer:
    return next(answer for answer in week.answers if answer.run == run)


def told(week: Week, run: str, *, zone: ZoneInfo = ZONE) -> Told:
    """The whole answer of one run."""
    answer = answer_for(week, run)
    return Told(
        answer.answer,
        said(answer.first_step_at, zone),
        said(answer.dry_at, zone),
        said(answer.hung_at, zone),
        tuple(step_row(step, zone) for step in answer.steps),
        tuple(take_rows(answer)),
        tuple(f"{job.what}, {job.by:%a %d}, {job.hands_min} min" for job in answer.jobs),
        tuple(short_rows(answer)),
        tuple(_wait(row.kind, row.what, said(row.until, zone)) for row in answer.waits_for),
        tuple(row.what for row in answer.reasons if row.kind == "jar moved"),
    )


def brief(week: Week, *runs: str, zone: ZoneInfo = ZONE) -> dict[str, str]:
    """Answer, first step and dry moment by run, of those named or of all."""
    return {
        answer.run: _joined(answer.answer, said(answer.first_step_at, zone),
                            said(answer.dry_at, zone))
        for answer in week.answers
        if not runs or answer.run in runs
    }  # fmt: skip


def said(moment: datetime | None, zone: ZoneInfo = ZONE) -> str:
    return "" if moment is None else f"{moment.astimezone(zone):%a %d %H:%M}"


def step_row(step: Placed, zone: ZoneInfo = ZONE) -> str:
    """`scour 1 | P1 R1 | Mon 23 09:00 to Mon 23 10:48 | 30 min | 36 L | 1200 g | 8 to 55 °C, ...`

    The last part is start and goal in °C with the minutes of heating and of hold.
    """
    heat = f"{step.start_c} to {step.goal_c} °C, {step.heat_min} + {step.hold_min} min"
    parts = [
        f"{step.step} {step.load}",
        f"{step.vessel} {step.ring}".strip(),
        f"{said(step.start, zone)} to {said(step.end, zone)}",
        f"{step.hands_min} min",
        f"{plain(step.litres)} L" if step.litres else "",
        f"{plain(Decimal(step.weight_mg) / 1000)} g" if step.weight_mg else "",
        heat if step.ring else "",
    ]
    return " | ".join(part for part in parts if part)


def take_rows(answer: Answer) -> list[str]:
    """`AV-1116 1180 g, 0 left`."""
    return [
        f"{take.source} {_amount(take.amount, take.unit)}, {_number(take.left_after)} left"
        for take in answer.takes
    ]


def short_rows(answer: Answer) -> list[str]:
    """`dyestuff avocado stones 2034 g, 49 pieces`."""
    rows = []
    for row in answer.short:
        count = "" if row.pieces is None else f", {row.pieces} pieces"
        rows.append(f"{row.kind} {row.what} {_amount(row.amount, row.unit)}{count}")
    return rows


def rings(week: Week, ring: str, *, zone: ZoneInfo = ZONE) -> list[str]:
    """When a ring is lit, for which run and step, in which pot."""
    lit = [step for step in all_steps(week) if step.ring == ring]
    return [
        f"{step.run} {step.step} {step.vessel} {said(step.start, zone)} to {said(step.end, zone)}"
        for step in sorted(lit, key=lambda step: step.start)
    ]


def pots(week: Week, run: str, step: str) -> list[str]:
    """Vessels and litres of one step's loads: `P1 36`."""
    return [
        f"{row.vessel} {plain(row.litres)}"
        for row in answer_for(week, run).steps
        if row.step == step
    ]


def held(week: Week, run: str, step: str, *, zone: ZoneInfo = ZONE) -> list[str]:
    """Until when each vessel of a step is taken: `P1 Tue 24 09:00`."""
    return [
        f"{row.vessel} {said(row.held_until, zone)}"
        for row in answer_for(week, run).steps
        if row.step == step
    ]


def starts(week: Week, run: str, *, zone: ZoneInfo = ZONE) -> dict[str, str]:
    """First moment of each step of a run."""
    found: dict[str, str] = {}
    for row in answer_for(week, run).steps:
        found.setdefault(row.step, said(row.start, zone))
    return found


def hands(week: Week) -> dict[str, str]:
    """Hands used and there on each day: `225 of 360`."""
    return {f"{day.day:%a %d}": f"{day.hands_on_min} of {day.hands_available_min}"
            for day in week.days}  # fmt: skip


def line(week: Week, *, zone: ZoneInfo = ZONE) -> list[str]:
    """What hangs in kilos, from each moment at which it changes."""
    rows: list[str] = []
    before = ""
    for day in week.days:
        for load in day.line:
            kilos = plain(Decimal(load.mg) / 1_000_000)
            if kilos != before:
                rows.append(f"{said(load.since, zone)} {kilos}")
            before = kilos
    return rows


def all_steps(week: Week) -> Iterable[Placed]:
    """Every placed load once, those that prepare a group day too."""
    seen = {step for answer in week.answers for step in answer.steps}
    return sorted(seen | set(week.job_steps), key=lambda step: (step.start, step.vessel))


def reason_texts(week: Week, run: str, kind: str) -> list[str]:
    """The sentences of one kind of reason, waits among them, each once."""
    answer = answer_for(week, run)
    found = [row.text for row in (*answer.reasons, *answer.waits_for) if row.kind == kind]
    return list(dict.fromkeys(found))


def changed(code: str, field: str, facts: WeekFacts = FACTS, **new: object) -> WeekFacts:
    """The facts with one row of the shelf altered: `changed("J1", "jars", left_ul=0)`."""
    rows = getattr(facts.shelf, field)
    assert any(row.code == code for row in rows), code
    rows = tuple(replace(row, **new) if row.code == code else row for row in rows)
    return replace(facts, shelf=replace(facts.shelf, **{field: rows}))


def without(code: str, field: str, facts: WeekFacts = FACTS) -> WeekFacts:
    """The facts with one row of the shelf gone."""
    rows = getattr(facts.shelf, field)
    assert any(row.code == code for row in rows), code
    left = tuple(row for row in rows if row.code != code)
    return replace(facts, shelf=replace(facts.shelf, **{field: left}))


def run_changed(code: str, facts: WeekFacts = FACTS, /, **new: object) -> WeekFacts:
    """The facts with one wanted run altered."""
    assert any(run.code == code for run in facts.runs), code
    rows = tuple(replace(run, **new) if run.code == code else run for run in facts.runs)  # type: ignore[arg-type]
    return replace(facts, runs=rows)


def without_run(code: str, facts: WeekFacts = FACTS) -> WeekFacts:
    """The facts with one wish withdrawn."""
    assert any(run.code == code for run in facts.runs), code
    return replace(facts, runs=tuple(run for run in facts.runs if run.code != code))


def with_figure(item: str, name: str, value: str, facts: WeekFacts = FACTS) -> WeekFacts:
    """The facts with one figure of the studio's own, in place of the one it had."""
    rows = [row for row in facts.figures.rows if (row.item, row.name) != (item, name)]
    return replace(facts, figures=Figures((*rows, own(item, name, value))))


def with_hours(day: datetime, hands_min: int, facts: WeekFacts = FACTS, *, opens: int = 9,
               closes: int = 18) -> WeekFacts:  # fmt: skip
    """The facts with other hours on one day: 0 minutes of hands close it."""
    rows = [row for row in facts.hours if row.day != day.date()]
    if hands_min:
        rows.append(DayHours(day.date(), day.replace(hour=opens), day.replace(hour=closes),
                             hands_min))  # fmt: skip
    return replace(facts, hours=tuple(rows))


def recipe_changed(code: str, facts: WeekFacts = FACTS, **new: object) -> WeekFacts:
    """The facts with one recipe altered."""
    assert any(row.code == code for row in facts.recipes), code
    rows = tuple(replace(row, **new) if row.code == code else row for row in facts.recipes)  # type: ignore[arg-type]
    return replace(facts, recipes=rows)


def step_changed(recipe: str, step: str, facts: WeekFacts = FACTS, **new: object) -> WeekFacts:
    """The facts with one step of a recipe altered."""
    (found,) = [row for row in facts.recipes if row.code == recipe]
    assert any(row.name == step for row in found.steps), step
    steps = tuple(replace(row, **new) if row.name == step else row for row in found.steps)  # type: ignore[arg-type]
    return recipe_changed(recipe, facts, steps=steps)


def plain(number: Decimal) -> str:
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _amount(amount: int, unit: str) -> str:
    return f"{_number(amount)} {'g' if unit == 'mg' else 'mL'}"


def _number(amount: int) -> str:
    return plain(Decimal(amount) / 1000)


def _joined(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


def _wait(kind: str, what: str, until: str) -> str:
    return " ".join(part for part in (kind, what, until) if part)
