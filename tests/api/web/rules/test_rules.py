"""*Studio rules*: shipped beside own, another figure looked at in this week, kept, taken out."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any
from urllib.parse import quote

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from api.rights import Right
from inventory.models import Studio, StudioRule
from tests.api.members import member, signed_in
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, said

pytestmark = pytest.mark.usefixtures("yard")
QUERIES = 8
LOSS, DRYING = "wool~scour_loss_fraction", "studio~drying_h"


def rule(client: Client, key: str, **asked: str) -> Any:
    return client.get(f"/rules/{quote(key)}/", {"at": MONDAY, **asked})


def press(client: Client, key: str, **fields: str) -> Any:
    return client.post(f"/rules/{quote(key)}/?at={MONDAY}", fields)


def test_the_list_has_the_studios_own_and_finds_any_other(client: Client) -> None:
    page = client.get("/rules/", {"at": MONDAY})

    assert sound(page) == []
    assert "wool: lost in scouring 5 % 1 to 6 %" in words(page)
    found = client.get("/rules/", {"at": MONDAY, "find": "weld dried"})
    rows = [said(row) for row in read(found).query("tbody tr")]
    assert rows
    assert all(row.startswith("weld: ") for row in rows)


def test_a_rule_shows_the_shipped_figure_beside_the_own_one(client: Client) -> None:
    page = rule(client, LOSS)
    shipped, own = (said(row) for row in read(page).query("div.two-figures > div"))

    assert sound(page) == []
    assert shipped.startswith("Shipped 5 %, 1 to 6 % common practice")
    assert own.startswith("Your own 5 %")
    assert "(own scale)" in own


def test_what_another_figure_changes_is_seen_before_it_is_kept(
    client: Client, yard: Studio
) -> None:
    """2,000 g scoured at a loss of 20 % are 2,500 g raw, more than the 2,400 g of W-88."""
    with CaptureQueriesContext(connection) as asked:
        page = rule(client, LOSS, value="20 %")

    assert len(asked) <= QUERIES
    assert sound(page) == []
    text = said(read(page).query("section.looked")[0])
    assert text.startswith("With 20 % this week A Blush no Answer yes becomes no")
    assert not StudioRule.objects.of(yard).filter(name="scour_loss_fraction", value="0.2").exists()

    kept = press(client, LOSS, value="20 %", since="2026-11-23", note="two fleeces")

    assert kept.status_code == 303
    row = StudioRule.objects.of(yard).get(item="wool", since=date(2026, 11, 23))
    assert (row.value, row.note) == (Decimal("0.2"), "two fleeces")
    assert "Measured here, Mon 23 Nov 2026 (two fleeces)" in words(rule(client, LOSS))


def test_a_figure_that_changes_no_answer_says_so(client: Client) -> None:
    assert "No answer changes." in words(rule(client, "alum~price_per_kg", value="10"))


def test_an_own_figure_taken_out_leaves_the_one_before_it(client: Client, yard: Studio) -> None:
    press(client, DRYING, value="24 h", since="2026-11-23")
    assert "In use: 24 h" in words(rule(client, DRYING))

    press(client, DRYING, do="shipped")
    assert "In use: 48 h, the studio's own." in words(rule(client, DRYING))

    press(client, DRYING, do="shipped")
    assert "as shipped" in words(rule(client, DRYING))
    assert not StudioRule.objects.of(yard).filter(name="drying_h").exists()


@pytest.mark.parametrize(
    ("value", "sentence"),
    [("lots", "Write a figure such as 5 %, 48 h or 0.7."), ("5 L", "The rule is not counted in L."),
     ("99 %", "is out of all range")],
)  # fmt: skip
def test_a_figure_that_cannot_be_is_refused_where_it_is_looked_at(
    client: Client, value: str, sentence: str
) -> None:
    page = rule(client, LOSS, value=value)

    assert page.status_code == 422
    assert sentence in words(page)
    assert not read(page).query("section.looked")


def test_only_an_owner_sets_a_rule(client: Client, yard: Studio) -> None:
    dyer = signed_in(member(yard, Right.DYER, "jo@yard.example"))

    assert rule(dyer, LOSS).status_code == 200
    assert press(dyer, LOSS, value="4 %").status_code == 403


@pytest.mark.parametrize("key", ["wool", "wool~weight_of_moons", "a~b~c"])
def test_a_rule_that_no_sum_asks_for_is_not_there(client: Client, key: str) -> None:
    assert rule(client, key).status_code == 404
