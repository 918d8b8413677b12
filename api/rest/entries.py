"""Entries by programs and phones: one by its verb, many at once, and what came of each."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.http import HttpResponse
from django.utils import timezone
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.contract.shapes import MOMENT, TEXT, WHOLE, YES, Shape, about, maybe, one_of, ref, taken
from api.contract.shapes import UUID as UUID_SHAPE
from api.contract.shapes import record as record_shape
from api.contract.shapes import rows as rows_of
from api.entries.allowed import must
from api.entries.answers import entry_said
from api.entries.batch import AT_MOST, Refused, record_all
from api.entries.clock import Clock
from api.entries.contract import said_shape
from api.entries.errors import EntryUnknown
from api.entries.fields import Moment, Note, Said
from api.entries.listed import entries_listed, listed_asked
from api.entries.reading import body_of, context_of, read_entry
from api.entries.record import find, record
from api.entries.registry import VERBS
from api.entries.settle import let_go, record_after_all
from api.entries.verb import Verb
from api.models.entries import NEEDS_A_LOOK, RECORDED, STATES
from api.question import check_words
from api.rest.conditional import answered
from api.rest.contract import CURSOR, LIMIT, STUDIO, Word, said
from api.rest.fields import unfit
from api.visitor import Right, visitor_of
from inventory.science.saying import say

SHOWN_ID, SHOWN_AT = "018f3c1e-7c1a-7000-8000-5a1d0f4c2b11", "2026-11-23T08:30:00+00:00"
STATUS = {RECORDED: 201, NEEDS_A_LOOK: 202}
STATE = Word("state", one_of(*STATES), "Only entries in this state.")
ANSWER = about(
    record_shape(
        ("entry", "problem"),
        id=maybe(TEXT),
        again=about(YES, "It had come before; this is its first answer."),
        status=about(WHOLE, "As it would have been answered alone; 202: it needs a look."),
        entry=ref("Entry"),
        problem=ref("Problem"),
    ),
    "The answer to one entry of a batch: what came of it, or why it is not kept.",
)


class EntryView(APIView):
    """POST: one entry of a verb."""

    verb: Verb

    def enter(self, request: Request) -> Response:
        check_words(request.query_params, ("studio",), what="An entry")
        visitor = visitor_of(request, least=self.verb.least)
        body = _object(request.data)
        read = read_entry(self.verb, body, visitor.studio)
        clock = Clock(timezone.now(), read.sent_at)
        done = record(self.verb, read, body, visitor=visitor, clock=clock)
        status = 200 if done.again else STATUS.get(done.row.state, 200)
        return Response(entry_said(done.row), status=status)


def view_of(verb: Verb) -> type[EntryView]:
    """The view of one verb, under a name of its own."""
    example = {"id": SHOWN_ID, "occurred_at": SHOWN_AT, **verb.example}

    @said(
        f"enter_{verb.name.replace('-', '_')}",
        summary=verb.says.rstrip("."),
        about=f"{verb.says} Needs the right of {verb.least} or more.",
        tag=verb.noun,
        asks=(STUDIO,),
        body=said_shape(body_of(verb)()),
        body_example=example,
        answer=ref("Entry"),
        example=_shown_answer(verb),
        status=201,
        also=(200,),
        errors=(404, 409, 422),
    )
    def post(self: EntryView, request: Request) -> Response:
        return self.enter(request)

    name = "".join(part.capitalize() for part in verb.name.split("-"))
    return type(f"{name}EntryView", (EntryView,), {"verb": verb, "post": post})


def _shown_answer(verb: Verb) -> dict[str, Any]:
    """What an entry of a verb is answered, as the contract shows it."""
    return {
        "id": SHOWN_ID,
        "verb": verb.name,
        "state": RECORDED,
        "occurred_at": SHOWN_AT,
        "said_at": SHOWN_AT,
        "recorded_at": "2026-11-23T08:30:12+00:00",
        "clock_off_s": None,
        "by": "the owner",
        "noun": verb.noun,
        "key": "AV-1116",
        "values": {},
        "moved": [],
        "understood": [],
    }


class BatchSaid(Said):
    """Many entries as they are sent together."""

    sent_at = Moment(required=False, help_text="the clock of the device as it sends them")
    entries = serializers.ListField(child=serializers.DictField(), min_length=1, max_length=AT_MOST)


ITEM: Shape = {
    "type": "object",
    "properties": {
        "id": UUID_SHAPE,
        "verb": one_of(*VERBS),
        "occurred_at": MOMENT,
    },
    "required": ["id", "verb", "occurred_at"],
    "additionalProperties": True,  # those of its verb
    "description": "An entry as it would be sent alone, with its verb: `/api/v1/entries/VERB/`.",
}
BATCH: Shape = taken(
    ("sent_at",),
    sent_at=about(MOMENT, "The clock of the device as it sends them."),
    entries={"type": "array", "items": ITEM, "minItems": 1, "maxItems": AT_MOST},
)


class EntriesView(APIView):
    """GET: entries, newest first. POST: many at once, each answered on its own."""

    @said(
        "entries",
        summary="What was entered, newest first",
        asks=(STUDIO, STATE, LIMIT, CURSOR),
        answer=record_shape(entries=rows_of(ref("Entry")), next=maybe(TEXT)),
        example={"entries": [], "next": None},
        fresh=True,
    )
    def get(self, request: Request) -> HttpResponse:
        """Entries with their answers; `state=needs a look` gives those that wait for somebody."""
        asked, words = request.query_params, ("studio", "state", "limit", "cursor")
        check_words(asked, words, what="The list of entries")
        visitor = visitor_of(request)
        listed = listed_asked(asked)
        found, following = entries_listed(visitor.studio, listed)
        address = None
        if following is not None:
            query = {**{name: asked[name] for name in words if name in asked}, "cursor": following}
            address = request.build_absolute_uri(f"{request.path}?{urlencode(query)}")
        return answered(request, {"entries": [entry_said(row) for row in found], "next": address})

    @said(
        "enter_all",
        summary="Many entries at once, in any order, each answered on its own",
        asks=(STUDIO,),
        body=BATCH,
        body_example={
            "sent_at": "2026-11-23T09:00:00+00:00",
            "entries": [
                {"id": SHOWN_ID, "verb": "dip", "occurred_at": SHOWN_AT, "jar": "J2", "grade": 4}
            ],
        },
        answer=record_shape(received_at=MOMENT, answers=rows_of(ANSWER)),
        example={"received_at": "2026-11-23T09:00:02+00:00", "answers": []},
        errors=(404, 422),
    )
    def post(self, request: Request) -> Response:
        """Entries are recorded in the order in which they happened. What the shelves refuse is

        kept with its reason under `needs a look`, and nothing is dropped.
        """
        check_words(request.query_params, ("studio",), what="A batch of entries")
        visitor = visitor_of(request, least=Right.HELPER)
        batch = BatchSaid(data=_object(request.data), context=context_of(visitor.studio))
        batch.is_valid(raise_exception=True)
        clock = Clock(timezone.now(), batch.validated_data.get("sent_at"))
        outcomes = record_all(batch.validated_data["entries"], visitor=visitor, clock=clock)
        bodies = batch.validated_data["entries"]
        answers = [_one(body, outcome) for body, outcome in zip(bodies, outcomes, strict=True)]
        return Response({"received_at": clock.now.isoformat(), "answers": answers})


class OneEntryView(APIView):
    """GET: what came of one entry."""

    @said("entry", summary="What came of one entry", asks=(STUDIO,), answer=ref("Entry"),
          example=_shown_answer(VERBS["dip"]), fresh=True)  # fmt: skip
    def get(self, request: Request, entry: UUID) -> HttpResponse:
        check_words(request.query_params, ("studio",), what="An entry")
        found = find(visitor_of(request), entry)
        if found is None:
            raise EntryUnknown(entry)
        return answered(request, entry_said(found))


class SettleSaid(Said):
    """How an entry that needed a look is settled."""

    how = serializers.ChoiceField(("record", "let go"))
    instead = serializers.DictField(required=False, help_text="fields in place of those said")
    note = Note()


class SettleView(APIView):
    """POST: an entry that needed a look, recorded after all or let go."""

    @said(
        "settle_entry",
        summary="Have an entry recorded that needed a look, or let it go",
        about="With `instead` other fields are taken in place of those said. Letting go needs the "
        "right of dyer.",
        asks=(STUDIO,),
        body=said_shape(SettleSaid()),
        body_example={
            "how": "record",
            "instead": {"takes": [{"lot": "AV-1116", "amount": "40 g"}]},
        },
        answer=ref("Entry"),
        example=_shown_answer(VERBS["draw"]),
        errors=(409, 422),
    )
    def post(self, request: Request, entry: UUID) -> Response:
        check_words(request.query_params, ("studio",), what="An entry")
        visitor = visitor_of(request, least=Right.HELPER)
        settle = SettleSaid(data=_object(request.data))
        settle.is_valid(raise_exception=True)
        how, note = settle.validated_data["how"], settle.validated_data.get("note", "")
        if how == "record":
            instead = settle.validated_data.get("instead", {})
            return Response(
                entry_said(record_after_all(visitor, entry, instead=instead, note=note))
            )
        must(visitor, Right.DYER)
        return Response(entry_said(let_go(visitor, entry, note=note)))


def _one(body: dict[str, Any], outcome: Any) -> dict[str, Any]:
    """The answer to one entry of a batch."""
    if isinstance(outcome, Refused):
        problem = dict(outcome.problem)
        said = body.get("id")
        return {
            "id": said if isinstance(said, str) else None,
            "again": False,
            "status": problem["status"],
            "problem": problem,
        }
    row = outcome.row
    return {
        "id": str(row.entry),
        "again": outcome.again,
        "status": 200 if outcome.again else STATUS.get(row.state, 200),
        "entry": entry_said(row),
    }


def _object(data: Any) -> dict[str, Any]:
    if not isinstance(data, dict):
        raise unfit(say("Send one JSON object."))
    return data
