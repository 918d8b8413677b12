"""Loading runs under way: the plans that they keep, what of these is done, what is promised.

A plan that the studio has already stays as it is: it is recorded by beginning the run.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from inventory.errors import LarderError, NotNow
from inventory.science.saying import say
from sourcing.claims import claim, claims_of
from sourcing.kept import done_steps, holding
from sourcing.models import KeptPlan, KeptStep, KeptTake, Run, StepDone
from sourcing.notebook.loading import Loading
from sourcing.notebook.page import Row

NO_PLAN = say("Its run has no row in begun.csv. Write when it was begun.")
PARTS = ("begun_steps", "begun_takes", "begun_hangs", "begun_jobs")


def load_begun(loading: Loading) -> None:
    """Plans with all that hangs on them, steps that are done, then claims."""
    runs = {run.code: run for run in Run.objects.of(loading.studio)}
    there = {plan.run_id: plan for plan in holding(loading.studio)}
    new = [row for row in loading.notebook.page("begun") if runs[row.text("run")].pk not in there]
    made = {row.text("run"): _plan(loading, row, runs) for row in new}
    for name in PARTS:
        for row in loading.notebook.page(name):
            if row.text("run") in made:
                loading.new[name] += 1
            elif runs[row.text("run")].pk not in there:
                loading.problem(
                    row, say("Its run has no row in begun.csv. Write when it was begun.")
                )
    plans = {code: plan for code, plan in made.items() if plan is not None}
    plans |= {code: there[run.pk] for code, run in runs.items() if run.pk in there}
    for row in loading.notebook.page("steps_done"):
        _done(loading, row, plans)
    for row in loading.notebook.page("claims"):
        _claim(loading, row, runs[row.text("run")])


def _plan(loading: Loading, row: Row, runs: dict[str, Run]) -> KeptPlan | None:
    """A plan with its steps and takes."""
    run = runs[row.text("run")]
    if not run.begun:
        loading.problem(row, say("The run is not begun by runs.csv. Write yes under begun there."))
        return None
    mine = {name: _of(loading, name, run.code) for name in PARTS}
    plan = KeptPlan.objects.of(loading.studio).create(
        run=run,
        entry=loading.entry(row),
        begun_at=_moment(row, "begun at"),
        by_step=row.yes("by step"),
        hangs=[_hang(of) for of in mine["begun_hangs"]],
        jobs=[_job(of) for of in mine["begun_jobs"]],
    )
    for of in mine["begun_steps"]:
        if _is_over_before_it_begins(of):
            loading.problem(of, say("It is over before it begins. Look at from and until."))
            return plan
    KeptStep.objects.of(loading.studio).bulk_create(_step(plan, of) for of in mine["begun_steps"])
    KeptTake.objects.of(loading.studio).bulk_create(
        _take(plan, of) for of in mine["begun_takes"] if _measured(loading, of)
    )
    loading.new[row.page] += 1
    return plan


def _of(loading: Loading, page: str, run: str) -> list[Row]:
    rows = [row for row in loading.notebook.page(page) if row.text("run") == run]
    return sorted(rows, key=lambda row: row.whole("no"))


def _is_over_before_it_begins(row: Row) -> bool:
    return _moment(row, "until") < _moment(row, "from")


def _step(plan: KeptPlan, row: Row) -> KeptStep:
    return KeptStep(
        plan=plan,
        number=row.whole("no"),
        step=row.text("step"),
        kind=row.text("kind"),
        round=row.whole("round"),
        load=row.whole("load"),
        vessel=row.text("vessel"),
        ring=row.text("ring"),
        since=_moment(row, "from"),
        until=_moment(row, "until"),
        held_until=_moment(row, "held until"),
        attended_until=row.moment("there until"),
        hands_min=row.whole("hands"),
        volume_ul=row.whole("litres"),
        weight_mg=row.whole("weight"),
        heat_min=row.whole("heat"),
        hold_min=row.whole("hold"),
        start_c=row.whole_or_none("begins at"),
        goal_c=row.whole_or_none("goes to"),
        shared_with=list(row.words("shared with")),
    )


def _take(plan: KeptPlan, row: Row) -> KeptTake:
    amount, unit = _amount(row)
    return KeptTake(
        plan=plan,
        number=row.whole("no"),
        step=row.text("step"),
        lot_code=row.text("lot"),
        what=row.text("what"),
        amount=amount,
        unit=unit,
        at=_moment(row, "at"),
        left_after=0,
        length_mm=row.whole_or_none("length"),
        to_come=row.yes("to come"),
        carried_from=row.text("carried from"),
        carried_to=row.text("carried to"),
        carried_round=row.whole("way"),
    )


def _measured(loading: Loading, row: Row) -> bool:
    """Whether a row says either a weight or a volume, above nothing."""
    if row.has("weight") != row.has("volume") and _amount(row)[0] > 0:
        return True
    loading.problem(row, say("Write either a weight or a volume, above nothing."))
    return False


def _moment(row: Row, name: str) -> datetime:
    """A moment that has to be there, as the page says."""
    found = row.moment(name)
    assert found is not None, (row.page, name)
    return found


def _amount(row: Row) -> tuple[int, str]:
    return (row.whole("weight"), "mg") if row.has("weight") else (row.whole("volume"), "µL")


def _hang(row: Row) -> list[Any]:
    since, until = _moment(row, "from"), _moment(row, "until")
    return [row.text("line"), since.isoformat(), until.isoformat(), row.whole("weight")]


def _job(row: Row) -> list[Any]:
    by = row.day("by")
    assert by is not None
    return [row.text("job"), by.isoformat(), row.text("words"), row.whole("hands"),
            row.text("kind"), row.text("lot")]  # fmt: skip


def _done(loading: Loading, row: Row, plans: dict[str, KeptPlan]) -> None:
    """A step that is done, where nobody has said so yet."""
    plan = plans.get(row.text("run"))
    if plan is None:
        loading.problem(row, NO_PLAN)
        return
    step, round, load = row.text("step"), row.whole("round"), row.whole("load")
    said = done_steps(loading.studio).filter(plan=plan, step=step, round=round, load=load)
    if said.exists():
        return
    at, begun_at = _moment(row, "done at"), row.moment("begun at")
    if begun_at is not None and begun_at > at:
        loading.problem(row, say("It is done before it was begun. Look at the hours."))
        return
    took = [
        of
        for of in _of(loading, "steps_took", row.text("run"))
        if (of.text("step"), of.whole("round"), of.whole("load")) == (step, round, load)
        and _measured(loading, of)
    ]
    StepDone.objects.of(loading.studio).create(
        plan=plan,
        entry=loading.entry(row),
        at=at,
        begun_at=begun_at,
        vessel=row.text("vessel"),
        volume_ul=row.whole_or_none("litres"),
        weight_mg=row.whole_or_none("weight"),
        minutes=row.whole_or_none("hands"),
        warmth_c=row.number("warmth"),
        took=[[of.text("lot"), _amount(of)[0]] for of in took],
        note=row.text("note"),
        step=step,
        round=round,
        load=load,
    )
    loading.new[row.page] += 1


def _claim(loading: Loading, row: Row, run: Run) -> None:
    """A promise to a run that has none of that lot yet."""
    at = _moment(row, "at")
    if not _measured(loading, row):
        return
    if claims_of(loading.studio, run).filter(lot__code=row.text("lot")).exists():
        return
    try:
        claim(loading.studio, entry=loading.entry(row), at=at, run=run.code, lot=row.text("lot"),
              amount=_amount(row)[0], step=row.text("step"))  # fmt: skip
    except NotNow:
        raise  # The row is as it should be; the database is not.
    except LarderError as refusal:
        loading.problem(row, str(refusal))
    else:
        loading.new[row.page] += 1
