"""Another week for programs: ask for a search, see how far it has come and what it would change."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.utils import timezone
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.contract.answers.another_week import ANOTHER_WEEK, ASKED_FOR, EXAMPLE
from api.entries.fields import Code, Moment, OwnId, Said, Whole, Words, Yes
from api.models.seeks import FOUND, Seek
from api.question import check_words, question_of
from api.rest.bodies import read_body
from api.rest.contract import QUESTION, STUDIO, said
from api.rights import Right
from api.seeking import start
from api.seeking.asked import (
    LEFT,
    ask_seek,
    guidance_found,
    known_seek,
    last_seek,
    runs_to_stay,
    settle_seek,
    steps_to_stay,
    stop_seek,
    words_found,
)
from api.visitor import visitor_of
from sourcing.outlook import facts_at
from sourcing.remembered import week_of
from sourcing.week.differences import differences
from sourcing.week.project import DAYS_AT_MOST

RUNS_AT_MOST = 400
Json = dict[str, Any]


class StepSaid(Said):
    """A step that stays at its hour."""

    run = Code()
    step = Words(most=80, help_text="its word on the run sheet")


class SearchSaid(Said):
    """A search that is asked for."""

    id = OwnId(help_text="made by whoever asks; the same again is the same search")
    at = Moment(required=False, help_text="from which moment; left out: now")
    days = Whole(least=1, most=DAYS_AT_MOST, required=False, help_text="left out: 7")
    stays = serializers.ListField(child=Code(), max_length=RUNS_AT_MOST, required=False)
    steps = serializers.ListField(child=StepSaid(), max_length=RUNS_AT_MOST, required=False)
    near = Yes(required=False, default=False)


class AnotherWeekView(APIView):
    """GET: the search that was asked for last. POST: a new one."""

    least_to_write = Right.DYER

    @said(
        "another_week",
        summary="The last search for a better week, and what its week would change",
        about="`changes` are worked out anew from the facts at `at`. A week is taken by the entry "
        "`take-week` with `order`, `waits`, `sites` and `together` as they stand in `found`.",
        asks=QUESTION,
        answer=ANOTHER_WEEK,
        example=EXAMPLE,
        errors=(409,),
    )
    def get(self, request: Request) -> Response:
        question = question_of(request, what="Another week")
        seek = last_seek(question.studio)
        if seek is None:
            return Response({"search": None})
        changes = None
        if seek.state == FOUND:
            facts = facts_at(question.studio, at=question.at, days=question.days)
            other = week_of(replace(facts, guidance=guidance_found(seek)), days=question.days)
            week = week_of(facts, days=question.days)
            changes = [
                {"kind": row.kind, "what": row.what or None, "text": row.text}
                for row in differences(facts, week, other)
            ]
        return Response({"search": seek_as_json(seek, changes=changes)})

    @said(
        "look_for_another_week",
        summary="Look for a better week behind the pages",
        about="One search at a time in a studio: while one is under way it is the answer. "
        "`stays` are runs that keep their hours, `steps` single steps that keep theirs, "
        "or the answer's notes say which fact broke it; `near` moves as little as can be.",
        asks=(STUDIO,),
        body=ASKED_FOR,
        body_example={
            "id": "018f3c1e-7c1a-7000-8000-5a1d0f4c2b77",
            "days": 7,
            "stays": ["D"],
            "steps": [{"run": "C", "step": "hot alum"}],
        },
        answer=ANOTHER_WEEK,
        example=EXAMPLE,
        status=202,
        errors=(404, 409, 422),
    )
    def post(self, request: Request) -> Response:
        check_words(request.query_params, ("studio",), what="A search for another week")
        visitor = visitor_of(request, least=Right.DYER)
        body = read_body(SearchSaid, request, visitor.studio)
        at = body.get("at") or timezone.now().replace(second=0, microsecond=0)
        seek = ask_seek(
            visitor.studio, entry=body["id"], at=at, days=body.get("days", 7),
            stays=body.get("stays", ()), near=body["near"], by_whom=visitor.name,
            steps=[(row["run"], row["step"]) for row in body.get("steps", ())],
        )  # fmt: skip
        start.begin()
        return Response({"search": seek_as_json(seek, changes=None)}, status=202)


class SearchOverView(APIView):
    """DELETE: enough of a search; its best so far is kept, and what was found is left."""

    least_to_write = Right.DYER

    @said(
        "end_search",
        summary="Stop a search, or leave what it found",
        about="While it is under way it stops soon and keeps the best so far; what it has found "
        "is left as it is. Said twice it changes nothing.",
        asks=(STUDIO,),
        status=204,
        errors=(400,),
    )
    def delete(self, request: Request, search: UUID) -> Response:
        check_words(request.query_params, ("studio",), what="The end of a search")
        visitor = visitor_of(request, least=Right.DYER)
        known_seek(visitor.studio, search)
        stop_seek(visitor.studio, search, at=timezone.now())
        settle_seek(visitor.studio, search, LEFT, at=timezone.now())
        return Response(status=204)


def seek_as_json(seek: Seek, *, changes: list[Json] | None) -> Json:
    """A search under its stable names; moments with the studio's offset."""
    zone = ZoneInfo(seek.studio.zone)
    return {
        "id": str(seek.entry),
        "asked_at": seek.asked_at.astimezone(zone).isoformat(timespec="seconds"),
        "at": seek.at.astimezone(zone).isoformat(timespec="seconds"),
        "days": seek.days,
        "stays": runs_to_stay(seek),
        "steps": [{"run": run, "step": step} for run, step in steps_to_stay(seek)],
        "near": seek.near,
        "state": seek.state,
        "stopping": seek.stop_at is not None and not seek.ended_at,
        "progress": seek.progress or None,
        "found": dict(_found(seek)) or None,
        "changes": changes,
        "settled": seek.settled or None,
        "said": seek.said or None,
    }


def _found(seek: Seek) -> Iterator[tuple[str, Any]]:
    """What was found, its guidance in the words of the entry that takes it."""
    if not seek.found:
        return
    yield from words_found(seek).items()
    for name in ("goals", "plain", "bound", "status", "gap", "open_goal", "placings"):
        yield name, seek.found[name]
