"""*Today* of a studio at two sites: a way to the other one, what it brings, said done by one tap.

Kelpwick Loft with its marigold in the barn (`tests/sourcing/test_fetching.py` has it by hand).
"""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

import pytest
from django.test import Client
from django.urls import reverse

from inventory.models import Studio
from inventory.shelves import shelf_at
from tests.api.web.pages import as_read, read, sound
from tests.sourcing.test_fetching import files, thursday

pytestmark = pytest.mark.django_db
SEVEN = "2026-10-29T07:00"
TEN = "2026-10-29T10:00"


@pytest.fixture(autouse=True)
def studio() -> Studio:
    from sourcing.notebook.load import load_files

    load_files(files())
    return Studio.objects.get()


def page(client: Client, path: str = "/today/", at: str = SEVEN) -> Any:
    found: Any = client.get(path, {"at": at})
    assert found.status_code == 200, found.content
    return found


def card(client: Client, at: str = SEVEN) -> Any:
    rows = read(page(client, at=at)).query("article.today-step")
    return next(row for row in rows if "arry from barn" in row.to_text())


def tap(client: Client, step: str, at: str) -> None:
    rows = read(page(client, at=at)).query("article.today-step")
    mine = next(row for row in rows if as_read(row.to_text()).startswith(step))
    form = next(row for row in mine.query("form.note") if "step-done" in row.attrs["action"])
    fields = {str(row.attrs["name"]): str(row.attrs.get("value") or "") for row in
              form.query("input") if row.attrs.get("name")}  # fmt: skip
    said: Any = client.post(f"{form.attrs['action']}?at={at}", urlencode(fields),
                            content_type="application/x-www-form-urlencoded")  # fmt: skip
    assert said.status_code in (302, 303), said.content


def test_the_way_stands_at_its_hour_with_what_it_brings(client: Client) -> None:
    said = as_read(card(client).to_text())

    assert "09:40" in said
    assert "Carry from barn" in said
    assert "marigold from MG-2" in said
    assert "weigh it at both ends" in said
    sound(page(client))


def test_the_step_that_takes_it_says_where_it_comes_from(client: Client) -> None:
    assert "fetched from barn" in as_read(read(page(client)).to_text())
    assert "marigold, fetched from barn" in as_read(read(page(client, "/")).to_text())
    assert "fetched from barn" in page(client, reverse("sheet")).content.decode()


def test_paper_has_boxes_for_both_weights(client: Client) -> None:
    said = as_read(read(page(client, "/runs/1/sheet/")).to_text())

    assert "g there" in said
    assert "g here" in said


def test_one_tap_says_that_it_was_fetched_and_it_lies_there(client: Client) -> None:
    tap(client, "08:00", SEVEN)
    tap(client, "09:40", TEN)

    lots = {row.code: row.site for row in shelf_at(Studio.objects.get(), at=thursday(11)).lots}
    assert lots["MG-2-loft"] == "loft"
    assert "done" in as_read(card(client, at="2026-10-29T10:10").to_text())


def test_a_reader_of_german_is_told_in_german(client: Client) -> None:
    found: Any = client.get("/today/", {"at": SEVEN}, headers={"Accept-Language": "de"})

    assert "Aus barn holen" in as_read(read(found).to_text())
