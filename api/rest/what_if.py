"""The week with something otherwise as JSON: as the week, and what moved beside it."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from rest_framework.request import Request
from rest_framework.response import Response

from api.contract.answers.what_if import BODY_EXAMPLE, WHAT_IF, WHAT_IF_TAKEN
from api.question import check_words, moment_now
from api.rest.contract import STUDIO, said
from api.rest.week import WeekView, week_as_json
from api.visitor import visitor_of
from api.what_if.asked import Otherwise, otherwise_of, unclear_of
from sourcing.week.plan import Answer, Shortage, Week
from sourcing.week.what_if import CannotBe, RunMoved
from sourcing.week.words import exact
from sourcing.what_if import WhatIf, what_if_at


class WhatIfView(WeekView):
    """GET: the week as it is. POST: the week with something otherwise, which is kept nowhere."""

    keeps_nothing = True

    @said(
        "what_if",
        summary="The week with something otherwise, for this question only",
        about="Up to twenty changes at once, in any order; nothing is kept. The answer is the "
        "week as it would be, and in `changed` each run before and after.",
        asks=(STUDIO,),
        body=WHAT_IF_TAKEN,
        body_example=BODY_EXAMPLE,
        answer=WHAT_IF,
        errors=(409, 422),
    )
    def post(self, request: Request) -> Response:
        check_words(request.query_params, ("studio",), what="A what-if")
        studio = visitor_of(request, keeps_nothing=True).studio
        asked = otherwise_of(request.data, studio)
        at = asked.at or moment_now().astimezone(ZoneInfo(studio.zone))
        try:
            found = what_if_at(studio, at=at, days=asked.days, changes=asked.changes,
                               compare=asked.compare)  # fmt: skip
        except CannotBe as wrong:
            raise unclear_of(wrong) from wrong
        return Response(what_if_as_json(found, asked))


def what_if_as_json(found: WhatIf, asked: Otherwise) -> dict[str, object]:
    """The week under its stable names, what moved, and how each amount was understood."""
    rows = None if found.runs is None else [_moved(row, found.week) for row in found.runs]
    return {**week_as_json(found.week), "changed": rows, "understood": list(asked.understood)}


def _moved(row: RunMoved, week: Week) -> dict[str, object]:
    return {
        "run": row.run,
        "shade": row.shade,
        "moved": row.moved,
        "from": _side(row.before, week),
        "to": _side(row.after, week),
        "changes": [
            {"kind": shift.kind, "before": shift.before, "after": shift.after, "text": shift.text}
            for shift in row.shifts
        ],
    }


def _side(answer: Answer | None, week: Week) -> dict[str, object] | None:
    if answer is None:
        return None
    return {
        "answer": answer.answer,
        "first_step_at": _moment(answer.first_step_at, week),
        "dry_at": _moment(answer.dry_at, week),
        "late": answer.late,
        "short": [_short(row) for row in answer.short],
    }


def _short(row: Shortage) -> dict[str, object]:
    amount, unit = exact(row.amount, row.unit)
    return {"what": row.what, "amount": {"amount": amount, "unit": unit}, "pieces": row.pieces}


def _moment(moment: datetime | None, week: Week) -> str | None:
    if moment is None:
        return None
    return moment.astimezone(week.at.tzinfo).isoformat(timespec="seconds")
