"""The list of figures as JSON: filters, pages, whose figure is in use, and refusals."""

from __future__ import annotations

from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.test import Client
from pytest_django import DjangoAssertNumQueries

from inventory.science.catalogue import shipped
from inventory.science.library import library

pytestmark = pytest.mark.django_db

NOTEBOOK = Path(__file__).resolve().parents[3] / "fixtures" / "pellitory-yard"
MONDAY = {"at": "2026-11-23T07:30"}
IRON = "iron liquor (home-made iron acetate)"
NAMES = {
    "kind", "item", "property", "low", "typical", "high", "words", "unit", "case", "basis",
    "source", "known_on", "own", "since", "in_use",
}  # fmt: skip


@pytest.fixture(autouse=True)
def yard() -> None:
    """Pellitory Yard, loaded from its notebook."""
    call_command("load", str(NOTEBOOK), stdout=StringIO())


def ask(client: Client, **asked: str) -> dict[str, Any]:
    answer = client.get("/api/v1/figures/", {**MONDAY, **asked})
    assert answer.status_code == 200, answer.content
    found: dict[str, Any] = answer.json()
    return found


def test_all_pages_together_hold_every_row_once(client: Client) -> None:
    first = ask(client)
    rows, address = list(first["rows"]), first["next"]
    while address:
        page = client.get(address).json()
        assert page["count"] == first["count"]
        rows, address = rows + page["rows"], page["next"]

    of_catalogue = [row for row in rows if row["kind"] != "sums"]
    assert len(rows) == first["count"]
    assert len(of_catalogue) == sum(len(thing.rows) for thing in library().things)
    assert all(set(row) == NAMES for row in rows)
    own = {(row["item"], row["property"]) for row in rows if row["own"]}
    behind = {(row["item"], row["property"]) for row in rows if row["in_use"] is False}
    assert behind == own & {(row.item, row.name) for row in shipped().rows}


def test_a_page_holds_a_hundred_rows_and_the_last_what_is_left(client: Client) -> None:
    count = ask(client)["count"]
    last = -(-count // 100)

    assert len(ask(client)["rows"]) == 100
    assert len(ask(client, page=str(last))["rows"]) == count - (last - 1) * 100
    assert ask(client, page=str(last))["next"] is None


def test_filters_narrow_and_the_next_page_goes_on_with_them(client: Client) -> None:
    answer = ask(client, kind="dyestuff", property="hazard")
    long = ask(client, kind="fibre")

    assert answer["count"] == 45
    assert {(row["kind"], row["property"]) for row in answer["rows"]} == {("dyestuff", "hazard")}
    assert long["next"] == "/api/v1/figures/?at=2026-11-23T07%3A30&kind=fibre&page=2"


def test_rows_that_disagree_come_side_by_side_with_their_range(client: Client) -> None:
    answer = ask(client, item=IRON, property="vinegar_fraction")

    assert [row["typical"] for row in answer["rows"]] == ["33", "100"]
    assert answer["ranges"] == [{"unit": "% v/v", "low": "25", "high": "100"}]


def test_the_studio_s_own_figure_is_in_use_and_the_shipped_one_beside_it(client: Client) -> None:
    own, behind = ask(client, kind="sums", item="silk", property="metal_ceiling_percent")["rows"]

    assert (own["own"], own["in_use"], own["typical"]) == (True, True, "2")
    assert own["words"] == "careful ceiling"
    assert (behind["own"], behind["in_use"]) == (False, False)
    assert (behind["low"], behind["high"], behind["basis"]) == ("1", "4", "published")


def test_a_shipped_figure_alone_is_in_use(client: Client) -> None:
    (row,) = ask(client, kind="sums", item="silk", property="scour_loss_fraction")["rows"]

    assert (row["own"], row["in_use"], row["typical"], row["unit"]) == (False, True, "0.01", None)


def test_every_shipped_figure_of_the_sums_is_listed(client: Client) -> None:
    first = ask(client, kind="sums")
    rows, page, found = [*first["rows"]], 1, first
    while found["next"]:
        page += 1
        found = ask(client, kind="sums", page=str(page))
        rows += found["rows"]

    listed = {(row["item"], row["property"]) for row in rows if not row["own"]}
    assert listed == {(row.item, row.name) for row in shipped().rows}


def test_a_duty_has_its_region_and_day(client: Client) -> None:
    (row,) = ask(client, kind="duty", item="coins")["rows"]

    assert row["case"] == "United Kingdom"
    assert row["known_on"] == "2026-11-26"
    assert row["words"].endswith("check your local rules.")


def test_the_list_asks_the_database_twice(
    client: Client, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    with django_assert_max_num_queries(2):
        ask(client)


@pytest.mark.parametrize(
    ("asked", "code", "sentence"),
    [
        ({"kind": "plant"}, "filter_unreadable", "Figures are of the kind sums, dyestuff,"),
        ({"item": "moonbeam"}, "filter_unreadable", "No figure has item “moonbeam”. Ask without"),
        ({"kind": "fibre", "property": "cas"}, "filter_unreadable",
         "No figure has kind “fibre” and property “cas”."),
        ({"item": "x" * 121}, "filter_unreadable", "item has 121 letters; the longest has 120."),
        ({"page": "0"}, "filter_unreadable", "page is a whole number from 1 on; “0” is not."),
        ({"page": "two"}, "filter_unreadable", "page is a whole number from 1 on; “two” is not."),
        ({"kind": "duty", "page": "2"}, "filter_unreadable",
         "Page 2 was asked for; there is 1."),
        ({"colour": "pink"}, "parameter_unknown", "The list of figures is asked for with at,"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_a_problem_with_a_sentence(
    client: Client, asked: dict[str, str], code: str, sentence: str
) -> None:
    answer = client.get("/api/v1/figures/", asked)

    assert answer.status_code == 400
    assert answer.headers["Content-Type"] == "application/problem+json"
    assert answer.json()["code"] == code
    assert answer.json()["detail"].startswith(sentence)
