"""The sources as JSON under stable names: leave, tubs, what came, how far each can be relied on.

Amounts are decimal strings with a unit, counts whole numbers, days and moments ISO 8601.
"""

from __future__ import annotations

from fractions import Fraction

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.contract.answers.sources import SOURCES
from api.question import question_of
from api.rest.contract import CURSOR, QUESTION, said
from api.rest.going_on import address_behind, row_before
from api.rest.shelf_values import Json, amount_said, day_said, fraction_said
from api.web.sources.words import state_of
from inventory.science.seasons import Season
from sourcing.reliability import Came, Record
from sourcing.sources_seen import (
    SOURCES_AT_MOST,
    Coming,
    GiftFacts,
    SourceFacts,
    SourcesFacts,
    sources_behind,
)

NOUN = "sources"


class SourcesView(APIView):
    """GET: the sources of a studio by name, so many at a time."""

    @said(
        "sources",
        summary="The sources: who gives what, how far they can be relied on, what comes next",
        asks=(*QUESTION, CURSOR),
        answer=SOURCES,
    )
    def get(self, request: Request) -> Response:
        question = question_of(request, what="The list of sources", more=("cursor",))
        name = row_before(request, question, NOUN)
        facts = sources_behind(question.studio, at=question.at, name=name)
        goes_on = facts.goes_on
        following = address_behind(request, question, NOUN, goes_on) if goes_on else None
        return Response({**sources_as_json(facts), "next": following})


def sources_as_json(facts: SourcesFacts) -> Json:
    """So many sources under their stable names."""
    return {
        "studio": facts.studio,
        "at": facts.at.isoformat(timespec="seconds"),
        "rows_at_most": SOURCES_AT_MOST,
        "in_all": facts.in_all,
        "sources": [_source(row, facts) for row in facts.sources],
    }


def _source(row: SourceFacts, facts: SourcesFacts) -> Json:
    return {
        "number": row.key,
        "name": row.name,
        "kind": row.kind or None,
        "place": row.place or None,
        "note": row.note or None,
        "carrying_note": row.carrying_note or None,
        "carrying_until": day_said(row.carrying_until),
        "tubs": row.tubs,
        "gives": [_gift(gift, facts) for gift in row.gifts],
        "more_gives": row.more_gifts,
    }


def _gift(gift: GiftFacts, facts: SourcesFacts) -> Json:
    promise, record = gift.promise, gift.record
    word, _ = state_of(gift, facts.today)
    return {
        "what": promise.gives,
        "state": word,
        "weekdays": [day for day in promise.days if isinstance(day, int)],
        "days": [day.isoformat() for day in promise.days if not isinstance(day, int)],
        "hour": f"{promise.at:%H:%M}",
        "since": day_said(promise.since),
        "until": day_said(promise.last_on),
        "closed": [[first.isoformat(), last.isoformat()] for first, last in promise.closed],
        "permission": promise.permission or None,
        "permission_ended": day_said(promise.permission_ended),
        "lately": _record(record.lately),
        "ever": _record(record.ever),
        "weekday_record": [
            {"weekday": row.weekday, "made": row.made, "missed": row.missed}
            for row in record.weekdays
        ],
        "last_made": day_said(record.last_made),
        "nobody_said": [day.isoformat() for day in record.nobody_said],
        "next": [_coming(row) for row in gift.coming],
        "came": [_came(row) for row in gift.came],
        "seasons": [_season(season) for season in gift.seasons],
        "nesting": None if gift.nesting is None else _season(gift.nesting),
    }


def _record(record: Record) -> Json:
    return {
        "times": record.times,
        "missed": record.missed,
        "mean": amount_said(round(record.mean_mg), "mg") if record.times else None,
        "least": None if record.least_mg is None else amount_said(record.least_mg, "mg"),
        "mean_pieces": _number(record.mean_pieces),
        "least_pieces": record.least_pieces,
    }


def _number(number: Fraction | None) -> str | None:
    return None if number is None else fraction_said(number)


def _coming(row: Coming) -> Json:
    expected = row.expected
    told = expected is not None and expected.confirmed_mg is not None
    return {
        "at": row.at.isoformat(timespec="seconds"),
        "how": row.how,
        "why_not": row.why_not or None,
        "told_of": amount_said(expected.confirmed_mg, "mg")
        if expected is not None and expected.confirmed_mg is not None
        else None,
        "likely": None if expected is None or told else amount_said(expected.likely_mg, "mg"),
        "worst": None if expected is None or told else amount_said(expected.worst_mg, "mg"),
    }


def _came(row: Came) -> Json:
    return {
        "on": row.on.isoformat(),
        "missed": row.missed,
        "amount": None if row.missed else amount_said(row.mg, "mg"),
        "pieces": row.pieces,
        "lot": row.lot or None,
    }


def _season(season: Season) -> Json:
    return {
        "part": season.part or None,
        "dates": season.dates,
        "kind": season.kind or None,
        "words": season.said,
        "basis": season.basis,
        "source": season.source or None,
        "own": season.own,
        "since": day_said(season.since),
    }
