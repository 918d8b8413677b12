"""What will come as JSON: pick-ups, what they will have brought by when, who is short of it."""

from __future__ import annotations

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.coming_asked import COMING_WORDS, check_agreed, gives_asked
from api.coming_words import GUESS, gist_of, rests_in_words, state_of
from api.contract.answers.week import COMING
from api.contract.shapes import NAME, or_empty
from api.question import question_of
from api.rest.contract import QUESTION, Word, said
from sourcing.coming import coming_at
from sourcing.week.coming import LEVELS, AllComing, ByDay, Coming, RestsOn, Wanting
from sourcing.week.facts import PickUpExpected, WeekFacts
from sourcing.week.words import exact

GIVES = Word("gives", or_empty(NAME), "Only this dyestuff.", "avocado stones")
STATES = {"told of": "reported", "likely": "likely", "missed": "missed", "shut": "not_fetched"}


class ComingView(APIView):
    """GET: every dyestuff that some source gives, or the one that is named."""

    @said(
        "coming",
        summary="What will come by when, and who is short of it",
        asks=(*QUESTION, GIVES),
        answer=COMING,
        errors=(409,),
    )
    def get(self, request: Request) -> Response:
        query = request.query_params
        question = question_of(request, what="What will come", more=COMING_WORDS)
        gives = gives_asked(query)
        facts, found = coming_at(question.studio, at=question.at, days=question.days, gives=gives)
        check_agreed(gives, found)
        return Response(coming_as_json(facts, found))


def coming_as_json(facts: WeekFacts, found: AllComing) -> dict[str, object]:
    """What will come under its stable names: amounts as exact text, chances 0 to 1."""
    return {
        "studio": facts.studio,
        "at": facts.at.astimezone(facts.zone).isoformat(timespec="seconds"),
        "first": found.first.isoformat(),
        "last": found.last.isoformat(),
        "is": GUESS,
        "dyestuffs": [_coming(row, facts) for row in found.dyestuffs],
        "others": list(found.others),
    }


def _coming(row: Coming, facts: WeekFacts) -> dict[str, object]:
    return {
        "dyestuff": row.dyestuff,
        "text": gist_of(row),
        "pick_ups": [_pick_up(each, facts) for each in row.pick_ups],
        "more_pick_ups": row.more,
        "rests_on": [_rests(each) for each in row.rests_on],
        "will_have_come": [_day(each) for each in row.days],
        "short": [_short(each) for each in row.short],
    }


def _pick_up(row: PickUpExpected, facts: WeekFacts) -> dict[str, object]:
    return {
        "source": row.source,
        "at": row.at.astimezone(facts.zone).isoformat(timespec="seconds"),
        "state": STATES[state_of(row)],
        "reported_g": None if row.confirmed_mg is None else _grams(row.confirmed_mg),
        "likely_g": _grams(row.likely_mg),
        "worst_g": _grams(row.worst_mg),
        "why_not": row.why_not or None,
    }


def _rests(row: RestsOn) -> dict[str, object]:
    return {
        "source": row.source,
        "visits": row.visits,
        "missed": row.missed,
        "promised": row.promised,
        "thin": row.thin,
        "text": rests_in_words(row),
    }


def _day(row: ByDay) -> dict[str, object]:
    at_least = [
        {"chance": round(1 - level, 2), "g": _grams(mg)}
        for level, mg in zip(LEVELS, row.mg, strict=True)
    ]
    return {"by": row.day.isoformat(), "at_least": at_least}


def _short(row: Wanting) -> dict[str, object]:
    return {
        "run": row.run,
        "shade": row.shade,
        "short_g": _grams(row.short_mg),
        "by": row.by.isoformat(),
        "chance": round(row.chance, 3),
        "days": [
            {"chance": surely, "by": None if day is None else day.isoformat()}
            for surely, day in row.days
        ],
    }


def _grams(mg: int) -> str:
    return exact(mg, "mg")[0]
