"""Each error of ours has one status, one code and its sentence; nobody's mistake is hidden."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any
from uuid import UUID

import pytest
from django.core.exceptions import SuspiciousOperation
from django.http import Http404
from django.test import RequestFactory
from rest_framework import serializers
from rest_framework.exceptions import MethodNotAllowed, NotAuthenticated, ValidationError

from api.rest.errors import answer_problem
from api.rest.fields import ERRORS_AT_MOST, FieldsUnclear
from inventory.errors import (
    CodeTaken,
    EntryUsed,
    LarderError,
    NoSuchLot,
    NotConserved,
    NotEnough,
    NotKept,
    NoZone,
)
from inventory.science.figures import NoFigure
from inventory.science.unclear import Missing
from sourcing.errors import CutLater, OtherFibre

NINE = datetime(2026, 11, 23, 9, 0, tzinfo=UTC)
ENTRY = UUID("018f3c1e-7c1a-7000-8000-5a1d0f4c2b11")


def _answered(error: Exception, **context: Any) -> dict[str, Any]:
    answer = answer_problem(error, context)
    assert answer is not None
    assert answer.content_type == "application/problem+json"
    assert answer.status_code == answer.data["status"]
    found: dict[str, Any] = answer.data
    return found


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (NoSuchLot("AV-1"), 404),
        (CodeTaken("AV-1"), 409),
        (NoZone(datetime(2026, 11, 23, 7, 30)), 400),  # noqa: DTZ001 - naive is the case
        (EntryUsed(entry=ENTRY, kind="draw", at=NINE), 422),
        (NotKept("note", "", "is empty", "Say it."), 422),
    ],
)
def test_what_the_shelves_refuse_has_its_status(error: LarderError, status: int) -> None:
    body = _answered(error)

    assert body["status"] == status
    assert body["code"] == error.code
    assert body["detail"] == str(error)


def test_the_type_leads_to_the_page_under_the_name_that_was_asked() -> None:
    asked = RequestFactory().get("/api/v1/week/", headers={"host": "127.0.0.1:8000"})
    strange = RequestFactory().get("/api/v1/week/", headers={"host": "elsewhere.example"})

    assert _answered(NoSuchLot("AV-1"))["type"] == "/problems/no-such-lot/"
    assert _answered(NoSuchLot("AV-1"))["title"] == "No such lot"
    whole = _answered(NoSuchLot("AV-1"), request=asked)
    assert whole["type"] == "http://127.0.0.1:8000/problems/no-such-lot/"
    assert _answered(NoSuchLot("AV-1"), request=strange)["type"] == "/problems/no-such-lot/"


def test_where_the_service_has_an_address_the_type_is_the_same_for_everyone(settings: Any) -> None:
    settings.ADDRESS = "https://larder.pellitory.example"
    asked = RequestFactory().get("/api/v1/week/", headers={"host": "127.0.0.1:8000"})

    for context in ({}, {"request": asked}):
        assert _answered(NoSuchLot("AV-1"), **context)["type"] == (
            "https://larder.pellitory.example/problems/no-such-lot/"
        )


def test_an_error_that_nobody_described_is_refused_all_the_same() -> None:
    class Undescribed(LarderError):
        code = "_".join(("nobody", "described", "this"))

    body = _answered(Undescribed("The vat sulks."))

    assert (body["status"], body["type"], body["title"]) == (409, "about:blank", "Conflict")
    assert (body["code"], body["detail"]) == ("nobody_described_this", "The vat sulks.")


def test_amounts_stand_beside_the_sentence_as_said_and_as_whole_mg() -> None:
    body = _answered(
        NotEnough(lot="17", what="privet dried", asked=900_000, left=640_500, unit="mg", at=NINE)
    )

    assert body["asked"] == {"amount": "900", "unit": "g"}
    assert body["left"] == {"amount": "640.5", "unit": "g"}
    assert (body["asked_mg"], body["left_mg"], body["short_mg"]) == (900_000, 640_500, 259_500)
    assert (body["lot"], body["unit"]) == ("17", "mg")
    assert datetime.fromisoformat(body["at"]) > NINE  # of the answer, not of the draw


def test_a_volume_is_said_in_litres_and_a_sum_that_does_not_add_up_in_grams() -> None:
    liquor = NotEnough(lot="J-3", what="iron", asked=2_000_000, left=450_000, unit="µL", at=NINE)
    sum_ = NotConserved(material="stones", taken=1_000_000, made=900_000, lost=50_000)

    assert _answered(liquor)["asked"] == {"amount": "2", "unit": "L"}
    assert _answered(liquor)["left_ul"] == 450_000
    assert _answered(sum_)["gap"] == {"amount": "50", "unit": "g"}


def test_days_and_lists_of_an_error_have_forms_of_json() -> None:
    cut = CutLater(gives="privet", cut_on=NINE.date(), came_on=NINE.date())
    fibre = OtherFibre(recipe="rose", fibre="linen", fibres=("wool", "silk"))

    assert _answered(cut)["cut_on"] == "2026-11-23"
    assert _answered(fibre)["fibres"] == ["wool", "silk"]


def test_a_missing_figure_says_where_to_write_it() -> None:
    body = _answered(NoFigure("studio", "drying_h"))

    assert (body["status"], body["code"]) == (409, "figure_missing")
    assert body["detail"] == (
        "No figure for drying_h of studio. Write one in the studio's rules: studio, drying_h."
    )
    assert (body["item"], body["name"]) == ("studio", "drying_h")


def test_a_refusal_of_the_framework_takes_the_same_form() -> None:
    body = _answered(Http404())

    assert body["code"] == "not_found"
    assert set(body) == {"type", "title", "status", "detail", "code", "at"}
    assert _answered(MethodNotAllowed("PUT"))["code"] == "method_not_allowed"
    assert _answered(NotAuthenticated())["detail"] == (
        "Sign in, or send a token as Authorization: Bearer TOKEN."
    )
    assert _answered(SuspiciousOperation("what it was"))["code"] == "request_unreadable"
    assert "what it was" not in _answered(SuspiciousOperation("what it was"))["detail"]


class Take(serializers.Serializer[Any]):
    amount = serializers.CharField()


class Draw(serializers.Serializer[Any]):
    takes = Take(many=True)
    tags = serializers.ListField(child=serializers.IntegerField())

    def validate(self, attrs: Any) -> Any:
        raise serializers.ValidationError("A draw is for a run or for a purpose.")


def test_each_field_that_breaks_the_schema_is_pointed_at() -> None:
    draw = Draw(data={"takes": [{"amount": "2 lb"}, {}, {"amount": []}], "tags": [1, "x"]})
    assert not draw.is_valid()

    body = _answered(ValidationError(draw.errors))

    assert (body["status"], body["code"]) == (400, "fields_unreadable")
    assert body["detail"] == "3 fields are not readable: look at errors."
    assert body["errors"] == [
        {"pointer": "/takes/1/amount", "detail": "This field is required."},
        {"pointer": "/takes/2/amount", "detail": "Not a valid string."},
        {"pointer": "/tags/1", "detail": "A valid integer is required."},
    ]


def test_what_is_wrong_with_a_whole_body_is_pointed_at_as_a_whole() -> None:
    draw = Draw(data={"takes": [], "tags": []})
    assert not draw.is_valid()

    body = _answered(ValidationError(draw.errors))

    assert body["errors"] == [{"pointer": "", "detail": "A draw is for a run or for a purpose."}]
    assert body["detail"] == "The body: A draw is for a run or for a purpose."


def test_names_in_a_pointer_are_escaped() -> None:
    body = _answered(ValidationError({"m~a/b": ["Unknown."]}))

    assert body["errors"] == [{"pointer": "/m~0a~1b", "detail": "Unknown."}]


def test_fields_that_are_not_understood_are_answered_with_their_places() -> None:
    sentence = "“2 bags”: “bags” at character 3 was not understood."

    body = _answered(FieldsUnclear([("/takes/0/amount", sentence)]))

    assert (body["status"], body["code"]) == (422, "fields_unclear")
    assert body["detail"] == f"/takes/0/amount: {sentence}"
    assert body["errors"] == [{"pointer": "/takes/0/amount", "detail": sentence}]


def test_no_more_errors_are_told_than_somebody_mends_at_once() -> None:
    body = _answered(FieldsUnclear([(f"/{place}", "Not so.") for place in range(1_000)]))

    assert len(body["errors"]) == ERRORS_AT_MOST
    assert body["detail"] == "1000 fields are not understood: look at errors."


def test_an_amount_that_reached_the_shelves_unread_is_not_our_fault() -> None:
    body = _answered(Missing("2", "the unit is left out", write="Write 2 kg or 2 lb."))

    assert (body["status"], body["code"]) == (422, "amount_unclear")
    assert body["write"] == "Write 2 kg or 2 lb."


def test_what_nobody_foresaw_is_not_answered_here() -> None:
    assert answer_problem(ZeroDivisionError("x"), {}) is None
