"""Steps of a run as they are done: the plan is kept as the run begins, each step is said once.

A step posts nothing to the ledger. What its run takes is claimed when it is begun and stays
claimed; the run is one posting at its end (`runs.finish_run`: fibre, dyestuff, supplies and liquor
taken, cloth made, what scouring took off lost), so nothing is counted twice and each metre of
cloth leads to all that made it. What is fetched from another site is put by there as its way is
said to be done (`fetching.py`). `fibre.scour` and `fibre.mordant` are for fibre that is prepared
ahead, outside a run. What is drawn for the run by hand before (`claims.draw`) uses up its claim;
`finish_run` is then told the rest. A bath made for the run is said with its own verb beside.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from uuid import UUID, uuid5

from django.db import transaction

from inventory.errors import EntryUsed, NoSuchVessel, NotKept
from inventory.hindrance import said_in_words
from inventory.models import Studio, Vessel
from inventory.said import check_entry, check_row, check_said
from inventory.science.saying import joined, say
from sourcing.claims import claim_anew, claims_of, open_run, release
from sourcing.fetching import is_fetching, put_there
from sourcing.kept import done_steps, holding, keep_answer, numbered_through
from sourcing.models import KeptPlan, KeptStep, KeptTake, NotBegun, Run, StepDone, StepNotDone
from sourcing.outlook import facts_at
from sourcing.step_errors import (
    NoSuchStep,
    NothingPlanned,
    NotUnderWay,
    StepIsDone,
    StepsAreDone,
    StepStillToDo,
)
from sourcing.week.group_begun import with_laid_out
from sourcing.week.plan import Answer
from sourcing.week.second_bath import run_of_bath


@dataclass(frozen=True, slots=True)
class Otherwise:
    """What went otherwise than planned with a step; what is left out went as planned."""

    begun_at: datetime | None = None
    vessel: str = ""
    volume_ul: int | None = None
    weight_mg: int | None = None
    minutes: int | None = None
    warmth_c: Decimal | None = None
    took: tuple[tuple[str, int], ...] = ()  # lot and mg or µL: all that the step took


@said_in_words()
def begin_run(studio: Studio, *, entry: UUID, at: datetime, run: str) -> Run:
    """A run under way: it keeps its recipe, its plan and what it takes from now on.

    One that cannot be planned is begun all the same, and keeps nothing but its recipe.
    """
    check_entry(entry, at)
    check_said({"at": at, "run": run})
    with transaction.atomic():
        found = _locked(studio, run)
        if plan_of(studio, found) is None:
            answers = _answers_at(studio, at)
            answer = answers.get(run)
            if answer is not None and answer.steps and answer.first_step_at is not None:
                _keep(studio, found, answer, entry=entry, at=at)
                _begin_beside(studio, answer, answers, entry=entry, at=at)
        if not found.begun:
            found.begun = True
            found.save(update_fields=["begun"])
    return found


@said_in_words()
def not_begun(studio: Studio, *, entry: UUID, at: datetime, run: str) -> Run:
    """A run that was said to be begun by mistake: it is planned anew and what it claimed is free.

    Raises
    ------
    StepsAreDone
        If a step of it is done.
    NotUnderWay
        If it is not begun.
    """
    check_entry(entry, at)
    check_said({"at": at, "run": run})
    with transaction.atomic():
        found = _locked(studio, run)
        if NotBegun.objects.of(studio).filter(entry=entry).exists():
            return found
        if not found.begun:
            raise NotUnderWay(run)
        plan = plan_of(studio, found)
        done = [] if plan is None else list(done_steps(studio).filter(plan=plan))
        if done:
            raise StepsAreDone(run=run, steps=dict.fromkeys(row.step for row in done))
        _give_up(studio, found, plan, entry=entry, at=at)
    return found


@said_in_words()
def step_done(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    run: str,
    step: str,
    round: int | None = None,
    load: int = 0,
    otherwise: Otherwise | None = None,
    note: str = "",
) -> StepDone:
    """A step of a run done, and only what went otherwise than planned; the first begins the run.

    Parameters
    ----------
    step : its word on the run sheet
    round : of a run that goes in several; None: the first in which the step is left to do
    load : one pot-load by itself; 0: all that are left of the round

    Raises
    ------
    NothingPlanned
        If the run is not begun and cannot be planned either.
    NoSuchStep, StepIsDone
        If its plan has no such step, or it was done before.
    """
    other = otherwise or Otherwise()
    check_entry(entry, at)
    check_said({"at": at, "run": run, "step": step, "note": note, "begun at": other.begun_at})
    with transaction.atomic():
        again = StepDone.objects.of(studio).filter(entry=entry).select_related("plan__run").first()
        if again is not None:
            if (again.plan.run.code, again.step) != (run, step):
                raise EntryUsed(entry=entry, kind="step done", at=again.at)
            return again
        found = _locked(studio, run)
        plan = plan_of(studio, found) or _begun_by(studio, found, entry, at, other.begun_at)
        round = _left_to_do(studio, plan, run, step, round, load)
        row = _row(studio, plan, other, entry=entry, at=at, step=step, round=round, load=load)
        row.note = note
        fetching = is_fetching(studio, row)
        if fetching:
            row.took = []  # what it weighed stands in the posting of its lot
        check_row(row)
        row.save(force_insert=True)
        if fetching:
            put_there(studio, found, row, dict(other.took))
        _claim_what_it_took(studio, row, at=at)
    return row


@said_in_words()
def step_not_done(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    run: str,
    step: str,
    round: int | None = None,
    note: str = "",
) -> StepNotDone:
    """Not done after all: what was said last of a step is taken back; a run begun by it is not.

    Raises
    ------
    StepStillToDo
        If nobody said that it is done.
    """
    check_entry(entry, at)
    check_said({"at": at, "run": run, "step": step, "note": note})
    with transaction.atomic():
        again = StepNotDone.objects.of(studio).filter(entry=entry).first()
        if again is not None:
            return again
        found = _locked(studio, run)
        plan = plan_of(studio, found)
        said = done_steps(studio).filter(plan=plan, step=step)
        said = said if round is None else said.filter(round=round)
        last = None if plan is None else said.order_by("id").last()
        if plan is None or last is None:
            raise StepStillToDo(run=run, step=step)
        row = StepNotDone.objects.of(studio).create(done=last, entry=entry, at=at, note=note)
        if last.took:
            _claim_as_planned(studio, last, at=at, entry=entry)
        if plan.by_step and not done_steps(studio).filter(plan=plan).exists():
            _give_up(studio, found, plan, entry=entry, at=at)
    return row


def plan_of(studio: Studio, run: Run) -> KeptPlan | None:
    """The plan that a run has kept; None while it is not begun."""
    return holding(studio).filter(run=run).order_by("id").last()


def _locked(studio: Studio, code: str) -> Run:
    """A run that is not finished, held so that two hands do not begin it at once."""
    list(Run.objects.of(studio).filter(code=code).select_for_update(no_key=True))
    return open_run(studio, code)


def _answers_at(studio: Studio, at: datetime) -> dict[str, Answer]:
    """What the week says of each run from a moment on."""
    from sourcing.week.project import DAYS_AT_MOST, worked_out

    facts = facts_at(studio, at=at, days=DAYS_AT_MOST)
    _, answers, _ = worked_out(facts, DAYS_AT_MOST, turns=False)
    wanted = {row.code: row for row in facts.runs}
    return {row.run: with_laid_out(row, wanted[row.run], facts) for row in answers}


def _begin_beside(
    studio: Studio,
    answer: Answer,
    answers: Mapping[str, Answer],
    *,
    entry: UUID,
    at: datetime,
    by_step: bool = False,
) -> None:
    """Runs whose cloth goes into the same pots, or in whose bath it follows, are begun with it.

    Each keeps a plan of its own.
    One that another hand is beginning just now is left to that hand.
    """
    codes = sorted(_beside(answer, answers) - {answer.run})
    rows = Run.objects.of(studio).filter(code__in=codes, begun=False).order_by("code")
    for other in rows.select_for_update(no_key=True, skip_locked=True):
        if plan_of(studio, other) is None:
            beside = uuid5(entry, f"beside:{other.code}")
            _keep(studio, other, answers[other.code], entry=beside, at=at, by_step=by_step)
            other.begun = True
            other.save(update_fields=["begun"])


def _beside(answer: Answer, answers: Mapping[str, Answer]) -> set[str]:
    """Runs in whose pots it goes, or in whose bath it follows, and those that these go with."""
    found, waiting = set[str](), [answer]
    while waiting:
        row = waiting.pop()
        codes = {code for step in row.steps for code in step.shared_with}
        codes |= {run for take in row.takes if (run := run_of_bath(take, answers))}
        codes = (codes & answers.keys()) - found
        found |= codes
        waiting.extend(answers[code] for code in sorted(codes))
    return found


def _begun_by(
    studio: Studio, run: Run, entry: UUID, at: datetime, begun_at: datetime | None
) -> KeptPlan:
    """The plan of a run that its first step begins, as it was when that step was begun.

    Where nobody says when, the step is taken to have been as long as planned.
    """
    answers = _answers_at(studio, begun_at or at)
    answer = answers.get(run.code)
    group = run.group_block_id is not None  # its steps follow one another in any order
    if answer is not None and answer.steps and begun_at is None and not group:
        begun_at = at - (answer.steps[0].end - answer.steps[0].start)
        answers = _answers_at(studio, begun_at)
        answer = answers.get(run.code)
    if answer is None or not answer.steps or answer.first_step_at is None:
        whys = [] if answer is None else _whys(answer)
        raise NothingPlanned(run=run.code, at=begun_at or at, whys=whys)
    plan = _keep(studio, run, answer, entry=entry, at=begun_at or at, by_step=True)
    run.begun = True
    run.save(update_fields=["begun"])
    _begin_beside(studio, answer, answers, entry=entry, at=begun_at or at, by_step=True)
    return plan


def _keep(
    studio: Studio, run: Run, answer: Answer, *, entry: UUID, at: datetime, by_step: bool = False
) -> KeptPlan:
    """Keep an answer as a run's plan, and claim what it takes in place of what was claimed."""
    release(studio, at=_given_back(studio, run, at), run=run.code)
    plan = keep_answer(studio, run, answer, entry=entry, at=at, by_step=by_step)
    wanted: dict[str, int] = {}
    for take in answer.takes:
        wanted[take.source] = wanted.get(take.source, 0) + take.amount
    claim_anew(studio, entry=entry, at=at, run=run, amounts=wanted)
    return plan


def _whys(answer: Answer) -> list[str]:
    """What stands in the way of a run, in words."""
    return [*(row.text for row in answer.short), *(row.text for row in answer.barred)]


def _given_back(studio: Studio, run: Run, at: datetime) -> datetime:
    """When claims of a run are given back: not before they were made."""
    return max([at, *claims_of(studio, run).values_list("made_at", flat=True)])


def _give_up(studio: Studio, run: Run, plan: KeptPlan | None, *, entry: UUID, at: datetime) -> None:
    """Let go of what a run kept."""
    if plan is not None:
        NotBegun.objects.of(studio).create(plan=plan, entry=entry, at=at)
        release(studio, at=_given_back(studio, run, at), run=run.code)
    run.begun = False
    run.save(update_fields=["begun"])


def _left_to_do(
    studio: Studio, plan: KeptPlan, run: str, step: str, round: int | None, load: int
) -> int:
    """The round of a step that is left to do, as asked; refused where there is none."""
    rows = list(KeptStep.objects.of(studio).filter(plan=plan).order_by("number"))
    rounds = numbered_through([(row.step, row.round, row.load) for row in rows])
    for row, number in zip(rows, rounds, strict=True):
        row.round = number  # as it is read; the row itself stays as it was kept
    mine = [row for row in rows if row.step == step and round in (None, row.round)]
    mine = [row for row in mine if load in (0, row.load)]
    if not mine:
        words = [step, *([say("in round {round}", round=round)] if round else []),
                 *([say("pot-load {load}", load=load)] if load else [])]  # fmt: skip
        raise NoSuchStep(
            run=run, asked=joined(", ", words), steps=dict.fromkeys(r.step for r in rows)
        )
    said = list(done_steps(studio).filter(plan=plan, step=step).order_by("id"))
    for row in mine:
        if not any(one.round == row.round and one.load in (0, row.load) for one in said):
            return int(row.round)
    raise StepIsDone(run=run, step=step, at=said[-1].at)


def _row(
    studio: Studio,
    plan: KeptPlan,
    other: Otherwise,
    *,
    entry: UUID,
    at: datetime,
    step: str,
    round: int,
    load: int,
) -> StepDone:
    if other.begun_at is not None and other.begun_at > at:
        raise NotKept(
            "begun at", other.begun_at, say("is after it was done"), say("Look at the hours.")
        )
    if other.vessel and not Vessel.objects.of(studio).filter(code=other.vessel).exists():
        raise NoSuchVessel(other.vessel)
    return StepDone(
        studio=studio,
        plan=plan,
        entry=entry,
        at=at,
        step=step,
        round=round,
        load=load,
        begun_at=other.begun_at,
        vessel=other.vessel,
        volume_ul=other.volume_ul,
        weight_mg=other.weight_mg,
        minutes=other.minutes,
        warmth_c=other.warmth_c,
        took=[[code, amount] for code, amount in other.took],
    )


# -- what a step took otherwise: its run's claims follow ----------------------------------------


def _claim_what_it_took(studio: Studio, done: StepDone, *, at: datetime) -> None:
    """Let the run's claims be what the step took, where that differs from the plan."""
    if done.took:
        _exchange(studio, done, gives=_planned(studio, done), takes=done.took, at=at,
                  entry=done.entry)  # fmt: skip


def _claim_as_planned(studio: Studio, done: StepDone, *, at: datetime, entry: UUID) -> None:
    """The claims as they were before a step took something else."""
    _exchange(studio, done, gives=done.took, takes=_planned(studio, done), at=at, entry=entry)


def _planned(studio: Studio, done: StepDone) -> list[list[object]]:
    rows = KeptTake.objects.of(studio).filter(plan=done.plan_id, step=done.step)
    return [[row.lot_code, row.amount] for row in rows.order_by("number")]


def _exchange(
    studio: Studio,
    done: StepDone,
    *,
    gives: Sequence[Sequence[object]],
    takes: Sequence[Sequence[object]],
    at: datetime,
    entry: UUID,
) -> None:
    """Claims of a run without some amounts and with others, in one go."""
    run = Run.objects.of(studio).get(pk=done.plan.run_id)
    amounts: dict[str, int] = {}
    for row in claims_of(studio, run).select_related("lot"):
        amounts[row.lot.code] = amounts.get(row.lot.code, 0) + row.amount
    for sign, rows in ((-1, gives), (1, takes)):
        for code, amount in rows:
            amounts[str(code)] = max(0, amounts.get(str(code), 0) + sign * int(str(amount)))
    release(studio, at=_given_back(studio, run, at), run=run.code)
    claim_anew(studio, entry=uuid5(entry, "took"), at=at, run=run, amounts=amounts, strict=True)
