"""All forms in one answer: the same as one by one, and not sent again while nothing has changed."""

from __future__ import annotations

import gzip
import re
from typing import Any

import pytest
from django.test import Client

from api.web.note.registry import FORMS
from inventory.models import Studio
from tests.api.web.pages import read
from tests.api.web.yard import load

pytestmark = pytest.mark.django_db
ADDRESS = "/note/carried/"
# What a phone, the clock or a key made now fills in.
OF_THE_MOMENT = re.compile(
    r'(?<=name="csrfmiddlewaretoken" value=")[^"]*|(?<=name="id" value=")[^"]*'
)


@pytest.fixture
def yard() -> Studio:
    load()
    return Studio.objects.get()


def form_in(text: str) -> str:
    """The form of a page, without what differs from one moment to the next."""
    found = re.search(r'<form class="note".*?</form>', text, re.DOTALL)
    assert found is not None
    lines = OF_THE_MOMENT.sub("", found[0]).splitlines()
    return "\n".join(line for line in lines if line.strip())


def carried(client: Client, **asked: str) -> Any:
    return client.get(ADDRESS, asked).json()


def test_each_form_is_that_of_its_own_page(client: Client, yard: Studio) -> None:
    said = carried(client)

    assert {row["address"] for row in said["forms"]} == {f"/note/{verb}/" for verb in FORMS}
    for row in said["forms"][::9]:
        page = client.get(row["address"]).content.decode()
        assert form_in(row["middle"]) == form_in(page), row["address"]
        assert f"<title>{row['title']} · Pellitory Yard" in page


def test_the_frame_is_a_page_with_room_for_each(client: Client, yard: Studio) -> None:
    said = carried(client)

    assert said["page"].count("<!--title-->") == said["page"].count("<!--middle-->") == 1
    assert [row["middle"].count("<!--word-->") for row in said["forms"]] == [1] * len(FORMS)
    tree = read(client.get("/note/dip/"))
    assert tree.query("html")[0].attrs["data-whose"] in said["page"]
    assert len(said["word"]) == 64


def test_it_is_sent_again_only_where_something_else_can_be_chosen(
    client: Client, yard: Studio
) -> None:
    first = client.get(ADDRESS)
    same = client.get(ADDRESS, headers={"if-none-match": first.headers["ETag"]})
    yard.name = "Pellitory Loft"
    yard.save()
    other = client.get(ADDRESS, headers={"if-none-match": first.headers["ETag"]})

    assert (same.status_code, same.content) == (304, b"")
    assert other.status_code == 200
    assert "Pellitory Loft" in other.json()["page"]


def test_a_studio_that_calls_itself_as_a_mark_changes_no_form(client: Client, yard: Studio) -> None:
    yard.name = "<!--middle-->"
    yard.save()

    assert carried(client)["page"].count("<!--middle-->") == 1


def test_all_of_them_weigh_less_than_a_first_visit_may(client: Client, yard: Studio) -> None:
    """DESIGN.md 10: 60 kB, with the five pages that come along beside them."""
    addresses = ("/today/", "/", "/shelves/", "/note/", "/note/kept/", ADDRESS)
    sizes = [len(gzip.compress(client.get(address).content)) for address in addresses]

    assert sum(sizes) <= 60_000


def test_the_forms_of_a_studio_that_was_named_go_on_naming_it(client: Client, yard: Studio) -> None:
    said = carried(client, studio="Pellitory Yard")

    hidden = '<input type="hidden" name="studio" value="Pellitory Yard">'
    assert all(hidden in row["middle"] for row in said["forms"])
