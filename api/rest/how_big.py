"""How big a run can be as JSON under stable names, and the address that serves it."""

from __future__ import annotations

from datetime import datetime, timedelta
from decimal import Decimal

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.contract.answers.how_big import HOW_BIG
from api.contract.shapes import DAY, NAME, TEXT, one_of, or_empty
from api.how_big_asked import WORDS, how_big_asked
from api.question import question_of
from api.rest.contract import QUESTION, Word, said
from api.tongue.customs import custom_of
from sourcing.outlook import facts_at
from sourcing.week.facts import WeekFacts
from sourcing.week.how_big import HowBig
from sourcing.week.words import decimal_string

ASKS = (
    Word("run", or_empty(NAME), "A run that is wanted and not begun.", "G"),
    Word("recipe", or_empty(NAME), "In place of a run: how one run more would be dyed."),
    Word("fibre", or_empty(NAME), "Of which fibre; the first that the recipe is for."),
    Word("lot", or_empty(NAME), "From which lot of it; any."),
    Word("due", or_empty(DAY), "By the evening of which day it is to be dry; whenever it fits."),
    Word("client", or_empty(one_of("yes", "no")), "Whether it is for a client; yes."),
    Word(
        "agreed",
        or_empty(one_of("yes", "no")),
        "Whether the shade is agreed; as for other runs of shade and fibre.",
    ),
    Word("weight", {**TEXT, "maxLength": 60}, "For which weight it is told how far each thing "
         "goes; for what is wanted, or one step too much.", "10 kg"),
)  # fmt: skip


class HowBigView(APIView):
    """GET: the largest weight of a run that fits, and what binds it."""

    @said(
        "how_big",
        summary="How big a run can be, and what binds it",
        about="Nothing is kept. `weight_g` is a yes in the period and `step_g` more is none; both "
        "are proved by working out the week with it. Without a run or a recipe nothing is asked.",
        asks=(*QUESTION, *ASKS),
        answer=HOW_BIG,
        errors=(409,),
    )
    def get(self, request: Request) -> Response:
        question = question_of(request, what="How big a run can be", more=WORDS)
        facts = facts_at(question.studio, at=question.at, days=question.days)
        found = how_big_asked(request.query_params, facts, custom=custom_of(question.studio),
                              days=question.days)  # fmt: skip
        return Response(how_big_as_json(found, facts, question.days))


def how_big_as_json(found: HowBig | None, facts: WeekFacts, days: int) -> dict[str, object]:
    """The answer under its stable names; moments with the studio's offset, amounts as text."""
    today = facts.at.astimezone(facts.zone).replace(hour=0, minute=0, second=0, microsecond=0)
    return {
        "studio": facts.studio,
        "at": _moment(facts.at, facts),
        "until": _moment(today + timedelta(days), facts),
        "how_big": None if found is None else _how_big(found, facts),
    }


def _how_big(found: HowBig, facts: WeekFacts) -> dict[str, object]:
    answer = found.answer
    return {
        "run": found.run,
        "shade": found.shade,
        "fits": found.mg > 0,
        "weight_g": _grams(found.mg),
        "step_g": _grams(found.step_mg),
        "first_step_at": None if answer is None else _moment(answer.first_step_at, facts),
        "dry_at": None if answer is None else _moment(answer.dry_at, facts),
        "binds": [
            {"kind": row.kind, "what": row.what, "text": row.text, "would_do": row.more or None}
            for row in found.binds
        ],
        "told_for_g": _grams(found.reached_for_mg),
        "reaches": [
            {
                "kind": row.kind,
                "what": row.what,
                "enough_for_g": None if row.mg is None else _grams(row.mg),
                "enough": row.enough,
                "text": row.text,
            }
            for row in found.reaches
        ],
        "no_yes_any_more": list(found.loses),
    }


def _grams(mg: int) -> str:
    return decimal_string(Decimal(mg) / 1000)


def _moment(moment: datetime | None, facts: WeekFacts) -> str | None:
    if moment is None:
        return None
    return moment.astimezone(facts.zone).isoformat(timespec="seconds")
