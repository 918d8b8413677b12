"""The thank-you and the totals as JSON: the same facts as on page and in file."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client

from inventory.models import Studio
from tests.once import once
from tests.sourcing.lantern import CAFE, STONE_MG, STONES, autumn, dye, wool, yard

pytestmark = pytest.mark.django_db
ASKED = {"at": "2026-10-31T09:00", "since": "2026-09-01"}
SAVED = {"amount": "25704", "unit": "g"}


def _load() -> None:
    """612 stones, all of which dyed 17.136 kg of wool."""
    found = yard()
    codes = autumn(found)
    wool(found, 40_000_000)
    dye(found, {code: 51 * STONE_MG for code in codes}, 17_136_000)


made = once(_load)


@pytest.fixture(autouse=True)
def studio(made: None, db: None) -> Studio:
    return Studio.objects.get()


def asked(address: str, status: int = 200, **words: str) -> dict[str, Any]:
    answer = Client().get(f"/api/v1/{address}/", {**ASKED, **words})
    assert answer.status_code == status, answer.json()
    found: dict[str, Any] = answer.json()
    return found


def test_612_stones_were_saved_and_dyed_with() -> None:
    (cafe,) = asked("thanks", source=CAFE)["sources"]

    assert (cafe["source"], cafe["made"], cafe["missed"]) == (CAFE, 12, 0)
    (stones,) = cafe["gave"]
    assert (stones["dyestuff"], stones["pieces"], stones["saved"]) == (STONES, 612, SAVED)
    assert stones["became"]["dyed_with"] == SAVED
    assert stones["fibre"] == [{"fibre": "wool", "amount": {"amount": "17136", "unit": "g"}}]
    assert [row["pieces"] for row in stones["given"]] == [51] * 12
    assert stones["runs"][0]["took"] == SAVED


def test_totals_are_those_of_all_sources_and_add_up() -> None:
    totals = asked("totals")
    every = asked("thanks")["sources"]

    assert totals["in_all"] == len(totals["totals"])
    assert [row["source"] for row in totals["totals"]] == [
        row["source"] for row in every for _ in row["gave"]
    ]
    for row in (totals["all"], *totals["totals"]):
        became = sum(Decimal(mass["amount"]) for mass in row["became"].values())
        assert became == Decimal(row["saved"]["amount"])


def test_a_source_that_gave_nothing_in_the_time_is_named_with_nothing() -> None:
    (cafe,) = asked("thanks", since="2026-10-31", source=CAFE)["sources"]

    assert (cafe["made"], cafe["gave"], cafe["all"]["kept"]) == (0, [], None)
    assert CAFE not in [row["source"] for row in asked("totals", since="2026-10-31")["totals"]]


@pytest.mark.parametrize(
    ("words", "status", "code"),
    [
        ({"source": "Café"}, 404, "no_such_source"),
        ({"source": "a\x00"}, 404, "no_such_source"),
        ({"source": ""}, 404, "no_such_source"),
        ({"since": "2027-01-01"}, 400, "since_unreadable"),
        ({"page": "0"}, 400, "page_unknown"),
        ({"gives": STONES}, 400, "parameter_unknown"),
    ],
)
def test_what_cannot_be_asked_is_said(words: dict[str, str], status: int, code: str) -> None:
    assert asked("thanks", status, **words)["code"] == code
