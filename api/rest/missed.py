"""A missed visit as JSON: what would not come, which runs move, how far things go without it."""

from __future__ import annotations

from datetime import datetime

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.contract.answers.week import MISSED
from api.contract.shapes import DAY, NAME, or_empty
from api.missed_asked import MISSED_WORDS, visit_asked
from api.question import question_of
from api.rest.contract import QUESTION, Word, said
from sourcing.missed import hardest_missed_at, missed_at
from sourcing.week.facts import PickUpExpected
from sourcing.week.plan import Answer, Week
from sourcing.week.ripple import Balance, Moved, Ripple, SumMoved
from sourcing.week.words import exact

WORDS = (
    Word("source", or_empty(NAME), "Whose visit is struck; wants `on` too.", "Lantern Steps café"),
    Word("on", or_empty(DAY), "On which day; wants `source` too.", "2026-11-26"),
    Word("gives", or_empty(NAME), "Only this of what the source gives.", "avocado stones"),
)


class MissedView(APIView):
    """GET: one missed visit, or with no source asked for every visit, what hurts most first."""

    @said(
        "missed",
        summary="What a missed visit moves, or every visit by how much it hurts",
        asks=(*QUESTION, *WORDS),
        answer=MISSED,
        errors=(409,),
    )
    def get(self, request: Request) -> Response:
        query = request.query_params
        question = question_of(request, what="A missed visit", more=MISSED_WORDS)
        visit = visit_asked(query)
        if visit is None:
            found = hardest_missed_at(question.studio, at=question.at, days=question.days)
            return Response({"studio": question.studio.name,
                             "visits": [ripple_as_json(row) for row in found.ripples],
                             "left_out": found.left_out})  # fmt: skip
        row = missed_at(question.studio, at=question.at, days=question.days,
                        source=visit.source, on=visit.on, gives=visit.gives)  # fmt: skip
        return Response({"studio": question.studio.name, **ripple_as_json(row)})


def ripple_as_json(ripple: Ripple) -> dict[str, object]:
    """A ripple under its stable names: amounts as exact text, moments with the studio's offset."""
    return {
        "missed": [_missed(row, ripple.before) for row in ripple.missed],
        "runs": [_moved(row, ripple.before) for row in ripple.moved],
        "stay": list(ripple.stay),
        "sums": [_sum(row) for row in ripple.sums],
        "rooms": [
            {
                "room": row.room,
                "evening": row.day.isoformat(),
                "before": row.before,
                "after": row.after,
                "text": row.text,
            }
            for row in ripple.rooms
        ],
    }


def _missed(row: PickUpExpected, week: Week) -> dict[str, object]:
    return {
        "source": row.source,
        "gives": row.dyestuff,
        "at": _moment(row.at, week),
        "reported_g": None if row.confirmed_mg is None else exact(row.confirmed_mg, "mg")[0],
        "likely_g": exact(row.likely_mg, "mg")[0],
        "worst_g": exact(row.worst_mg, "mg")[0],
    }


def _moved(row: Moved, week: Week) -> dict[str, object]:
    return {
        "code": row.run,
        "shade": row.shade,
        "before": _side(row.before, week),
        "after": _side(row.after, week),
        "changes": [
            {"kind": shift.kind, "before": shift.before, "after": shift.after, "text": shift.text}
            for shift in row.shifts
        ],
        "stays": list(row.stays),
    }


def _side(answer: Answer, week: Week) -> dict[str, object]:
    return {
        "answer": answer.answer,
        "first_step_at": _moment(answer.first_step_at, week),
        "dry_at": _moment(answer.dry_at, week),
        "chances": [
            {"what": row.what, "chance": round(row.chance, 3), "by": row.by.isoformat()}
            for row in answer.enough
        ],
    }


def _sum(row: SumMoved) -> dict[str, object]:
    return {
        "what": row.what,
        "by": row.by.isoformat(),
        "runs": list(row.runs),
        "need_g": exact(row.need_mg, "mg")[0],
        "before": None if row.before is None else _balance(row.before),
        "after": _balance(row.after),
        "text": row.text,
    }


def _balance(row: Balance) -> dict[str, object]:
    return {
        "there_g": exact(row.there_mg, "mg")[0],
        "spare_g": exact(row.spare_mg, "mg")[0],
        "short_g": exact(row.short_mg, "mg")[0],
        "pieces": row.pieces,
    }


def _moment(moment: datetime | None, week: Week) -> str | None:
    if moment is None:
        return None
    return moment.astimezone(week.at.tzinfo).isoformat(timespec="seconds")
