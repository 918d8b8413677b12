"""The plan that a run was begun with: kept in rows, read back as frozen facts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid5
from zoneinfo import ZoneInfo

from django.db.models import QuerySet

from inventory.models import Lot, Studio
from inventory.science.saying import say
from sourcing.gather import Cells
from sourcing.models import (
    KeptPlan,
    KeptStep,
    KeptTake,
    NotBegun,
    Run,
    StepDone,
    StepNotDone,
)
from sourcing.week.carry import CARRY, carry_step
from sourcing.week.facts import Hanging
from sourcing.week.kept import Done, Kept
from sourcing.week.plan import Answer, Job, Placed, Take

Rows = Mapping[str, Sequence[Cells]]
UL_PER_L = 1_000_000
WHOLE_MINUTE = timedelta(minutes=1)


def kept_queries(studio: Studio, runs: QuerySet[Any]) -> dict[str, QuerySet[Any]]:
    """The queries of what such runs have kept and of what of it is done."""
    plans = holding(studio).filter(run__in=runs.values("pk")).order_by()
    keys = plans.values("pk")
    return {
        "kept_plans": plans,
        "kept_steps": KeptStep.objects.of(studio).filter(plan__in=keys),
        "kept_takes": KeptTake.objects.of(studio).filter(plan__in=keys),
        "steps_done": done_steps(studio).filter(plan__in=keys).order_by(),
    }


def holding(studio: Studio) -> QuerySet[KeptPlan]:
    """Plans that hold: their runs were begun, and not by mistake."""
    mistaken = NotBegun.objects.of(studio).order_by().values("plan")
    return KeptPlan.objects.of(studio).exclude(pk__in=mistaken)


def done_steps(studio: Studio) -> QuerySet[StepDone]:
    """What was said to be done, and not taken back."""
    mistaken = StepNotDone.objects.of(studio).order_by().values("done")
    return StepDone.objects.of(studio).exclude(pk__in=mistaken)


def keep_answer(
    studio: Studio, run: Run, answer: Answer, *, entry: UUID, at: datetime, by_step: bool
) -> KeptPlan:
    """Rows of a run's plan as an answer has it."""
    sources = [take.source for take in answer.takes]
    here = set(Lot.objects.of(studio).filter(code__in=sources).values_list("code", flat=True))
    plan = KeptPlan.objects.of(studio).create(
        run=run,
        entry=entry,
        begun_at=at,
        by_step=by_step,
        hangs=[[h.line, h.since.isoformat(), h.until.isoformat(), h.mg] for h in answer.hangs],
        jobs=[
            [job.what, job.by.isoformat(), job.text, job.hands_min, job.kind, job.lot]
            for job in answer.jobs
        ],
    )
    steps = [_step_row(plan, number, row) for number, row in enumerate(answer.steps, 1)]
    KeptStep.objects.of(studio).bulk_create(steps)
    takes = [_take_row(plan, number, row, here) for number, row in enumerate(answer.takes, 1)]
    KeptTake.objects.of(studio).bulk_create(takes)
    return plan


def keep_bath_made(
    studio: Studio, run: Run, what: str, *, entry: UUID, at: datetime, volume_ul: int
) -> None:
    """A bath that a run's plan has to be made is made; nothing where it has none left to make."""
    plan = holding(studio).filter(run=run).order_by("id").last()
    if plan is None:
        return
    step = str(say("make {bath}", bath=what))
    planned = KeptStep.objects.of(studio).filter(plan=plan, step=step).order_by("number").first()
    if planned is None or done_steps(studio).filter(plan=plan, step=step).exists():
        return
    StepDone.objects.of(studio).create(
        plan=plan, entry=entry, step=step, round=planned.round, at=at, volume_ul=volume_ul
    )


def keep_way_done(
    studio: Studio, run: Run, lot: str, site: str, *, entry: UUID, at: datetime, left: Set[str]
) -> None:
    """A thing was put by at a run's site by hand: its way is done once all of it is there.

    Nothing where the run's plan has no such way, or it was said to be done.

    Parameters
    ----------
    left : lots of which something is still promised to the run where they were
    """
    plan = holding(studio).filter(run=run).order_by("id").last()
    rows = KeptTake.objects.of(studio).filter(plan=plan, carried_to=site, unit="mg")
    ways = {(row.carried_from, row.carried_round) for row in rows.filter(lot_code=lot)}
    if plan is None or not ways:
        return
    for site_from, number in ways:
        along = rows.filter(carried_from=site_from, carried_round=number)
        step = str(carry_step(site_from))
        done = done_steps(studio).filter(plan=plan, step=step, round=number)
        if not done.exists() and not left & set(along.values_list("lot_code", flat=True)):
            StepDone.objects.of(studio).create(
                plan=plan,
                entry=uuid5(entry, f"way:{site_from}:{number}"),
                step=step,
                round=number,
                at=at,
            )


def _step_row(plan: KeptPlan, number: int, row: Placed) -> KeptStep:
    same = ("step", "kind", "round", "load", "vessel", "ring", "held_until", "attended_until",
            "hands_min", "weight_mg", "heat_min", "hold_min", "start_c", "goal_c")  # fmt: skip
    return KeptStep(
        plan=plan,
        number=number,
        since=row.start,
        until=row.end,
        volume_ul=round(row.litres * UL_PER_L),
        shared_with=list(row.shared_with),
        **{name: getattr(row, name) for name in same},
    )


def _take_row(plan: KeptPlan, number: int, row: Take, here: set[str]) -> KeptTake:
    same = ("step", "what", "amount", "unit", "at", "left_after", "length_mm", "carried_from",
            "carried_to", "carried_round")  # fmt: skip
    return KeptTake(
        plan=plan,
        number=number,
        lot_code=row.source,
        to_come=row.source not in here,
        **{name: getattr(row, name) for name in same},
    )


def kept_in(
    rows: Rows, codes: Mapping[int, str], zone: ZoneInfo, *, at: datetime
) -> dict[int, Kept]:
    """What each run has kept by a moment, by the run's key.

    Parameters
    ----------
    rows : what `kept_queries` found
    codes : the runs' codes by their keys
    at : what was begun or done after it was not yet; the whole minute is its own
    """
    until = at + WHOLE_MINUTE
    steps, takes = (_by_plan(rows[name], "number") for name in ("kept_steps", "kept_takes"))
    done = _by_plan([row for row in rows["steps_done"] if row["at"] < until], "at")
    return {
        row["run_id"]: _Reading(codes[row["run_id"]], zone).kept(
            row, steps.get(row["id"], []), takes.get(row["id"], []), done.get(row["id"], [])
        )
        for row in rows["kept_plans"]
        if row["begun_at"] < until
    }


def _by_plan(rows: Sequence[Cells], order: str) -> dict[int, list[Cells]]:
    found: dict[int, list[Cells]] = {}
    for row in sorted(rows, key=lambda row: (row["plan_id"], row[order], row["id"])):
        found.setdefault(row["plan_id"], []).append(row)
    return found


def numbered_through(loads: Sequence[tuple[str, int, int]]) -> list[int]:
    """The rounds of a plan's pot-loads, so that no two of a step go by the same numbers.

    Plans that were kept before rounds were numbered through a step begin at 1 again with each
    cloth that goes in; theirs go on from the highest before.

    Parameters
    ----------
    loads : step, round and pot-load of each row, in the order of the plan

    Examples
    --------
    >>> numbered_through([("scour", 1, 1), ("scour", 1, 2), ("scour", 2, 1)])
    [1, 1, 2]
    >>> numbered_through([("dye", 1, 1), ("dye", 2, 1), ("rinse", 1, 1), ("dye", 1, 1)])
    [1, 2, 1, 3]
    """
    found, seen = [], set()
    before: dict[str, int] = {}  # rounds of the step that came before this cloth's
    highest: dict[str, int] = {}
    for step, round, load in loads:
        if (step, before.get(step, 0) + round, load) in seen:
            before[step] = highest[step]
        number = before.get(step, 0) + round
        seen.add((step, number, load))
        highest[step] = max(number, highest.get(step, 0))
        found.append(number)
    return found


class _Reading:
    """The rows of one run's plan into facts, in the studio's own hours."""

    def __init__(self, run: str, zone: ZoneInfo) -> None:
        self.run, self.zone = run, zone

    def kept(self, plan: Cells, steps: list[Cells], takes: list[Cells], done: list[Cells]) -> Kept:
        rounds = numbered_through([(row["step"], row["round"], row["load"]) for row in steps])
        return Kept(
            begun_at=self._local(plan["begun_at"]),
            steps=tuple(
                replace(self._step(row), round=number)
                for row, number in zip(steps, rounds, strict=True)
            ),
            takes=tuple(self._take(row) for row in takes),
            hangs=tuple(self._hanging(row) for row in plan["hangs"]),
            jobs=tuple(self._job(row) for row in plan["jobs"]),
            done=tuple(self._done(row) for row in done),
            to_come=frozenset(row["lot_code"] for row in takes if row["to_come"]),
        )

    def _step(self, row: Cells) -> Placed:
        attended = row["attended_until"]
        return Placed(
            self.run,
            _named(row),
            row["kind"],
            row["load"],
            row["round"],
            row["vessel"],
            row["ring"],
            self._local(row["since"]),
            self._local(row["until"]),
            self._local(row["held_until"]),
            row["hands_min"],
            litres=_litres(row["volume_ul"]),
            weight_mg=row["weight_mg"],
            attended_until=None if attended is None else self._local(attended),
            heat_min=row["heat_min"],
            hold_min=row["hold_min"],
            start_c=row["start_c"],
            goal_c=row["goal_c"],
            shared_with=tuple(row["shared_with"]),
        )

    def _take(self, row: Cells) -> Take:
        return Take(self.run, row["lot_code"], row["what"], row["amount"], row["unit"],
                    self._local(row["at"]), row["left_after"], row["step"], row["length_mm"],
                    row["carried_from"], row["carried_to"], row["carried_round"])  # fmt: skip

    def _hanging(self, row: Sequence[Any]) -> Hanging:
        line, since, until, mg = row
        since, until = datetime.fromisoformat(since), datetime.fromisoformat(until)
        return Hanging(line, self._local(since), self._local(until), mg, self.run)

    def _job(self, row: Sequence[Any]) -> Job:
        what, by, text, hands_min, kind, lot = row
        return Job(what, date.fromisoformat(by), text, self.run, hands_min, kind, lot)

    def _done(self, row: Cells) -> Done:
        begun, volume_ul = row["begun_at"], row["volume_ul"]
        return Done(
            row["step"],
            row["round"],
            row["load"],
            self._local(row["at"]),
            begun_at=None if begun is None else self._local(begun),
            vessel=row["vessel"],
            litres=None if volume_ul is None else _litres(volume_ul),
            weight_mg=row["weight_mg"],
            minutes=row["minutes"],
            warmth_c=row["warmth_c"],
            took=tuple((code, amount) for code, amount in row["took"]),
            note=row["note"],
        )

    def _local(self, moment: datetime) -> datetime:
        return moment.astimezone(self.zone)


def _named(row: Cells) -> str:
    """The word of a step; of a way to another site so that it can be said in any language."""
    begins = str(carry_step(""))
    if row["kind"] == CARRY and row["step"].startswith(begins):
        return carry_step(row["step"].removeprefix(begins))
    return str(row["step"])


def _litres(volume_ul: int) -> Decimal:
    """Litres to the millilitre, as the plan has them."""
    return Decimal(round(volume_ul / 1000)) / 1000
