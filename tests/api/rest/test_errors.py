"""Each error of ours has one status, one code and its sentence; nobody's mistake is hidden."""

from __future__ import annotations

from datetime import datetime

import pytest
from django.http import Http404

from api.rest.errors import answer_problem
from inventory.errors import CodeTaken, LarderError, NoSuchLot, NoZone
from inventory.science.figures import NoFigure


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (NoSuchLot("AV-1"), 404),
        (CodeTaken("AV-1"), 409),
        (NoZone(datetime(2026, 11, 23, 7, 30)), 400),  # noqa: DTZ001 - naive is the case
    ],
)
def test_what_the_shelves_refuse_has_its_status(error: LarderError, status: int) -> None:
    answer = answer_problem(error, {})

    assert answer is not None
    assert answer.status_code == answer.data["status"] == status
    assert answer.data["code"] == error.code
    assert answer.data["detail"] == str(error)


def test_values_stand_beside_the_sentence() -> None:
    answer = answer_problem(NoSuchLot("AV-1"), {})

    assert answer is not None
    assert answer.data["lot"] == "AV-1"
    assert (answer.data["type"], answer.data["title"]) == ("about:blank", "Not Found")


def test_a_missing_figure_says_where_to_write_it() -> None:
    answer = answer_problem(NoFigure("studio", "drying_h"), {})

    assert answer is not None
    assert (answer.status_code, answer.data["code"]) == (409, "figure_missing")
    assert answer.data["detail"] == (
        "No figure for drying_h of studio. Write one in the studio's rules: studio, drying_h."
    )
    assert (answer.data["item"], answer.data["name"]) == ("studio", "drying_h")


def test_a_refusal_of_the_framework_takes_the_same_form() -> None:
    answer = answer_problem(Http404(), {})

    assert answer is not None
    assert answer.content_type == "application/problem+json"
    assert answer.data["code"] == "not_found"
    assert set(answer.data) == {"type", "title", "status", "detail", "code", "at"}


def test_what_nobody_foresaw_is_not_answered_here() -> None:
    assert answer_problem(ZeroDivisionError("x"), {}) is None
