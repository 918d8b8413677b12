"""The address of a what-if: its examples are taken, its refusals point, and nothing is kept."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from api.what_if.kinds import KINDS
from tests.api.what_if.asking import MONDAY, WEEK, asked, moved, plain, pointers
from tests.faults.verbs import rows

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("yard")]

LINE = {"change": "line room", "more": "0.5 kg", "from": "2026-11-27T00:00"}
LOSS = {"change": "another figure", "item": "wool", "rule": "scour loss fraction", "value": "20 %"}
MISSED = {"change": "pick-up missed", "source": "Lantern Steps café", "on": "2026-11-26"}
NONE_RUN = "No run is called Q here. There are A, B, C, D, E, F and G."


def run(answer: dict[str, Any], code: str) -> dict[str, Any]:
    (row,) = [row for row in answer["changed"] if row["run"] == code]
    return row


def test_all_examples_that_settle_other_things_are_answered_together() -> None:
    apart = [each.example for word, each in KINDS.items()
             if word not in ("pick-up comes", "jar gone")]  # fmt: skip

    answer = asked(*apart)

    assert len(apart) == 19
    assert moved(answer)


def test_no_change_is_the_week_as_it_is() -> None:
    answer = asked()

    assert moved(answer) == []
    assert answer.pop("understood") == []
    del answer["changed"]
    assert answer == plain()


def test_half_a_kilo_more_line_on_friday_is_a_yes_for_oak_grey() -> None:
    answer = asked(LINE)

    grey = run(answer, "E")
    assert moved(answer) == ["E"]
    assert grey["from"]["answer"] == "not yet"
    assert grey["to"] == {
        "answer": "yes",
        "first_step_at": "2026-11-26T13:00:00+00:00",
        "dry_at": "2026-11-29T15:00:00+00:00",
        "late": False,
        "short": [],
    }
    assert grey["changes"][0]["text"] == "answer not yet becomes yes"
    assert answer["understood"] == [
        {"pointer": "/changes/0/more", "words": "0.5 kg", "amount": "500", "unit": "g",
         "understood": "0.5 kg = 500 g"}
    ]  # fmt: skip
    friday = next(day for day in answer["days"] if day["date"] == "2026-11-27")
    assert (friday["hands_on_min"], friday["line"][-1]["kg"]) == (235, "3.5")


def test_a_fifth_lost_in_the_scour_leaves_blush_100_g_short() -> None:
    answer = asked(LOSS)

    assert run(answer, "A")["to"]["answer"] == "no"
    assert run(answer, "A")["to"]["short"] == [
        {"what": "wool", "amount": {"amount": "100", "unit": "g"}, "pieces": None}
    ]
    assert answer["understood"][0]["understood"] == "scour loss fraction = 0.2"


def test_thursday_missed_moves_what_is_waited_for_and_no_answer() -> None:
    answer = asked(MISSED)

    rose = run(answer, "B")
    assert moved(answer) == ["G", "B"]
    assert rose["from"]["answer"] == rose["to"]["answer"] == "no"
    assert rose["changes"][0]["text"] == (
        "avocado stones likely enough from Fri 27 Nov becomes Tue 1 Dec"
    )


def test_another_moment_is_asked_for_in_the_body() -> None:
    answer = asked(at="2026-11-27T18:00")

    del answer["changed"], answer["understood"]
    assert answer == plain(at="2026-11-27T18:00")
    assert len(asked(days=3)["days"]) == 3


@pytest.mark.parametrize(
    ("body", "where"),
    [
        ({}, "/changes"),
        ({"changes": "all"}, "/changes"),
        ({"changes": [LINE] * 21}, "/changes"),
        ({"changes": [LINE, 7]}, "/changes/1"),
        ({"changes": [{}]}, "/changes/0/change"),
        ({"changes": [{"change": "weather"}]}, "/changes/0/change"),
        ({"changes": [{"change": "run left out"}]}, "/changes/0/run"),
        ({"changes": [{"change": "run left out", "run": "A", "why": "no"}]}, "/changes/0/why"),
        ({"changes": [{"change": "line room"}]}, "/changes/0"),
        ({"changes": [{**LINE, "less": "1 kg"}]}, "/changes/0"),
        ({"changes": [{"change": "jar dipped", "jar": "J3", "strip": 6}]}, "/changes/0/strip"),
        ({"changes": [{**LINE, "more": "0" * 101}]}, "/changes/0/more"),
        ({"changes": [{"change": "lot found bad", "lot": ""}]}, "/changes/0/lot"),
        ({"changes": [{**LINE, "more": {"amount": "0" * 41, "unit": "g"}}]}, "/changes/0/more"),
        ({"changes": [], "days": 29}, "/days"),
        ({"changes": [], "studio": "Pellitory Yard"}, "/studio"),
    ],
)
def test_what_breaks_the_form_is_400_with_its_place(body: dict[str, Any], where: str) -> None:
    answer = Client().post(WEEK, body, content_type="application/json")

    assert (answer.status_code, pointers(answer.json())) == (400, [where])


@pytest.mark.parametrize(
    ("change", "where", "sentence"),
    [
        ({"change": "run left out", "run": "Q"}, "/changes/0/run", NONE_RUN),
        ({"change": "lot found bad", "lot": "\v "}, "/changes/0/lot",
         "This field may not be blank."),
        ({**LOSS, "value": "much"}, "/changes/0/value",
         "Write a figure such as 5 %, 48 h or 0.7."),
        ({**LOSS, "value": "3 d"}, "/changes/0/value",
         "The rule is not counted in d. Write it in %."),
        ({"change": "another due date", "run": "E", "due": "2026-03-29T01:30"}, "/changes/0/due",
         "There is no 01:30 on Sun 29 Mar 2026 in Europe/London: the clocks go forward over it. "
         "Give an earlier or a later time."),
    ],
)  # fmt: skip
def test_what_cannot_be_understood_is_422_with_its_place(
    change: dict[str, Any], where: str, sentence: str
) -> None:
    answer = asked(change, status=422)

    assert answer["code"] == "fields_unclear"
    assert answer["errors"] == [{"pointer": where, "detail": sentence}]


@pytest.mark.parametrize(
    "more",
    ["0" * 100, {"amount": "-" + "0" * 39, "unit": "g"}, {"amount": "9" * 40, "unit": "x" * 20}],
)
def test_an_amount_that_has_the_form_of_the_contract_is_at_worst_unclear(more: object) -> None:
    answer = asked({**LINE, "more": more}, status=422)

    assert (answer["code"], pointers(answer)) == ("fields_unclear", ["/changes/0/more"])


def test_an_amount_of_forty_digits_is_read() -> None:
    more = {"amount": "0" * 37 + "0.5", "unit": "kg"}

    assert moved(asked({**LINE, "more": more})) == ["E"]


def test_all_that_is_wrong_is_told_at_once() -> None:
    gone = {"change": "run left out", "run": "Q"}
    answer = asked(gone, LINE, {**LINE, "line": "loft"}, gone, status=422)

    assert pointers(answer) == ["/changes/0/run", "/changes/2/line", "/changes/3/run", "/changes/3"]


def test_a_word_in_the_address_that_belongs_into_the_body_is_refused() -> None:
    answer = Client().post(f"{WEEK}?at={MONDAY}", {"changes": []}, content_type="application/json")

    assert answer.status_code == 400
    assert answer.json()["detail"] == "A what-if is asked for with studio; not with “at”."


def test_every_example_is_answered_and_nothing_kept_even_where_nothing_can_be() -> None:
    before = rows()

    def refusing(execute: Callable[..., Any], sql: str, *rest: Any) -> Any:
        assert sql.lstrip("( ").upper().startswith(("SELECT", "WITH")), sql
        return execute(sql, *rest)

    with connection.execute_wrapper(refusing):
        for each in KINDS.values():
            assert asked(each.example, compare=False)["changed"] is None

    assert rows() == before


def test_a_what_if_reads_what_the_week_reads_once_more_for_a_figure() -> None:
    reads = []
    for ask in (plain, lambda: asked(LINE, MISSED), lambda: asked(LOSS)):
        with CaptureQueriesContext(connection) as read:
            ask()
        reads.append(len(read))

    week, otherwise, figure = reads
    assert otherwise <= week + 1  # the studio's own words for what it counts
    assert figure <= 2 * week
