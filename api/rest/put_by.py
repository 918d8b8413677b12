"""The put-by plans as JSON under stable names, and the address that serves them."""

from __future__ import annotations

from datetime import date

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.contract.answers.sources import PUT_BY
from api.contract.shapes import NAME, TEXT, one_of, or_empty
from api.put_by_asked import MORE, put_by_asked
from api.question import question_of
from api.rest.contract import QUESTION, Word, said
from api.rest.shelf_values import Json, amount_said, day_said
from api.tongue.customs import custom_of
from sourcing.put_by_outlook import PutByOutlook, put_by_at
from sourcing.putting_by import words
from sourcing.putting_by.facts import EVENLY, MONTHLY, RUNS_AT_MOST
from sourcing.putting_by.gaps import Gap
from sourcing.putting_by.months import Month, months_of
from sourcing.putting_by.plan import PutByPlan
from sourcing.putting_by.serving import Served
from sourcing.putting_by.turning import DRIED, FROZEN

PICK_UPS_AT_MOST = 100
A_DAY = {**TEXT, "pattern": r"^[0-9]{4}-[0-9]{2}(-[0-9]{2})?$"}
WORDS = (
    Word(
        "of", or_empty(NAME), "Of which dyestuff or shade; the other words want this one.", "privet"
    ),
    Word(
        "runs",
        or_empty({"type": "integer", "minimum": 1, "maximum": RUNS_AT_MOST}),
        "How many runs.",
        4,
    ),
    Word("each", {**TEXT, "maxLength": 60}, "What each run takes.", "480 g"),
    Word("from", or_empty(A_DAY), "The first day, or its month.", "2027-03"),
    Word("until", or_empty(A_DAY), "The last day, or its month.", "2027-06"),
    Word("spread", or_empty(one_of(MONTHLY, EVENLY)), "How the runs lie over the time.", MONTHLY),
    Word("state", or_empty(one_of(DRIED, FROZEN)), "How it is kept.", DRIED),
)


class PutByView(APIView):
    """GET: what has to be put by, and the gaps ahead."""

    @said(
        "put_by",
        summary="What to dry or freeze by when, and the gaps ahead",
        asks=(*QUESTION, *WORDS),
        answer=PUT_BY,
        errors=(409,),
    )
    def get(self, request: Request) -> Response:
        question = question_of(request, what="The list of putting-by", more=MORE)
        asked = put_by_asked(request.query_params, custom=custom_of(question.studio))
        return Response(put_by_as_json(put_by_at(question.studio, at=question.at, asked=asked)))


def put_by_as_json(outlook: PutByOutlook) -> Json:
    """An outlook under its stable names: amounts as text with a unit, days ISO 8601."""
    facts = outlook.facts
    return {
        "studio": facts.studio,
        "at": facts.at.isoformat(timespec="seconds"),
        "plans": [_plan(plan) for plan in (*outlook.asked, *outlook.plans)],
        "more_plans": outlook.more,
        "gaps": [_gap(gap) for gap in outlook.gaps],
    }


def _plan(plan: PutByPlan) -> Json:
    between, room = plan.lacks_fresh_between, plan.room
    return {
        "dyestuff": plan.dyestuff,
        "state": plan.state,
        "asked": any(wish.asked for wish in plan.wishes),
        "wishes": [
            {
                "code": wish.code,
                "shade": wish.shade or None,
                "runs": wish.runs,
                "each": amount_said(wish.each_mg, "mg"),
                "from": wish.since.isoformat(),
                "to": wish.last_on.isoformat(),
            }
            for wish in plan.wishes
        ],
        "wanted": amount_said(plan.need_mg, "mg"),
        "there": amount_said(plan.there_mg, "mg"),
        "put_by": amount_said(plan.lacks_mg, "mg"),
        "put_by_fresh": _amount(plan.lacks_fresh_mg),
        "put_by_fresh_low": None if between is None else amount_said(between[0], "mg"),
        "put_by_fresh_high": None if between is None else amount_said(between[1], "mg"),
        "by": day_said(plan.by),
        "steps": [
            {
                "by": day_said(row.by),
                "put_by": amount_said(row.mg, "mg"),
                "fresh": _amount(row.fresh_mg),
                "for": list(row.runs),
            }
            for row in plan.milestones
        ],
        "lots_to_put_by": [
            {"lot": row.code, "amount": amount_said(row.lot_mg, "mg"), "by": day_said(row.turn_by)}
            for row in plan.to_turn
        ],
        "left_out": [
            {"lot": row.code, "amount": amount_said(row.mg, "mg"), "why": row.why}
            for row in plan.left_out
        ],
        "barred": [{"source": source, "why": why} for source, why in plan.barred],
        "pick_ups": [
            {
                "day": row.day.isoformat(),
                "sources": list(row.sources),
                "likely": _amount(plan.coming.likely_by_day.get(row.day)),
                "said": _amount(row.said_mg),
            }
            for row in plan.pick_ups[:PICK_UPS_AT_MOST]
        ],
        "pick_ups_in_all": len(plan.pick_ups),
        "chance": None if plan.chance is None else round(plan.chance, 3),
        "likely_short": amount_said(plan.likely_short_mg, "mg"),
        "more_pick_ups": plan.more_pick_ups if plan.likely_short_mg else 0,
        "open_till": day_said(plan.open_till),
        "runs_that_fall": _fallen(plan.without),
        "runs_that_fall_nine_times_in_ten": _fallen(plan.cautious),
        "runs_that_fall_likely": _fallen(plan.likely),
        "shade_gap": _span(words.gap_of(plan, plan.without)),
        "gap": None if plan.gap is None else _gap(plan.gap),
        "room": None
        if room is None
        else {
            "where": room.kind,
            "needs": amount_said(room.needs_mg, "mg"),
            "free": _amount(room.free_mg),
            "over": amount_said(room.over_mg, "mg"),
        },
        "months": [_month(row) for row in months_of(plan)],
        "text": words.what_to_do(plan),
    }


def _amount(mg: int | None) -> Json | None:
    return None if mg is None else amount_said(mg, "mg")


def _fallen(rows: tuple[Served, ...]) -> list[Json]:
    return [
        {"run": row.use.what, "from": row.use.since.isoformat(), "to": row.use.last.isoformat()}
        for row in rows
        if row.short_mg
    ]


def _span(span: tuple[date, date] | None) -> Json | None:
    return None if span is None else {"from": span[0].isoformat(), "to": span[1].isoformat()}


def _gap(gap: Gap) -> Json:
    return {
        "dyestuff": gap.dyestuff,
        "from": gap.since.isoformat(),
        "until": day_said(gap.until),
        "why": gap.why,
        "if_agreed_anew": gap.anew,
    }


def _month(row: Month) -> Json:
    return {
        "from": row.first.isoformat(),
        "there": amount_said(row.shelf_mg, "mg"),
        "likely_come": amount_said(row.likely_mg, "mg"),
        "wanted": amount_said(row.wanted_mg, "mg"),
        "short": amount_said(row.short_mg, "mg"),
        "nothing_comes": row.closed,
    }
