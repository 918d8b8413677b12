"""The pages of nouns lead to the forms about them, filled; who only looks on sees none."""

from __future__ import annotations

from typing import Any
from urllib.parse import parse_qsl, urlsplit

import pytest
from django.test import Client

from api.rights import Right
from api.web.note.registry import FORMS
from api.web.note.ways import WORDS
from inventory.models import Studio
from sourcing.models import Source
from tests.api.members import member, signed_in
from tests.api.web.pages import read, sound

pytestmark = pytest.mark.usefixtures("yard")
AT = {"at": "2026-11-23T07:30"}


def ways(client: Client, page: str) -> list[tuple[str, dict[str, str]]]:
    """Verb and answers of each way to a form on a page."""
    answer: Any = client.get(page, AT)
    assert answer.status_code == 200
    assert sound(answer) == []
    found = []
    for link in read(answer).query("ul.form-ways a"):
        parts = urlsplit(str(link.attrs["href"]))
        said = dict(parse_qsl(parts.query))
        said.pop("at", None)
        found.append((parts.path.removeprefix("/note/").strip("/"), said))
    return found


def cafe() -> int:
    return Source.objects.of(Studio.objects.get()).get(name="Lantern Steps café").pk


def test_every_way_leads_to_a_form() -> None:
    assert set(WORDS) <= set(FORMS)


def test_sources_lead_to_what_happens_with_each(client: Client) -> None:
    found = ways(client, "/sources/")

    assert ("add-source", {}) in found
    assert ("pick-up", {"source": "Lantern Steps café"}) in found
    assert ("miss-pick-up", {"source": "Three Crates greengrocer"}) in found


def test_a_source_leads_to_what_is_agreed_with_it(client: Client) -> None:
    found = ways(client, f"/sources/{cafe()}/")

    for verb in ("agree", "note-leave", "note-carrying", "close-days", "rename-source"):
        assert (verb, {"source": "Lantern Steps café"}) in found


def test_what_has_to_be_bought_leads_to_the_order_from_who_is_best(client: Client) -> None:
    # The worked week: the near shop brings the wool of G in time, the far mill does not.
    found = ways(client, "/orders/")

    assert ("write-order", {"supplier": "near shop"}) in found
    assert ("add-supplier", {}) in found


def test_a_run_leads_to_what_is_claimed_for_it(client: Client) -> None:
    assert ways(client, "/runs/C/") == [("claim", {"run": "C"}), ("release", {"run": "C"})]


def test_readers_lead_to_their_letters(client: Client) -> None:
    found = ways(client, "/reminders/")

    assert ("add-reader", {}) in found
    assert {verb for verb, said in found if said} == {
        "change-reader", "readdress-reader", "stop-letters",
    }  # fmt: skip


def test_each_way_opens_its_form_with_the_answer_in_it(client: Client) -> None:
    page = client.get("/note/miss-pick-up/", {**AT, "source": "Three Crates greengrocer"})

    chosen = [row for row in read(page).query("input[type=radio]") if "checked" in row.attrs]
    assert "Three+Crates" in str(chosen[0].attrs["value"])


@pytest.mark.parametrize("page", ["/sources/", "/orders/", "/reminders/", "/runs/C/"])
def test_who_only_looks_on_sees_no_way(page: str) -> None:
    looker = signed_in(member(Studio.objects.get(), Right.LOOKER_ON))

    assert ways(looker, page) == []
