"""The doors to a missed visit: shell, address. The sums are tested two floors down."""

from __future__ import annotations

import json
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.test import Client

from tests.once import once

pytestmark = pytest.mark.django_db

NOTEBOOK = Path(__file__).resolve().parents[2] / "fixtures" / "pellitory-yard"
MONDAY = "2026-11-23T07:30"
CAFE = "Lantern Steps café"
THURSDAY = {"source": CAFE, "gives": "avocado stones", "on": "2026-11-26", "at": MONDAY}
MISSED = "/api/v1/missed/"


made = once(lambda: call_command("load", str(NOTEBOOK), stdout=StringIO()))


@pytest.fixture(autouse=True)
def _yard(made: None, db: None) -> None:
    """Pellitory Yard, loaded from its notebook."""


def said(**options: Any) -> str:
    out = StringIO()
    call_command("week", stdout=out, at=MONDAY, **options)
    return out.getvalue()


def refused(**options: Any) -> str:
    with pytest.raises(CommandError) as error:
        said(**options)
    return str(error.value)


def test_the_shell_says_what_thursday_missed_moves() -> None:
    text = said(missed=[CAFE, "2026-11-26"])

    assert text.startswith(
        "MISSED\n  Lantern Steps café, avocado stones, Thu 26 Nov 17:00: 2,100 g likely, at worst"
    )
    assert (
        "  ○ B   Old Rose: NO\n"
        "        avocado stones likely enough from Fri 27 Nov becomes Tue 1 Dec\n"
    ) in text
    assert "        avocado stones: short stays 2,034 g = 49 stones\n" in text
    assert "  F, A, C, D and E stay as they are\n" in text
    assert text.endswith(
        "AHEAD\n"
        "  avocado stones: G and B want 12,000 g by Mon 7 Dec: 366 g spare (8 stones) becomes "
        "short by\n"
        "  1,734 g (42 stones)\n"
        "  freezer on Thu 26 Nov: likely over by 546 g becomes 1,554 g free\n"
    )
    assert max(len(line) for line in text.splitlines()) <= 100


def test_shell_and_address_give_the_same(client: Client) -> None:
    answered = client.get(MISSED, THURSDAY)

    assert answered.status_code == 200
    assert answered.json() == json.loads(said(missed=[CAFE, "2026-11-26"], json=True))
    assert answered.json()["missed"] == [
        {"source": CAFE, "gives": "avocado stones", "at": "2026-11-26T17:00:00+00:00",
         "reported_g": None, "likely_g": "2100", "worst_g": "0"}
    ]  # fmt: skip
    (stones,) = answered.json()["sums"]
    assert stones["before"] == {
        "there_g": "12366", "spare_g": "366", "short_g": "0", "pieces": 8,
    }  # fmt: skip
    assert stones["after"] == {
        "there_g": "10266", "spare_g": "0", "short_g": "1734", "pieces": 42,
    }  # fmt: skip


def test_without_a_visit_all_of_the_period_stand_by_how_much_they_hurt(client: Client) -> None:
    found = client.get(MISSED, {"at": MONDAY}).json()
    visits = found["visits"]

    assert [row["missed"][0]["at"][:10] for row in visits] == [
        "2026-11-26", "2026-11-23", "2026-11-27", "2026-11-28",
    ]  # fmt: skip
    assert visits[2]["runs"] == []
    assert found["left_out"] == 0


def test_a_visit_that_nobody_expects_is_not_found(client: Client) -> None:
    answered = client.get(MISSED, {**THURSDAY, "on": "2026-11-27"})

    assert answered.status_code == 404
    assert answered.json()["code"] == "no_such_pick_up"
    assert answered.json()["detail"].startswith(
        "No pick-up of avocado stones from Lantern Steps café is expected on Fri 27 Nov 2026. "
    )
    assert client.get(MISSED, {**THURSDAY, "source": "Café"}).status_code == 404


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ({"on": "26 Nov"}, "day_unreadable"),
        ({"on": "2026-02-30"}, "day_unreadable"),
        ({"on": "0001-01-01"}, "day_unreadable"),
        ({"on": ""}, "visit_unreadable"),
        ({"source": ""}, "visit_unreadable"),
        ({"source": "a\x00b"}, "visit_unreadable"),
        ({"gives": "x" * 121}, "visit_unreadable"),
        ({"who": "me"}, "parameter_unknown"),
    ],
)
def test_what_cannot_be_read_is_said(client: Client, words: dict[str, str], code: str) -> None:
    answered = client.get(MISSED, {**THURSDAY, **words})

    assert (answered.status_code, answered.json()["code"]) == (400, code)


def test_the_shell_says_what_is_wrong_with_a_visit() -> None:
    assert refused(missed=[CAFE, "Thursday"]) == (
        "“Thursday” is no day. Write it such as 2026-11-26."
    )
    assert refused(missed=["", "2026-11-26"]) == (
        "A missed visit is asked for with its source and its day, such as 2026-11-26."
    )
    assert refused(missed=["Café", "2026-11-26"]).startswith("No source is called Café.")
    assert refused(gives="privet") == "--gives goes with --missed SOURCE DAY."
