"""The shelves as JSON: the same facts as on the page, under names that stay."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from api.shelves_asked import PARTS
from inventory.models import Studio, StudioRule
from tests.api.web.yard import MONDAY, load
from tests.inventory.larder import stones
from tests.sourcing.week.pellitory import MONDAY_0730

pytestmark = pytest.mark.django_db


@pytest.fixture
def yard() -> Studio:
    load()
    return Studio.objects.get(name="Pellitory Yard")


def answered(client: Client, **asked: str) -> dict[str, Any]:
    found: dict[str, Any] = client.get("/api/v1/shelves/", {"at": MONDAY, **asked}).json()
    return found


def by_code(rows: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {row["code"]: row for row in rows}


@pytest.mark.usefixtures("yard")
@pytest.mark.parametrize("part", PARTS)
def test_a_part_says_what_the_whole_says_of_it(client: Client, part: str) -> None:
    whole, alone = answered(client), answered(client, part=part)

    names = set(alone) - {"counts"}
    assert len(names & {"jars", "baths", "lots", "dyestuffs", "fibre", "supplies", "vessels",
                        "moved"}) == 1  # fmt: skip
    assert {name: alone[name] for name in names} == {name: whole[name] for name in names}
    assert all(whole["counts"][name] == count for name, count in alone["counts"].items())


@pytest.mark.usefixtures("yard")
def test_jars_give_state_level_goal_and_strength(client: Client) -> None:
    jars = by_code(answered(client)["jars"])

    assert {code: row["state"] for code, row in jars.items()} == {
        "J1": "steeping", "J2": "matured", "J3": "retest", "J4": "steeping", "J5": "set aside",
    }  # fmt: skip
    assert jars["J1"]["left"] == {"amount": "3", "unit": "L"}
    assert (jars["J1"]["next_dip"], jars["J1"]["usable_from"]) == (
        "2026-11-24",
        "2026-12-01T00:00:00+00:00",
    )
    assert jars["J2"]["strip"] == {"grade": 4, "age_days": 21, "good_to": "2027-01-31"}
    assert jars["J5"]["strength"] is None
    # 50 g/L acid / 3 / 60.052 / 2 mol of iron, as FeSO4.7H2O of 278.006 g/mol.
    assert float(jars["J1"]["strength"]["most_g_per_l"]) == pytest.approx(38.578, abs=0.001)


@pytest.mark.usefixtures("yard")
def test_lots_stand_with_what_spoils_first_in_front(client: Client) -> None:
    lots = answered(client)["lots"]

    assert [row["code"] for row in lots][:3] == ["AV-1109", "ON-1114", "AV-1116"]
    first = lots[2]
    assert (first["last_good_day"], first["days_left"], first["life_gone"]) == (
        "2026-11-23",
        0,
        "1",
    )
    assert by_code(lots)["ON-1114"]["left_out"] == "set aside"
    assert by_code(lots)["AV-1123"]["comes_at"] == "2026-11-23T17:00:00+00:00"


@pytest.mark.usefixtures("yard")
def test_sums_and_the_freezer_are_those_worked_by_hand(client: Client) -> None:
    found = answered(client)

    stones_there = next(row for row in found["dyestuffs"] if row["what"] == "avocado stones")
    assert stones_there["usable_tonight"] == {"amount": "6966", "unit": "g"}
    assert stones_there["left_out"] == [
        {"lot": "AV-1109", "left": {"amount": "640", "unit": "g"}, "why": "past"}
    ]
    assert found["freezer_tonight"]["over"] == {"amount": "966", "unit": "g"}
    assert found["lines"] == [
        {
            "code": "line",
            "holds": {"amount": "3000", "unit": "g"},
            "hangs": {"amount": "0", "unit": "g"},
            "outdoors": False,
        }
    ]


def test_a_figure_says_whose_it_is_and_the_studios_own_decides(
    client: Client, yard: Studio
) -> None:
    shipped = by_code(answered(client)["lots"])["NE-0620"]["figure"]
    StudioRule.objects.of(yard).create(item="nettle", name="keeps_dried_days", value=Decimal(100))

    lot = by_code(answered(client)["lots"])["NE-0620"]

    assert (shipped["value"], shipped["low"], shipped["high"], shipped["own"]) == (
        "365", "180", "730", False,
    )  # fmt: skip
    assert (lot["figure"]["value"], lot["figure"]["own"], lot["left_out"]) == ("100", True, "past")


def test_more_than_a_hundred_lots_come_page_by_page(client: Client, yard: Studio) -> None:
    for number in range(95):
        stones(yard, f"S-{number:03}", grams=10, at=MONDAY_0730)

    whole = answered(client)
    second = answered(client, part="lots", page="2")

    assert (len(whole["lots"]), whole["counts"]["lots"], whole["rows_at_most"]) == (100, 105, 100)
    assert (len(second["lots"]), "jars" in second, second["page"]) == (5, False, 2)
    codes = {row["code"] for row in (*whole["lots"], *second["lots"])}
    assert len(codes) == 105


def test_the_list_asks_seven_times_whatever_lies_there(client: Client, yard: Studio) -> None:
    assert connection.features.supports_json_field
    with CaptureQueriesContext(connection) as few:
        answered(client)
    for number in range(60):
        stones(yard, f"S-{number:03}", grams=10, at=MONDAY_0730)
    with CaptureQueriesContext(connection) as many:
        answered(client)

    assert len(few) == len(many) == 7


@pytest.mark.usefixtures("yard")
def test_a_part_that_there_is_not_is_a_problem_with_its_code(client: Client) -> None:
    refused = client.get("/api/v1/shelves/", {"part": "sofas"})

    assert refused.status_code == 400
    assert refused.headers["Content-Type"] == "application/problem+json"
    assert refused.json()["code"] == "part_unknown"
    assert "Ask for jars, baths" in refused.json()["detail"]


@pytest.mark.usefixtures("yard")
def test_what_moved_carries_amounts_with_their_units(client: Client) -> None:
    first = answered(client, part="moved")["moved"][0]

    assert first["what"] == "begin"
    assert first["amounts"] == [
        {
            "code": "J4",
            "of": "copper liquor",
            "change": {"amount": "1", "unit": "L"},
            "left": {"amount": "1", "unit": "L"},
        }
    ]
