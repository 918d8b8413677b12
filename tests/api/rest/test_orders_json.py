"""Fibre orders and needs as JSON: the same facts as on the page, under names that stay."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from inventory.models import Studio
from tests.api.web.market import MONDAY_0730, happened, order, with_suppliers
from tests.api.web.yard import MONDAY, load
from tests.once import once

pytestmark = pytest.mark.django_db


def _load() -> None:
    load()
    with_suppliers(Studio.objects.get())


made = once(_load)


@pytest.fixture(autouse=True)
def yard(made: None, db: None) -> Studio:
    return Studio.objects.get()


def answered(client: Client, address: str, **asked: str) -> dict[str, Any]:
    answer = client.get(address, {"at": MONDAY, **asked})
    assert answer.status_code == 200
    found: dict[str, Any] = answer.json()
    return found


def test_needs_name_the_fibre_its_runs_and_each_supplier_in_order(client: Client) -> None:
    (wool,) = answered(client, "/api/v1/needs/")["fibres"]

    assert (wool["fibre"], wool["form"], wool["legal_name"]) == ("wool", "yarn", "wool")
    assert wool["ready_to_dye"] == {"amount": "3720", "unit": "g"}
    assert wool["needs"] == [
        {"by": "2026-12-07", "ready_to_dye": {"amount": "3720", "unit": "g"}, "runs": ["G"]}
    ]
    near, far = wool["suppliers"]
    assert (near["supplier"], near["arrives_on"], near["total"]) == (
        "near shop", "2026-11-30", "112.00",
    )  # fmt: skip
    assert (near["in_time"], near["working_days_late"], near["lines"][0]["packs"]) == (True, 0, 4)
    assert (far["supplier"], far["arrives_on"], far["total"]) == (
        "far mill", "2026-12-09", "110.00",
    )  # fmt: skip
    assert (far["order_by"], far["working_days_late"], far["in_time"]) == ("2026-11-19", 2, False)


def test_needs_hold_the_cheapest_order_and_how_sure_it_is(client: Client) -> None:
    found = answered(client, "/api/v1/needs/")["together"]

    assert (found["total"], found["proof"], found["gap"]) == ("112.00", "cheapest", "0")
    assert [row["supplier"] for row in found["orders"]] == ["near shop"]
    assert (found["late"], found["nobody_sells"], found["not_counted"]) == ([], [], [])


def test_needs_say_of_every_run_what_it_takes_and_whose_day_it_is(client: Client) -> None:
    runs = {row["run"]: row for row in answered(client, "/api/v1/needs/")["runs"]}

    assert runs["G"]["takes"] == [{"from": "W-88", "ready_to_dye": {"amount": "280", "unit": "g"}}]
    assert (runs["G"]["needed_by"], runs["G"]["whose_day"]) == ("2026-12-07", "as the run says")
    assert runs["A"]["short"] == {"amount": "0", "unit": "g"}
    assert (runs["B"]["needed_by"], runs["B"]["legal_name"]) == (None, "flax or linen")


def test_orders_give_state_days_lines_and_what_happened(client: Client, yard: Studio) -> None:
    row = order(yard, 2_026_001)
    happened(row, "sent", at=MONDAY_0730, arrives_on=date(2026, 11, 30))

    found = answered(client, "/api/v1/orders/")

    (shown,) = found["orders"]
    assert (shown["number"], shown["label"], shown["state"]) == (2_026_001, "2026-001", "sent")
    assert (shown["open"], shown["overdue"], shown["expected_on"]) == (True, False, "2026-11-30")
    assert (shown["goods"], shown["carriage"], shown["total"]) == ("112.00", "4.50", "116.50")
    assert shown["lines"][0]["ordered"] == {"amount": "4000", "unit": "g"}
    assert [row["what"] for row in shown["happened"]] == ["sent"]
    assert found["counts"] == {"orders": 1}


def test_orders_come_so_many_at_a_time_the_newest_first_and_none_twice(
    client: Client, yard: Studio
) -> None:
    for n in range(1, 103):
        order(yard, 2_026_000 + n)

    first = answered(client, "/api/v1/orders/")
    order(yard, 2_026_103)
    second = client.get(first["next"]).json()

    assert [row["number"] for row in first["orders"]][:2] == [2_026_102, 2_026_101]
    assert len(first["orders"]) == 100
    assert [row["number"] for row in second["orders"]] == [2_026_002, 2_026_001]
    assert second["next"] is None


@pytest.mark.parametrize("cursor", ["", "x", "WzIwMjYwMDJd"])
def test_a_cursor_that_nobody_gave_out_is_refused_in_a_sentence(
    client: Client, cursor: str
) -> None:
    answer = client.get("/api/v1/orders/", {"at": MONDAY, "cursor": cursor})

    assert (answer.status_code, answer.json()["code"]) == (400, "cursor_unreadable")
    assert answer.json()["detail"].startswith("This cursor does not belong to this question.")


@pytest.mark.parametrize("address", ["/api/v1/orders/", "/api/v1/needs/"])
def test_an_answer_asks_at_most_eight_questions(client: Client, address: str) -> None:
    with CaptureQueriesContext(connection) as asked:
        answered(client, address)

    assert len(asked) <= 8
