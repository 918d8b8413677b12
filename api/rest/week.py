"""The week's answer as JSON under stable names, and the address that serves it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.contract.answers.week import WEEK
from api.question import question_of
from api.rest.contract import QUESTION, said
from api.sheet import steps_of
from api.visitor import Asking
from sourcing.outlook import week_at
from sourcing.week.plan import (
    Answer,
    Change,
    Day,
    Enough,
    Flag,
    Job,
    Placed,
    Reason,
    Shortage,
    Take,
    Unlock,
    Week,
)
from sourcing.week.words import decimal_string, exact


class WeekView(APIView):
    """GET: the answer for every wanted run."""

    @said(
        "week",
        summary="What can be dyed this week, and what stops the rest",
        asks=QUESTION,
        answer=WEEK,
        errors=(409,),
    )
    def get(self, request: Request) -> Response:
        return Response(week_as_json(week_asked(request)))


def week_asked(request: Asking) -> Week:
    """The week that an address asks for."""
    question = question_of(request)
    return week_at(question.studio, at=question.at, days=question.days)


def week_as_json(week: Week) -> dict[str, object]:
    """A week under its stable names: moments ISO 8601 with the studio's offset, amounts as text."""
    steps = steps_of(week)
    return {
        "studio": week.studio,
        "at": _moment(week.at, week),
        "until": _moment(week.until, week),
        "runs": [_run(answer, steps, week) for answer in week.answers],
        "flags": [_flag(flag) for flag in week.flags],
        "days": [_day(day, week) for day in week.days],
        "sums": {
            **week.sums,
            "decided_by": list(_decided(week.answers)),
            "notes": [
                {"run": answer.run, "text": note}
                for answer in week.answers
                for note in answer.notes
            ],
        },
    }


def _run(answer: Answer, steps: Iterable[Placed], week: Week) -> dict[str, object]:
    return {
        "code": answer.run,
        "shade": answer.shade,
        "answer": answer.answer,
        "first_step_at": _moment(answer.first_step_at, week),
        "dry_at": _moment(answer.dry_at, week),
        "begun_at": _moment(answer.begun_at, week),
        "steps": [_step(step, week) for step in steps if step.run == answer.run],
        "takes": [_take(take) for take in answer.takes],
        "waits_for": [_wait(row, week) for row in _waits(answer)],
        "short": [_short(row) for row in answer.short],
        "jobs": [_job(job) for job in answer.jobs],
        "enough": [_enough(row) for row in answer.enough],
        "unlocks": [_unlock(row, week) for row in answer.unlocks],
        "unlocks_all_tried": answer.sought_all,
        "top_up_l": decimal_string(Decimal(answer.top_up_ml) / 1000),
        "warnings": [_warning(row) for row in answer.warnings],
    }


def _step(step: Placed, week: Week) -> dict[str, object]:
    return {
        "step": step.step,
        "load": step.load,
        "vessel": step.vessel or None,
        "ring": step.ring or None,
        "from": _moment(step.start, week),
        "to": _moment(step.end, week),
        "hands_on_min": step.hands_min,
        "done_at": _moment(step.done_at, week),
        "late_since": _moment(step.late_since, week),
        "shared_with": list(step.shared_with),
    }


def _take(take: Take) -> dict[str, object]:
    amount, unit = exact(take.amount, take.unit)
    length = None if take.length_mm is None else decimal_string(Decimal(take.length_mm) / 1000)
    carried = None
    if take.carried_from:
        carried = {"from": take.carried_from, "to": take.carried_to, "way": take.carried_round}
    return {"from": take.source, "amount": amount, "unit": unit, "length_m": length,
            "carried": carried}  # fmt: skip


def _waits(answer: Answer) -> list[Reason]:
    """What passes by waiting; for a no also what bars it whatever the hour."""
    rows = list(answer.waits_for)
    if answer.answer == "no":
        rows += [row for row in answer.barred if row not in rows]
    return rows


def _wait(row: Reason, week: Week) -> dict[str, object]:
    return {
        "kind": row.kind,
        "what": row.what,
        "until": _moment(row.until, week),
        "text": row.text,
    }


def _warning(row: Reason) -> dict[str, object]:
    return {"kind": row.kind, "what": row.what, "text": row.text,
            "figure": row.figure or None, "own": row.own}  # fmt: skip


def _short(row: Shortage) -> dict[str, object]:
    amount, unit = exact(row.amount, row.unit)
    return {
        "what": row.what,
        "amount": amount,
        "unit": unit,
        "pieces": row.pieces,
        "text": row.text,
    }


def _enough(row: Enough) -> dict[str, object]:
    amount, unit = exact(row.amount, "mg")
    return {
        "what": row.what,
        "amount": amount,
        "unit": unit,
        "by": row.by.isoformat(),
        "chance": round(row.chance, 3),
        "days": [
            {"chance": surely, "by": None if day is None else day.isoformat()}
            for surely, day in row.days
        ],
        "text": row.text,
    }


def _unlock(row: Unlock, week: Week) -> dict[str, object]:
    return {
        "text": row.text,
        "together": row.together,
        "changes": [_change(change, week) for change in row.changes],
        "first_step_at": _moment(row.first_step_at, week),
        "dry_at": _moment(row.dry_at, week),
        "no_yes_any_more": list(row.loses),
    }


def _change(change: Change, week: Week) -> dict[str, object]:
    masses = change.unit in ("mg", "µL")
    amount, unit = (
        exact(change.amount, change.unit) if masses else (str(change.amount), change.unit)
    )
    return {
        "kind": change.kind,
        "what": change.what,
        "amount": amount,
        "unit": unit,
        "pieces": change.pieces,
        "from": _moment(change.since, week),
        "until": _moment(change.until, week),
        "text": change.text,
    }


def _job(job: Job) -> dict[str, object]:
    return {"what": job.what, "by": job.by.isoformat(), "text": job.text}


def _flag(flag: Flag) -> dict[str, object]:
    by = None if flag.by is None else flag.by.isoformat()
    return {"kind": flag.kind, "what": flag.what, "by": by, "text": flag.text}


def _day(day: Day, week: Week) -> dict[str, object]:
    return {
        "date": day.day.isoformat(),
        "hands_on_min": day.hands_on_min,
        "hands_available_min": day.hands_available_min,
        "line": [
            {
                "from": _moment(load.since, week),
                "kg": decimal_string(Decimal(load.mg) / 1_000_000),
            }
            for load in day.line
        ],
    }


def _decided(answers: Iterable[Answer]) -> Iterable[dict[str, object]]:
    """The rules and figures that decided each answer, and whose figure it is."""
    for answer in answers:
        for row in answer.reasons:
            yield {
                "run": answer.run,
                "kind": row.kind,
                "what": row.what,
                "text": row.text,
                "figure": row.figure or None,
                "own": row.own,
            }


def _moment(moment: datetime | None, week: Week) -> str | None:
    if moment is None:
        return None
    return moment.astimezone(week.at.tzinfo).isoformat(timespec="seconds")
