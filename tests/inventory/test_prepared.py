"""A question that is put into SQL once answers like one that is put anew each time."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory.models import Lot, Posting, Studio
from inventory.prepared import KEPT_AT_MOST, Prepared, ValueReshaped, among
from tests.inventory.larder import DAY, MONDAY_NINE, stones


def _begun(*, studio: Studio, at: datetime) -> Any:
    rows = Lot.objects.of(studio).filter(posting__occurred_at__lte=at).order_by("code")
    return rows.values_list("code", "posting__occurred_at", "posting_id")


def test_asked_again_with_other_values_it_answers_as_if_it_were_put_anew(
    studio: Studio, other: Studio
) -> None:
    question = Prepared(_begun)
    for n, whose in enumerate((studio, studio, other)):
        stones(whose, f"AV-{n}", 500, at=MONDAY_NINE + n * DAY)

    for whose in (studio, other, studio):
        for at in (MONDAY_NINE - DAY, MONDAY_NINE, MONDAY_NINE + 3 * DAY):
            found = list(question.rows(studio=whose, at=at))
            assert found == list(_begun(studio=whose, at=at))
    assert [code for code, *_ in question.rows(studio=studio, at=MONDAY_NINE + DAY)] == [
        "AV-0",
        "AV-1",
    ]


def test_it_is_put_into_sql_once(studio: Studio) -> None:
    put: list[Studio] = []

    def build(*, studio: Studio, at: datetime) -> Any:
        put.append(studio)
        return _begun(studio=studio, at=at)

    question = Prepared(build)
    list(question.rows(studio=studio, at=MONDAY_NINE))
    times = len(put)
    with CaptureQueriesContext(connection) as asked:
        list(question.rows(studio=studio, at=MONDAY_NINE + DAY))

    assert (times, len(put), len(asked)) == (3, 3, 1)  # three times, to compare


def test_a_value_that_is_worked_on_is_refused_at_once(studio: Studio) -> None:
    def build(*, studio: Studio, at: datetime) -> Any:
        return _begun(studio=studio, at=at - timedelta(days=7))

    with pytest.raises(ValueReshaped, match="work the value out first"):
        Prepared(build).rows(studio=studio, at=MONDAY_NINE)


def test_a_question_that_looks_otherwise_for_another_value_is_refused(studio: Studio) -> None:
    def build(*, studio: Studio, at: datetime) -> Any:
        rows = _begun(studio=studio, at=at)
        return rows.filter(foraged=True) if at.hour % 2 else rows

    with pytest.raises(ValueReshaped):
        Prepared(build).rows(studio=studio, at=MONDAY_NINE)


def test_keys_are_one_value_however_many(studio: Studio) -> None:
    def build(*, studio: Studio, keys: Sequence[int]) -> Any:
        rows = Lot.objects.of(studio).filter(pk__in=among(keys)).order_by("code")
        return rows.values_list("pk", "code")

    question = Prepared(build)
    for n in range(3):
        stones(studio, f"AV-{n}", 500)
    keys = [pk for pk, _ in Lot.objects.of(studio).order_by("code").values_list("pk", "code")]

    assert list(question.rows(studio=studio, keys=())) == []
    assert [pk for pk, _ in question.rows(studio=studio, keys=tuple(keys[:2]))] == keys[:2]
    many = (*keys, *range(10**6, 10**6 + 40_000))  # more than there are places for
    assert [pk for pk, _ in question.rows(studio=studio, keys=many)] == keys


def test_keys_may_be_uuids(studio: Studio) -> None:
    def build(*, studio: Studio, keys: Sequence[UUID]) -> Any:
        rows = Posting.objects.of(studio).exclude(pk__in=among(keys, kind="uuid"))
        return rows.order_by("occurred_at").values_list("pk")

    question = Prepared(build)
    for n in range(2):
        stones(studio, f"AV-{n}", 500, at=MONDAY_NINE + n * DAY)
    first, second = Posting.objects.of(studio).order_by("occurred_at").values_list("pk", flat=True)

    assert [pk for (pk,) in question.rows(studio=studio, keys=())] == [first, second]
    assert [pk for (pk,) in question.rows(studio=studio, keys=(first,))] == [second]
    assert [pk for (pk,) in question.rows(studio=studio, keys=(second, uuid4()))] == [first]


def test_fixed_values_have_a_statement_each_and_only_so_many_are_kept(studio: Studio) -> None:
    def build(*, studio: Studio, skip: int) -> Any:
        return Lot.objects.of(studio).order_by("code").values_list("code")[skip : skip + 2]

    question = Prepared(build)
    for n in range(4):
        stones(studio, f"AV-{n}", 500)

    for skip, codes in ((0, ["AV-0", "AV-1"]), (3, ["AV-3"]), (0, ["AV-0", "AV-1"])):
        found = question.rows(studio=studio, fixed=(("skip", skip),))
        assert [code for (code,) in found] == codes
    for skip in range(3 * KEPT_AT_MOST):
        list(question.rows(studio=studio, fixed=(("skip", skip),)))
    assert len(question._known) == KEPT_AT_MOST


def test_texts_and_uuids_are_values_too(studio: Studio, other: Studio) -> None:
    def build(*, studio: Studio, code: str, entry: UUID) -> Any:
        rows = Lot.objects.of(studio).filter(code__gt=code, posting__entry=entry)
        return rows.order_by("code").values_list("code", "posting__entry")

    question, entries = Prepared(build), [uuid4(), uuid4()]
    for n, entry in enumerate(entries):
        stones(studio, f"AV-{n}", at=MONDAY_NINE, entry=entry)
    stones(other, "AV-1", at=MONDAY_NINE, entry=entries[1])

    for entry in entries:
        for code in ("AV", "AV-0", "AV-1", "It's 7000000000000000001, said nowhere"):
            values = {"studio": studio, "code": code, "entry": entry}
            assert list(question.rows(**values)) == list(build(**values)), (code, entry)
    assert list(question.rows(studio=studio, code="AV-0", entry=entries[1])) == [
        ("AV-1", entries[1])
    ]
